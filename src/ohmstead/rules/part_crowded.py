"""A part without the air it needs runs hot, and a light that nobody sees warns nobody."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence

RULE = Rule("part-crowded", Source("common-practice", "free air above and below; lights seen at 45 degrees"))
AIR = Words(
    "{subject} has {value} of free air at its {side} side, to {before}; {limit} are wanted",
    "move it by {lacking}, or state as air in section plate what its sheet asks for",
)
LIGHTS = Words(
    "the lights on the {side} side of {subject} hide behind {before}, {value} away; {limit} let them be seen",
    "move it by {lacking}, turn it, or swap the deeper part for a flat one",
)
MM = 1e-3
EDGE = "the edge of the plate"


def check(evidence: Evidence) -> Iterator[Finding]:
    if evidence.plate is None:
        return
    for view in evidence.plate.crowded:
        yield RULE.find(
            Severity.FAILS if view.how == "stated" else Severity.TIGHT,
            Subject(view.part, view.place),
            AIR if view.why == "air" else LIGHTS,
            Measure(view.free_mm * MM, view.wanted_mm * MM, "length", "least"),
            {"lacking": Number((view.wanted_mm - view.free_mm) * MM, "length", digits=2)},
            {"side": view.side, "before": EDGE if view.before == "edge" else view.before},
        )
