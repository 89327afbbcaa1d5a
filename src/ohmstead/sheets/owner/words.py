"""Every text of the door sheet and the owner's pages, in one place."""

OFF_TITLE = "Switch everything off"
OFF_LOADS = "Switch off what is running: {names}."
OFF_SUN = (
    "Cover or unplug the panels of {name}. They make voltage whenever light falls on them; never part their "
    "plugs while current flows."
)
OFF_CHARGER = "Switch off {name}."
OFF_SWITCH = "Open {name}."
OFF_NO_SWITCH = "There is no main switch: switch off every load first, then take the fuse at the battery out."
OFF_FUSE = "Take out the {fuse} at {battery}. Use the puller, touch nothing else."
OFF_WAIT = "Wait one minute: capacitors hold charge. Measure: {name} must read less than 1 V."
OFF_LIVE = "The battery itself stays live. Nothing switches it off: cover its terminals."
ON_TITLE = "Switch on again"
ON_STEPS = (
    "The way back is the other way round: battery first, then the charger, the panels, the loads.",
    "A fuse that opened once may be replaced by the same kind and rating. If it opens again, something is "
    "wrong: find it, never fit a larger one.",
)
FEEDS_TITLE = "Which fuse feeds what"
FEEDS_HEAD = ("fuse", "kind and rating", "feeds", "goes dark when it is out")
EVERYTHING = "everything"
NEVER_TITLE = "Never under load"
NEVER_LEAD = (
    "These stand above {volts} and carry over an ampere. Switch their load off before you pull them: an arc "
    "of direct current does not go out by itself."
)
NEVER_NONE = "Nothing here stands above 20 V with more than an ampere, still: switch off first, pull afterwards."
SPARES_TITLE = "Spares that belong inside the door"
SPARES_HEAD = ("fuse", "fitted", "spare", "standard printed on it")
HELP_TITLE = "If something is wrong"
HELP = (
    "Smell, smoke or a warm wire: open {switch} first, then look.",
    "Battery swollen, hissing or hot: leave, air the room, call for help.",
    "Rings and watches off before you touch anything; one hand, insulated tool.",
    "A person with burns: cool with water for twenty minutes, call for help.",
)
NO_SWITCH = "what feeds it"
CARD_TITLE = "Service card"
CARD_LEAD = "Tick, date and initial each line. What does not fit, write down: the next person learns from it."
QUARTER = "Every quarter"
QUARTER_STEPS = (
    "Filter and vents clean; fan turns freely.",
    "Paint marks on studs unbroken; no lug or plug discoloured.",
    "With everything on: every joint, holder and plug no more than 30 K above the air, and none 10 K above its twin.",
    "Battery voltage after an hour at rest: ______ V at ______ °C.",
)
QUARTER_ETHERNET = "Network plugs outdoors dry, no green on the contacts: {names}."
QUARTER_PANELS = "Panels clean, nothing has grown into their light."
AUTUMN = "Every autumn"
AUTUMN_STEPS = (
    "Capacity: from full to the disconnect with a known load: ______ Ah of {capacity}.",
    "Re-tighten after the torque table, with the main fuse out.",
    "Spare fuses complete, labels readable, this sheet still true.",
)
AUTUMN_CUT = "{name} opens at {off} and closes at {on}: tried with a falling supply, once."
AUTUMN_COLD = "Cells take no charge below 0 °C: the charger or the board really stops it."
TORQUE_TITLE = "Torque, where the maker says nothing"
TORQUE_HEAD = ("stud", "from", "to", "where")
TORQUE_NOTE = "The maker's own figure rules. Clean, flat, lug on the bare stud, washers above; mark with paint."
OPEN_ITEM = "not stated"
CAUTION_TITLE = "Thousands of amps, few volts"
CAUTION = (
    "A spanner across the battery melts, and so does a ring on a finger.",
    "Local rules decide who may work here. This sheet certifies nothing.",
)
