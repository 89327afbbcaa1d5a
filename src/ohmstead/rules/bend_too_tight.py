"""A cable bent more sharply than it bears breaks its strands or its insulation."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence

RULE = Rule("bend-too-tight", Source("cable-bend-guide", "inner radius in outer diameters"))
AT_PART = Words(
    "at {where} a bend of {value} inside radius has room; {limit} is the least for its cable of {diameter}",
    "leave {lacking} more before {where}, take an angled plug or a thinner cable, or turn the part",
)
NO_ROOM = Words(
    "at {where} not even the plug and a straight end have room: {lacking} are missing for a bend of {limit}",
    "leave {lacking} more before {where}, or take an angled plug",
)
AT_CORNER = Words(
    "where two ducts meet on the way of {subject}, {value} inside radius has room; {limit} is the least for {diameter}",
    "take wider ducts, a thinner cable, or lead this run along one duct",
)
MM = 1e-3


def check(evidence: Evidence) -> Iterator[Finding]:
    if evidence.plate is None:
        return
    for bend in evidence.plate.bends:
        words = AT_CORNER if not bend.where else AT_PART if bend.room_mm > 0 else NO_ROOM
        yield RULE.find(
            Severity.FAILS,
            Subject(bend.run, bend.place),
            words,
            Measure(max(0.0, bend.room_mm) * MM, bend.needed_mm * MM, "length", "least"),
            {
                "diameter": Number(bend.diameter_mm * MM, "length"),
                "lacking": Number((bend.needed_mm - bend.room_mm) * MM, "length", digits=2),
            },
            {"where": bend.where},
        )
