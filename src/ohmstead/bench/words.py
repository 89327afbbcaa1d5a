"""Every text of the switch-on plan, in one place, so that it can be put into another language."""

STAGES = {
    "ready": "Before anything",
    "dead": "Dead: every fuse out, battery apart",
    "converters": "Converters alone, without load",
    "battery": "Battery and main fuse",
    "fuses": "One fuse at a time, devices unplugged",
    "devices": "One device at a time",
    "charging": "Charging side",
    "load": "Everything together",
    "hour": "After one hour",
    "low": "Battery low, on purpose",
    "close": "Close",
}

# What each stage answers to, as the standards number it; all from memory.
BASIS = {
    "look": "IEC 60364-6, 6.4.2 inspection",
    "continuity": "IEC 60364-6, 6.4.3.2 continuity of conductors",
    "insulation": "IEC 60364-6, 6.4.3.3 insulation resistance, table 6.1: SELV and PELV 250 V DC, 0.5 MΩ",
    "apart": "IEC 60364-6, 6.4.3.4 protection by SELV, PELV or separation",
    "polarity": "IEC 60364-6, 6.4.3.6 polarity",
    "function": "IEC 60364-6, 6.4.3.10 functional testing",
    "drop": "IEC 60364-6, 6.4.3.11 voltage drop",
    "array-polarity": "IEC 62446-1, 6.2 polarity test",
    "array-voltage": "IEC 62446-1, 6.4 open-circuit voltage",
    "array-current": "IEC 62446-1, 6.5 current measurement",
    "practice": "common practice, no source",
}

READY = (
    ("sheet", "The plan is at hand", "Print the plan of this revision of the site file; name meter and clamp on it."),
    ("meter", "The meter tells the truth", "Leads in the V jacks: shorted leads read 0 V, a known battery reads "
    "what it should. "
     "Set the clamp to zero away from every wire."),
    ("helper", "Somebody is there", "A second person stands by who knows how to open the main switch."),
    ("apart", "Battery and panels are apart", "Battery negative off and covered; panels covered or unplugged; "
    "every fuse out; "
     "every device unplugged."),
)  # fmt: skip

TITLES = {
    "look": "Look and tug",
    "torque": "Torque of M{stud:g} studs",
    "loop": "Continuity and polarity of {run}",
    "short": "No short from plus to minus",
    "case": "Nothing to the cabinet",
    "insulation": "Insulation",
    "plug": "Plug of {device}, dead",
    "set": "Set-point of {name}",
    "rest": "Battery {name} at rest",
    "twins": "Batteries side by side",
    "charge-first": "Charge first, through a resistor",
    "left": "What is left across the resistor",
    "bus": "Voltage at {name}",
    "idle-in": "Current into {run}",
    "far": "Voltage at {name}",
    "out": "Output of {name}",
    "at-plug": "Polarity and voltage at the plug of {device}",
    "draw": "{device}, {state}: current",
    "volts": "{device}, {state}: voltage",
    "boot": "{name} while it boots",
    "awake": "{name} once it has booted",
    "array": "Array {name}, open",
    "night": "Charger {name} without sun",
    "charging": "Charging voltage of {name}",
    "together-idle": "Battery {name}, everything idle",
    "together": "Battery {name}, everything busy",
    "bus-busy": "{name}, everything busy",
    "device-busy": "{device}, everything busy",
    "leg": "Lost along the {pole} wire of {run}",
    "joint": "Joint of {run}, {place}",
    "warm": "Joints of {run}",
    "air": "Air in {zone}",
    "cut": "{name} opens",
    "again": "{name} closes again",
    "low-device": "{device}, battery low",
    "labels": "Labels and spare fuses",
    "retighten": "A date to come back",
}

ACTS = {
    "look": "Every lug, ferrule and screw: no strand outside, insulation into the sleeve. Tug each crimp by hand.",
    "torque": "Tighten the studs of {names}: {least} to {most} Nm where the maker says nothing. Paint a mark "
    "across each "
    "and note the torque used.",
    "loop": "Fuses out. Red to red and black to black with a long lead; then join red and black at {far}, read "
    "the loop at "
    "{near}, and take the join off again. Leads read 0.1 to 0.5 Ω by themselves.",
    "short": "Every device and converter unplugged. Ohms from plus to minus at {name}. Capacitors make it rise slowly.",
    "case": "Ohms from plus, then from minus, to the metal of the cabinet. Open, unless joined on purpose.",
    "insulation": "Insulation tester at 250 V DC, plus and minus joined, against the cabinet.",
    "plug": "Continuity from the red wire to the {sign} of the plug, {bore}.",
    "set": "Feed {name} from a bench supply or through a 5 W lamp with {volts} in, nothing at its output. Read "
    "three times in ten "
    "minutes; seal the trimmer. Note what it takes at its input.",
    "rest": "Battery alone, an hour at rest. Note the temperature of its case too.",
    "twins": "Before their positives are joined: volts between the two plus poles.",
    "charge-first": "All fuses but this one out. Bridge the empty place of {fuse} with {ohm} for {wait}, or "
    "feed it from a "
    "bench supply limited to 1 A. A short behind it would make {short} in the resistor: take it off when it "
    "gets hot.",
    "left": "Resistor still in: volts across it. Then, and not before, put in {fuse}.",
    "bus": "Now {fuse} is in.",
    "far": "Now {fuse} is in, nothing plugged in behind it.",
    "idle-in": "Volts across the empty place of {fuse} first: the full voltage when something draws behind it, "
    "falling when "
    "a capacitor charges. Then the meter in series there, 10 A jack first, the mA jack once the figure is small "
    "and stands. "
    "Devices unplugged.",
    "out": "Nothing plugged in at its output.",
    "at-plug": "Device still unplugged. Red probe where the device has its plus: {plug}.",
    "draw": "Plug in {device}. {how}",
    "steady": "Wait until the figure stands still.",
    "brief": "Hold the highest reading of its {seconds} start, and the lowest voltage.",
    "boot": "Hold the highest reading in the first seconds after {name} gets power. No device at its ports.",
    "awake": "Wait until the figure has fallen and stands still.",
    "ethernet": "Its own wires cannot be probed: the current into {source} tells.",
    "array": "Panels in the light, cable to the charger apart. A cold module gives more, a hot one less.",
    "night": "Array still apart.",
    "charging": "Battery nearly full, sun on the panels: the highest voltage that the charger holds.",
    "together-idle": "Every device in, in its least state.",
    "together": "Everything busy that may be busy together: {states}.",
    "bus-busy": "The same, read at its terminals.",
    "device-busy": "The same, read at the device itself.",
    "leg": "The same. One probe at each end of the {pole} conductor, fuse and lugs between the probes.",
    "joint": "The same. One probe on the stud, the other on the bare wire behind the sleeve.",
    "warm": "An hour with everything busy. Thermometer on both lugs and on the fuse holder, less the air beside "
    "them. Look at "
    "anything 10 K above its twin.",
    "air": "An hour with everything busy, door shut. Once more at noon on a hot day.",
    "cut": "Put a bench supply in the place of the battery, or wait for the night: lower it slowly until {name} opens.",
    "again": "Raise it slowly until it closes. In between nothing may chatter.",
    "low-device": "Just above the voltage at which it opens ({volts} at rest), everything busy. Let {device} "
    "start once.",
    "labels": "At each fuse: circuit, rating, family, wire, far end. Spare fuses inside the door. Photo of the "
    "open cabinet.",
    "retighten": "Torque again after a month and each autumn.",
}

PROBES = {
    "voltage": "red on + of {name} ({mark}), black on its −",
    "amps": "in series, in the place of the fuse of {name} ({mark})",
    "series": "in series in the red wire of {name} ({mark})",
    "clamp": "clamp around the red wire of {name} ({mark}), arrow away from the battery",
    "leg +": "red on + of {near}, black on + of {far} ({mark})",
    "leg -": "red on − of {far}, black on − of {near} ({mark})",
    "joint": "stud and wire at the {place} end of {name} ({mark})",
    "fuse": "on both ends of the fuse of {name} ({mark})",
    "holder": "on the wire and the bar at the way of {name} ({mark}), less what the fuse loses",
    "run": "at {near} ({mark})",
    "between": "red on + of one, black on + of the other",
    "resistor": "across the resistor",
}

CAUSES = {
    "reversed": ("plus and minus changed over: switch off and find where",),
    "loop-high": (
        "a joint that was never made, or a broken strand",
        "the far end is not joined",
        "wire thinner or longer than planned",
    ),
    "short": ("a strand across two terminals", "a device still plugged in", "a capacitor that has not charged yet"),
    "case": ("insulation pinched at an entry", "a device whose case is its negative", "a bond that nobody wrote down"),
    "insulation": (
        "moisture in a plug or gland",
        "insulation pinched",
        "a converter still connected: take the tester off at once",
    ),
    "set-low": (
        "trimmer not set",
        "its supply limits the current",
        "it follows its input instead of holding its own voltage",
    ),
    "set-high": ("trimmer not set: do not connect the device", "a boost converter whose input is above its output"),
    "rest-low": ("battery not charged", "a cell is missing or bad", "its electronics have switched off"),
    "rest-high": ("still charging, or charged within the hour", "one cell too many"),
    "twins": ("charge each alone until they agree",),
    "left": ("something behind still draws", "a short behind: take the resistor off", "a reversed capacitor or device"),
    "bus-low": ("fuse not seated", "a loose stud between here and the battery", "something large draws already"),
    "bus-high": ("a charger is running", "the meter stands on the wrong range"),
    "idle-low": ("not connected, or its switch is off", "the converter has not started", "less idle draw than stated"),
    "idle-high": (
        "a device is still plugged in",
        "a higher idle draw than stated",
        "a wet or pinched cable",
        "wired to another circuit",
    ),
    "far-low": ("a joint on the way", "the wrong circuit was switched on", "something draws already"),
    "far-high": ("plus of another circuit", "a charger is running"),
    "draw-low": (
        "the device is in another state",
        "its supply voltage is higher than planned",
        "less draw than stated",
    ),
    "draw-high": (
        "the device is in another state, or charges a battery of its own",
        "its supply voltage is lower than planned",
        "more draw than stated",
    ),
    "array-low": ("shade, or a module missing from the string", "a bypass diode shorted", "strings changed over"),
    "array-high": ("one module too many in the string: the charger may not bear it",),
    "charging-low": ("not enough sun, or the battery is not full yet", "another program of the charger"),
    "charging-high": ("the program for another kind of battery: stop charging",),
    "drop-high": (
        "a joint, holder or plug on this wire",
        "a higher current than planned: read it first",
        "wire thinner or longer than planned",
    ),
    "drop-low": ("less current than planned", "thicker or shorter wire than planned"),
    "warm": ("a loose lug or a poor crimp", "a fuse holder at its limit", "more current than planned"),
    "air": ("vents shut or the fan still", "sun on the cabinet"),
    "cut": ("set to another voltage", "it senses at the wrong end of a wire"),
    "low-device": (
        "a joint on the way",
        "a higher current than planned",
        "the window of the device is too high for this battery",
    ),
    "tick": ("not as it should be: mend it before the next step",),
    "torque": ("the maker's figure counts before this one",),
}

CAUTIONS = {
    "rings": "Rings and watches off. A battery delivers thousands of amps into a slipped spanner.",
    "arc": "Above about 20 V an arc stays: put fuses in and pull plugs with nothing drawing.",
    "touch": "Above 60 V: other rules apply, and another person.",
    "jack": "Meter back to the V jacks before the next voltage: in the A jack it is a short.",
    "tester": "Never with a converter or device connected: the tester destroys them.",
    "held": "Capacitors hold their charge after a fuse is out.",
    "panels": "Panels make voltage whenever light falls on them. Never part their plugs under load.",
    "cold": "Lithium cells take no charge below 0 °C.",
    "gas": "Lead cells give off hydrogen: air, no sparks.",
    "smell": "Smell, smoke, a warm fuse at idle, or a bus that falls by 0.5 V: switch off at once.",
    "law": "Local codes and licensed practice decide. Measuring here certifies nothing.",
}

VERDICTS = {"good": "GOOD", "look": "LOOK AGAIN", "stop": "STOP"}
SIDES = {"low": "too low", "high": "too high", "": ""}
TICK, CROSS = "yes", "no"
OPEN = "open"
LEAST, MOST = "at least {limit}", "at most {limit}"
SAY_YES = "answer yes or no"
SAY_WHY = "say why it is skipped"
SKIPPED = "skipped"
