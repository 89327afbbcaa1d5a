"""Every text of the labels, in one place."""

KINDS = {
    "wire": "wire flag",
    "way": "way",
    "fuse": "fuse in line",
    "converter": "converter",
    "plug": "plug",
    "warning": "warning",
}
OWN_FUSE = "fuse {fuse}"
BEHIND = "behind {fuse}"
UNFUSED = "no fuse"
OPEN_FUSE = "fuse not yet chosen"
DATA = "data"
CABLE = "data cable"
SPARE = "spare"
RATED = "{fuse}, {volts}"
NOT_UNDER_LOAD = "Not under load"
WAY_FOOT = "{block}, {tag}"
FUSE_HEAD = "{tag} {fuse}"
SET = "set {volts}"
BETWEEN = "{low} to {high}"
MEASURE = "Measure before you plug in"
UP_TO = "up to {volts}"
MEASURED_SIGN = "polarity not stated: measure"
MARKED = "+ and − as marked on it: measure"
UNKNOWN = "? V: measure"
VOLTAGE = "Up to {volts}, direct current"
VOLTAGE_LINES = ("Low voltage is not low current: a short here burns and sets fire.",)
NOT_TOUCHED = "Above {limit}: do not touch live parts."
ARC = "Not to be opened under load"
ARC_SITE = "Up to {volts}: an arc may stand when a fuse or plug is pulled while current flows."
SURE_ARC_SITE = "Up to {volts}: an arc WILL stand when a fuse or plug is pulled while current flows, and burns."
ARC_FIRST = "Switch off what it feeds first."
REPLACE = "Fuses: same kind, same ampere, at least the same volts"
REPLACE_LINES = (
    "Never a larger one: the wire behind it would burn.",
    "One that opens twice has found a fault: look for it.",
)
BATTERY = "{name}: {current} when shorted"
BATTERY_LINES = (
    "A spanner across the terminals melts, and so does a ring on a finger.",
    "Nothing switches the battery itself off: keep its terminals covered.",
)
TWO = "More than one supply"
TWO_LINE = "Live from {sources}. Switching one off leaves the others live."
TWO_SUN = "Panels make voltage whenever light falls on them."
AND = " and "

TITLE_PRINT = "Before you print"
PRINT = (
    "Print at actual size (100 %, no fitting to the page). Try one page on plain paper and hold it against the label "
    "sheet.",
    "Clean and dry the place first. Covers of clear tape or clear sleeve keep print readable for years.",
    "A label is no measurement: what it says was reckoned from the file whose mark stands at the head of the sheet.",
)
FORMATS = "On {paper}: {names}. Then the same on tape, to be printed as drawings or cut out: {tapes}."
SIZE_NAME = "{size} ({name})"
FLAGS = (
    "Wire flags: lay the middle (dashed) along the wire, fold the halves together around it; they say the same on both "
    "sides. The tag is that of the cut list. The end at which a flag sits stands first."
)
CODE = (
    "The codes hold the name of the report's file and a place in its drawing, such as {example}, and nothing else. "
    "They open when a phone has the report at hand."
)
NO_CODE = 'Without the package segno the labels carry no code. pip install "ohmstead[sheets]" brings it.'
LIST = "All labels"
HEAD = ("no.", "size", "kind", "what it says")
RAW_HEAD = ("drawing", "format", "kind", "tag", "side", "line_1", "line_2", "line_3", "line_4", "line_5", "code")
