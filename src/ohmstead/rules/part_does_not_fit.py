"""A part that does not fit is found out with the drill in the hand."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from ..evidence.finding import Finding, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence

if TYPE_CHECKING:  # at work only loaded for a site with a plate
    from ..evidence.plates import ClashView

RULE = Rule("part-does-not-fit", Source("common-practice", "outlines on a mounting plate"))
OVER = Words("{subject} and {what} take the same place, by {value}", "move one of the two by {ample}")
BEYOND = Words(
    "{subject} reaches {value} beyond what is free of the plate's edge",
    "move it inwards by {ample}, or take a larger plate",
)
DEEP = Words(
    "{subject} with its plugs stands {value} out through the closed door",
    "take a deeper cabinet, lay the part flat, or lead its cables out at a side",
)
UNPLACED = Words("{what}", "{mend}")
MM = 1e-3


def check(evidence: Evidence) -> Iterator[Finding]:
    plate = evidence.plate
    if plate is None:
        return
    if plate.complaint is not None:
        severity = Severity.FAILS if plate.solver == "there" else Severity.TIGHT
        texts = {"what": plate.complaint.what, "mend": plate.complaint.mend}
        yield RULE.find(severity, Subject("plate", plate.complaint.place), UNPLACED, texts=texts)
    for clash in plate.clashes:
        words = {"edge": BEYOND, "door": DEEP}.get(clash.what, OVER)
        yield _finding(clash, words)


def _finding(clash: "ClashView", words: Words) -> Finding:
    measure = Measure(clash.by_mm * MM, 0.0, "length")
    return RULE.find(Severity.FAILS, Subject(clash.part, clash.place), words, measure, texts={"what": clash.what})
