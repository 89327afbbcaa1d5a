"""Extra-low voltage beside mains is safe only while nothing between the two fails."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence

RULE = Rule("low-voltage-beside-mains", Source("iec-61140", "protective separation of extra-low voltage"))
NEAR = Words(
    "{subject} stands {value} from {other}; {limit} are asked for between mains and extra-low voltage",
    "move it away, put a fixed barrier between, or state mains at and mains size around all that has mains voltage",
)
CROSSES = Words(
    "{subject} meets {other}: extra-low voltage lies where mains voltage is",
    "keep mains parts and their wires within their own part of the plate, and all else out of it",
)
OUTSIDE = Words(
    "{subject} has mains voltage and stands outside the part of the plate that is for it",
    "move it there, or make that part of the plate larger",
)
MM = 1e-3
AREA = "the part of the plate for mains"


def check(evidence: Evidence) -> Iterator[Finding]:
    if evidence.plate is None:
        return
    for near in evidence.plate.mains:
        words = OUTSIDE if near.other == "outside" else NEAR if near.gap_mm > 0 else CROSSES
        yield RULE.find(
            Severity.DANGER,
            Subject(near.subject, near.place),
            words,
            Measure(near.gap_mm * MM, near.least_mm * MM, "length", "least"),
            texts={"other": AREA if near.other == "mains area" else near.other},
        )
