"""A ring that does not match its stud either cannot go on or touches with its rim only."""

from collections.abc import Iterator

from ..evidence.ends import Joint, joints, thread
from ..evidence.finding import Finding, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence
from ..site.kinds import Busbar

RULE = Rule("terminal-does-not-fit-stud", Source("din-46235", "ring terminals by stud"))
SMALL = Words(
    "the {end} of {subject} does not go over the {stud} stud of {part}",
    "crimp a ring for {stud}; never drill a ring open, the copper that is lost carried current",
)
LARGE = Words(
    "the {end} of {subject} sits loose on the {stud} stud of {part}: only a rim of it touches",
    "crimp a ring for {stud}; a washer below the nut does not bring the lost contact back",
)
NO_RING = Words(
    "{subject} ends in a {end}, which the {stud} stud of {part} does not hold",
    "crimp a ring for {stud}",
)
SAME_MM = 0.75  # an M8 ring fits a stud of 5/16 in, an M10 ring one of 3/8 in; common practice, no source
PUSHED_IN = ("bare", "ferrule", "tab", "butt")  # held by a screw or a spring, never by a nut


def check(evidence: Evidence) -> Iterator[Finding]:
    for joint in joints(evidence):
        if joint.end is None or joint.stud_mm is None:
            continue
        texts = {"end": joint.end.name, "stud": thread(joint.stud_mm), "part": joint.at.part}
        subject = Subject(joint.view.name, joint.view.place)
        hole_mm = joint.end.stud_mm
        if joint.end.kind == "ring" and hole_mm is not None and abs(hole_mm - joint.stud_mm) > SAME_MM:
            measure = Measure(hole_mm / 1000, joint.stud_mm / 1000, "length", _sense(hole_mm, joint.stud_mm))
            words = SMALL if hole_mm < joint.stud_mm else LARGE
            yield RULE.find(Severity.FAILS, subject, words, measure, texts=texts)
        elif joint.end.kind in PUSHED_IN and _only_studs(joint):
            yield RULE.find(Severity.FAILS, subject, NO_RING, texts=texts)


def _sense(hole_mm: float, stud_mm: float) -> str:
    return "least" if hole_mm < stud_mm else "most"


def _only_studs(joint: Joint) -> bool:
    """A busbar often has small screws beside its studs; the other parts do not."""
    return not isinstance(joint.part, Busbar)
