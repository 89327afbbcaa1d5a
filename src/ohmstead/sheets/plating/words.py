"""Every text of the plate's sheets that does not come from the site file."""

PLAN_TITLE = "Plan of the plate"
DRILL_TITLE = "Drilling template"
NO_PLATE = "The site file has no section plate, so there is nothing to draw."
ZERO = "0"
SCALE = "1 : {scale:g}"
TRUE = "1 : 1"
NOTES = "How to read it"
NOTE_LINES = (
    "Seen from the front, lengths in mm. All is measured from the",
    "corner with the black quarter: to the right, then down. At each",
    "part: its upper left corner, below its name its size and depth.",
)
WEIGHTS = "line weight by copper in mm²"
FREE = "kept free for hands and cables"
MAINS_LINE = "for mains voltage only"
STREAM_LINE = "where air rises"
LIGHT_LINE = "lights to be seen"
ASSUMED_MARK = "*"
ASSUMED_LINE = "* size not stated: usual for its kind, measure first"
ENTRY = "to {names}"
ENTRY_MORE = "{first} and {count} more"
PARTS_TITLE = "Parts and holes"
PARTS_HEAD = ("part", "corner", "turned", "size", "holes from the corner", "drill", "off the plate")
PARTS_RAW = (
    "part",
    "right_mm",
    "down_mm",
    "turned_deg",
    "width_mm",
    "height_mm",
    "depth_mm",
    "hole_mm",
    "holes",
    "assumed",
)
HOLES_TITLE = "Every hole"
WIRES_TITLE = "Wires on the plate"
WIRES_HEAD = ("tag", "from", "to", "along the plate", "down and up", "with slack", "in the file")
WIRES_RAW = ("tag", "from", "to", "way_mm", "rise_mm", "length_m", "file_length_m", "entries")
FROM_PLAN = "from this plan"
DUCTS_TITLE = "Ducts"
DUCTS_HEAD = ("duct", "edge", "length", "section", "fullest", "limit")
DUCTS_RAW = ("duct", "way", "edge_mm", "length_mm", "width_mm", "height_mm", "fill", "limit")
DUCT_EDGE = {"level": "{edge:g} down", "upright": "{edge:g} right"}
QUALITY = {
    "stated": "Every place is stated in the file.",
    "best": "Places were found by a constraint solver; none costs less copper and heat.",
    "near": "Places were found by a constraint solver; at best {gap} could be saved on copper and heat by others.",
}
GENERIC = (
    "The size of {names} is not stated: it is the usual one for such a part (common practice, no source). Measure "
    "what you have, state size and holes, and print again before you drill."
)
SLACK = (
    "With slack: the way along the plate, down from the terminals into the ducts and up again, and {slack} more. The "
    "cut list adds what the ends need."
)
PRINT = "Print at 100 %, not fitted to the page; then measure both bars: 100 mm each."
BAR = "100 mm"
STICK = "Lay the crosses of neighbouring sheets upon each other; cut along the dashed lines."
PUNCH = "Punch at every cross, drill the diameter beside it. Ducts: drill through their own slots."
TILE = "sheet {name}, {number} of {count}"
KEY = "of the plate"
HOLE = "⌀{diameter:g}"
UPPER_EDGE, LEFT_EDGE = "upper edge of the plate", "left edge"
CAUTION = "Extra-low voltage burns. Reckoned, not measured: measure your parts before you drill."
DUCT = "duct {name}"
TURNED = "{deg:g}°"
NONE = "-"
