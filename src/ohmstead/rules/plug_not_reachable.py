"""A plug or terminal that no hand reaches is never tightened, never measured and never pulled in time."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence

RULE = Rule("plug-not-reachable", Source("common-practice", "room for a hand or a screwdriver before terminals"))
WORDS = Words(
    "before the terminals of {subject}, {side} as it stands, there are {value} to {before}; a hand wants {limit}",
    "move {subject} by {lacking}, turn it, or state the room its sheet asks for as hands in section plate",
)
MM = 1e-3
EDGE = "the edge of the plate"


def check(evidence: Evidence) -> Iterator[Finding]:
    if evidence.plate is None:
        return
    for reach in evidence.plate.reaches:
        yield RULE.find(
            Severity.FAILS if reach.how == "stated" else Severity.TIGHT,
            Subject(reach.part, reach.place),
            WORDS,
            Measure(reach.free_mm * MM, reach.wanted_mm * MM, "length", "least"),
            {"lacking": Number((reach.wanted_mm - reach.free_mm) * MM, "length", digits=2)},
            {"side": reach.side, "before": EDGE if reach.before == "edge" else reach.before},
        )
