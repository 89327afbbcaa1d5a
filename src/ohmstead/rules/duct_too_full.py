"""A wiring duct filled beyond its limit keeps heat in, and its cover off."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence

RULE = Rule("duct-too-full", Source("duct-fill", "space factor; 13.5.2"))
NEARLY = 0.9  # of the limit: no room for the next wire; common practice, no source
WORDS = Words(
    "duct {subject} is filled to {value} by {count} runs; {limit} may be filled",
    "take a wider duct ({needed} inside and more), lead some runs another way, or move parts nearer to each other",
)
CLOSE = Words(
    "duct {subject} is filled to {value} by {count} runs, and {limit} may be filled: nothing is left for a later wire",
    "take the next wider duct while it costs nothing",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    if evidence.plate is None:
        return
    for fill in evidence.plate.fills:
        if fill.fraction <= NEARLY * fill.limit:
            continue
        over = fill.fraction > fill.limit
        yield RULE.find(
            Severity.FAILS if over else Severity.TIGHT,
            Subject(fill.duct, evidence.plate.place),
            WORDS if over else CLOSE,
            Measure(fill.fraction, fill.limit, "share"),
            {
                "used": Number(fill.used_mm2, "area"),
                "inside": Number(fill.inside_mm2, "area"),
                "needed": Number(fill.used_mm2 / fill.limit, "area"),
            },
            {"count": str(len(fill.runs))},
        )
