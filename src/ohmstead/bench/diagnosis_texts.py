"""What a diagnosis calls faults and places; the words are the same in every face."""

# Faults in words. {size}, {sigma}, {usual}, {now} are texts with units.
FAULTS = {
    "joint": "a bad joint: {place} of {subject} has {now} ± {sigma}, usual {usual}",
    "joint-holder": "a bad fuse holder or way: {subject} has {now} ± {sigma} there, usual {usual}",
    "joint-contact": "a bad contact in {subject}: {now} ± {sigma}, usual {usual}",
    "set-point": "{subject} is set to {now} ± {sigma} instead of {usual}",
    "charger": "{subject} charges to {now} ± {sigma} instead of {usual}",
    "idle": "{subject} takes {now} ± {sigma} by itself, usual {usual}",
    "draw-more": "{subject} takes {now} ± {sigma} when {place}, usual {usual}",
    "wire": "wrong wire: {subject} is as if of {name} ({now} ± {sigma} instead of {usual})",
    "fuse": "wrong fuse: in {subject} as if of {name} ({now} ± {sigma} instead of {usual})",
    "swap": "swapped: the cable of {subject} and that of {place} sit in each other's way",
    "battery": "the battery {subject} has {now} ± {sigma} inside, usual {usual}",
    "zero": "the meter is off by {size} ± {sigma} in {place}",
    "gain": "the meter reads {size} ± {sigma} too much in {place}",
    "misread": "misread or typed wrong: {subject} was more likely {usual}",
}
PLACES = {
    "near +": "the + joint at its source end",
    "near -": "the - joint at its source end",
    "far +": "the + joint at its far end",
    "far -": "the - joint at its far end",
    "volts": "volts",
    "amps": "amperes",
    "clamp": "amperes by clamp",
}

NOTHING = "nothing is wrong"
NOTHING_MORE = "nothing else is wrong"
AND = "; and "
