"""Texts of the season that tell of years, priorities, a back-up source, what to switch off, and what matters."""

YEARS = {
    "priority": "priority {n}",
    "priority-text": "{lacking} of {asked} kWh a day unserved ({share})",
    "backup": "back-up source",
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
