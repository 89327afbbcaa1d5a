"""Every text of the switch-on plan on paper and of the commissioning record."""

TITLE = "Switch-on plan"
RECORD_TITLE = "Commissioning record"
LEAD = (
    "Step after step: each uses only what an earlier one proved. Marks P and C stand on the drawing. A reading "
    "inside "
    "the band is good; {share} of fault-free readings are. Just outside: read it again. Far outside: stop, and look "
    "into the table of causes. Bands are for a meter of {meter}."
)
BATTERY_LEAD = "Measure the battery at rest first: with its voltage the plan can be printed with narrower bands."
NUMBERS = "Revision {revision}"
DRAWING = "Where the probes go"
DRAWING_LEAD = "P: between plus and minus there. C: current in that wire; both ends of it for a drop."
PROBE_NOTE = ("P  voltage, red on +, black on −", "C  current in, or drop along, this wire")
PROBE_TITLE = "Probe marks"
CAUTION_TITLE = "Before you go on"
HEAD = ("no.", "step", "probes", "expect", "band", "reading", "good")
RECORD_HEAD = ("no.", "step", "expect", "band", "read", "verdict", "by", "when (UTC)", "note")
HOW = "How"
OUTSIDE = "When a reading lies outside"
OUTSIDE_HEAD = ("reading", "if too low", "if too high, or not so")
SIGNED = "Measured by"
SIGNED_HEAD = ("what", "entry")
SIGNED_ROWS = (
    "name of who measured", "witness", "meter and clamp, serial number", "date and place", "weather, air temperature",
    "battery at rest, its temperature", "signature of who measured", "signature of the witness",
)  # fmt: skip
BOX = "________"
TICK_BOX = "☐"
LINE = "_" * 44

SUMMARY = "In short"
SUMMARY_HEAD = ("what", "figure")
SUMMARY_ROWS = {
    "steps": "steps of the plan",
    "good": "readings inside their band",
    "look": "just outside, to be read again",
    "stop": "outside",
    "skipped": "skipped with a reason",
    "left": "not answered yet",
    "revision": "text of the site file (SHA-256)",
    "meters": "meters",
    "people": "entered by",
    "span": "from, to (UTC)",
    "bands": "bands after the resting voltage read",
}
OPEN = "Open points"
OPEN_HEAD = ("no.", "step", "what is open", "likely causes, or the reason given")
NO_OPEN = "None: every step was answered and no reading lies outside its band."
UNANSWERED = "not answered"
RECORD_LEAD = (
    "What was measured when this supply was switched on, against what the plan of the same text of the site file "
    "expects. A row corrected later shows its last entry; the store keeps all of them."
)
RECORD_CAUTION = (
    "A record of measurements, no certificate of conformity. Local codes and licensed practice decide.",
    "Readings hold for the day they were taken. Tighten and look again after a month and each autumn.",
)
VERDICTS = {"good": "good", "look": "look again", "stop": "STOP", "": "skipped"}
NONE = "-"

GENERIC = {
    "names": "the parts named",
    "near": "the near end",
    "far": "the far end",
    "name": "the part",
    "fuse": "the fuse",
    "device": "the device",
    "sign": "pole named on its label",
    "bore": "its size too",
    "volts": "its usual voltage",
    "ohm": "the resistor named",
    "wait": "the time named",
    "short": "the heat named",
    "plug": "its label tells",
    "how": "Wait until the figure stands still; for a start hold the highest reading.",
    "seconds": "brief",
    "source": "its source",
    "states": "the states named",
    "pole": "named",
    "least": "the least",
    "most": "the most",
}
"""What stands in place of names where a step's text is told once for many."""
