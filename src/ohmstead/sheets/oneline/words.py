"""Every text of the drawing that does not come from the site file."""

TITLE = "One-line drawing"
NOT_FIT = "NOT FIT TO BUILD"
NO_OBJECTION = "nothing found against building"
LESSER = "tight: {tight}   accepted: {accepted}"
REASONS = "dangers: {danger}   failures: {fails}"
SEE = "see the signs and their list"
SHEET = "sheet {number} of {count}"
TO_SHEET = "sheet {number}"
TO = "to {name}"
FROM = "from {name}"
GOES_ON = "{name}, rest"
CONTINUED = "{name} (continued)"
STARTING = "start {current}"
LOW_CUT = "U< {volts}"
INPUT = "in {volts}"
OUTPUT = "out {volts}"
OPEN_SIZE = "size open"
OPEN_FUSE = "fuse open"
ONLY = {"positive": "+ only", "negative": "− only"}
DATA = "data"
SET_OPEN = "stands open"
TIE = "T{number}"
SIGNAL = "D{number}"

LEGEND = "How to read it"
LEGEND_LINES = (
    "A line is a two-wire cable. Above it: fuse, size,",
    "length one way. Below it: largest lasting current,",
    "voltage lost out and back, current while starting.",
    "At parts: lowest..highest voltage of all cases.",
)
WEIGHTS = "line weight by lasting current"
UNDER = "< {current}"
OVER = "≥ {current}"
NETWORK_LINE = "network cable with power"
DATA_LINE = "data, feeds nothing"
TIE_LINE = "goes on at the same letter or sheet"
NEGATIVE_LINE = "common negative; at a converter: its own"
SIGNS = {"danger": "danger", "fails": "fails", "tight": "tight"}
ACCEPTED = "open sign: accepted by the builder"
FINDINGS = "What the check found"
NOT_DRAWN = "whole supply"

SITE = "SITE"
DRAWING = "DRAWING"
REVISION = "REVISION"
DATE = "DATE"
FILE_MARK = "TEXT OF FILE"
SCALE = "SCALE"
NO_SCALE = "none"
UNITS = "UNITS"
SHEET_LABEL = "SHEET"
VERDICT = "VERDICT"
CAUTION = "Reckoned, not measured. Local codes and licensed practice decide."
"""The caution that stands on every page."""

GENERIC = {"low-voltage disconnect": "low-voltage cut", "ethernet power source": "network source"}
"""Kinds that are called otherwise where names are left out."""
