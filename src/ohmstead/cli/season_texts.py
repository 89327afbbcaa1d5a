"""Texts of the season that tell of years, priorities, a back-up source, what to switch off, and what matters."""

YEARS = {
    "priority": "priority {n}",
    "priority-text": "{lacking} of {asked} kWh a day unserved ({share})",
    "backup": "back-up source",
    "given": "back-up",
    "worst-backed": "Nothing is ever unserved. The fortnight in which the back-up source gives most, kWh a day",
    "backup-text": "{name} runs {hours} h a year in {starts} starts and gives {given} kWh, {share} of the load; it "
    "takes {taken} kWh from {source}",
    "fuel": " and {fuel} l of fuel",
    "mains": "the mains",
    "generator": "its generator",
    "vehicle": "the vehicle",
    "spread": "How far the years lie apart",
    "spread-head": "in a year|one in ten below|half below|one in ten above",
    "energy": "kWh a day",
    "count": "",
    "share": "",
    "number": "l",
    "good": "good years",
    "good-text": "a year keeps the goal with a probability of {least}..{most} ({sure} sure, Wilson's interval)",
    "looks": "years drawn",
    "look-ends": "{n} years, looked at {looks}: the mean lies in {least}..{most}, so the goal of {goal} is {verdict}; "
    "a year keeps it with a probability of {good_least}..{good_most}. Each look is {look} sure, all together {sure}",
    "look-open": "{n} years, looked at {looks}, do not settle it: the mean lies in {least}..{most} around the goal of "
    "{goal}; a year keeps it with a probability of {good_least}..{good_most}. Each look is {look} sure, all together "
    "{sure}",
    "once": "once",
    "times": "{n} times",
    "met": "met",
    "missed": "missed",
}

SURVIVE = {
    "days": "how many days in a row are the worst ones [7]",
    "days-bad": "a whole number of days from 1 to 60",
    "nothing": "Nothing has to be switched off: with all on the battery falls to {lowest} and no lower.",
    "possible": "Switch these off, and nothing else lacks:",
    "impossible": "Even with all of this off the load lacks {left} kWh: what idles, and what is lost on the way, is "
    "more than there is.",
    "stretch": "The worst {days} days of {n} years end on {last}; the battery was last full on {first}, {lead} days "
    "before their end.",
    "head": "priority|device|does|goes without|spared at the battery",
    "off": "off",
    "held": "only {state}",
    "kept": "Stays on: {names}.",
    "anyway": "Though something less important stays on, these go: they would lack even with all of that off: {names}.",
    "kept-none": "Nothing stays on.",
    "before": "As it is, {lacking} kWh lack in this time. Reckoned again with the rest, {left} kWh lack and the "
    "battery falls to {lowest}.",
    "least": "No smaller set of whole devices does, the least important first; 1 is the last to go.",
    "least by energy": "The fewest devices that spare so much energy, the least important first; 1 is the last to go. "
    "There are too many to try every set.",
    "all-alike": "All devices have one priority: give them `priority` (1 is the last to go) to say what may go first.",
}
MATTERS = {
    "matters": "rank what moves the result most when it is a tenth better or worse",
    "title": "What matters most, each a tenth better and a tenth worse; as it is, unserved {unserved}, lowest {lowest}",
    "head": "what|better|unserved|lowest|worse|unserved|lowest",
}
