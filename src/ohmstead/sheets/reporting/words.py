"""Every text of the report, in one place, so that it can be put into another language."""

INTRODUCTION = (
    "This report is for somebody who was not there when the supply was planned: an insurer, a helper, a licensed "
    "electrician, the next owner. It says what is to be built, what each part carries in the worst case, what was "
    "found wrong, and from where each figure comes."
)
SECTIONS = {
    "job": "The job",
    "drawing": "The drawing",
    "supply": "The supply in figures",
    "loads": "What it feeds",
    "circuits": "The circuits",
    "faults": "Short circuits and what breaks them",
    "cases": "The cases that were solved",
    "findings": "What was found",
    "accepted": "What the builder accepts, and why",
    "sources": "Tables and sources used",
    "assumed": "Taken for granted",
    "input": "What this was made from",
    "cautions": "Before you trust this",
}
DRAWN = "The whole supply in one drawing comes next; every name in the tables below stands there too."
JOB = (
    "{batteries} in parallel feed {devices} over {runs}. Conductors are judged by the tables of {rules}; at most "
    "{drop} of the supply voltage may be lost on the way to a device; a fuse has {clear} to clear a fault at the "
    "far end; live parts may be touched in {touch} surroundings."
)
COUNTED = {
    "battery": ("One battery", "{n} batteries"),
    "device": ("one device", "{n} devices"),
    "run": ("one run of cable", "{n} runs of cable"),
}
JOB_ONE = JOB.replace("{batteries} in parallel feed", "{batteries} feeds")
ZONES = "Air around the parts"
VERDICT = {
    "fine": "Nothing found forbids building. Read the cautions and what was taken for granted all the same.",
    "fails": "Not fit to build as it is: {count} below must be mended or accepted with a reason first.",
}
GRAVE = ("one finding", "{n} findings")
NOTHING_FOUND = "Nothing was found. Every rule was asked."
NONE_ACCEPTED = "Nothing was accepted."
MEND = "Mend: {mend}"
BY = "By: {title}"
NUMBERS = "Figures: {numbers}."
IN_CASE = "In the case: {title}."
HEAD = {
    "zones": ("zone", "coldest", "hottest"),
    "batteries": ("battery", "kind", "capacity", "full", "low", "highest", "resistance fresh / aged", "short circuit"),
    "use": ("what", "figure", "where"),
    "loads": ("device", "fed by", "takes", "window", "lowest", "highest", "a day"),
    "circuits": ("circuit", "one way", "wire", "fuse", "may carry", "carries", "peak", "drop"),
    "faults": ("circuit", "fuse", "breaks", "largest at its start", "smallest at its end", "limited by"),
    "cases": ("case", "what it is", "battery gives", "what gave up"),
    "findings": ("", "how grave", "rule", "at", "value", "limit", "line"),
    "accepted": ("rule", "at", "how grave", "because", "until"),
    "sources": ("what it gave", "publication", "place", "how it was read"),
    "assumed": ("taken for granted", "for"),
    "input": ("what", "figure"),
}
USE = {
    "discharge": "largest lasting current from {name}",
    "peak": "largest brief current from {name}",
    "charge": "largest current into {name}",
    "days": "days until idle draws alone empty {name}",
    "guard": "what stops the draw from {name}",
    "day": "energy of a mean day",
    "idle": "of that, idle draws",
    "margin": "all loads may grow by this factor before the supply collapses",
    "nothing": "nothing",
    "limits": "its own protection",
    "first": "{element} gives up first",
}
HOW = {"stated": "stated", "table": "from a table", "assumed": "assumed", "computed": "computed"}
GAVE = {
    "wire": "resistance of {what}",
    "ampacity": "current that {what} may carry",
    "fuse": "melting times of {what}",
    "breaking": "breaking capacity of {what}",
    "cell": "resting voltage of {what} cells",
    "resistance": "resistance of {what} cells",
    "cable": "resistance of {what}",
    "rule": "rule {what}",
}
STATED = "stated in the site file"
FOR_MORE = "{names} and {count} more"
INPUT = {
    "file": "site file",
    "mark": "short mark of its text",
    "sha": "SHA-256 of its text",
    "made": "made with",
    "counts": "judged",
    "counted": "{parts} parts, {runs} runs, {cases} cases solved",
    "date": "date on the sheet",
    "revision": "revision",
}
SEVERITY = {"danger": "!! danger", "fails": "x fails", "tight": "~ tight", "fine": "fine"}
CAUTION_TITLE = "This is a calculation"
CAUTIONS = (
    "It was not measured. Measure before you trust it: polarity at every plug, every converter without its load, the "
    "voltage at each device while it works, every joint for warmth after an hour.",
    "A battery gives thousands of amperes into a short circuit whatever its voltage. Rings and watches off, insulated "
    "tools, terminals covered, main fuse out while anybody works on it.",
    "Above about 20 V a DC arc stays when a plug or fuse is pulled under load. Switch off first. Capacitors hold their "
    "charge after the fuse is out.",
    "Lithium cells are not charged below 0 °C; lead cells give off hydrogen. Above 60 V other rules apply, and other "
    "people.",
    "Mains, generators, vehicle alternators, lightning and masts are outside what was judged. So are fire alarms, "
    "life support and unattended heating.",
    "Local codes and licensed practice decide. Clauses are named so that they can be looked up; nothing here "
    "certifies anything.",
)
