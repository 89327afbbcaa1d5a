"""Air moves through a box only as fast as its smaller opening lets it."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence

RULE = Rule("vents-unequal", Source("common-practice", "openings in series add as 1/A²"))
LEAST_SHARE = 0.5  # below it the larger vent gains next to nothing: 1/A² adds to less than a tenth more; exact
ALONE = Words(
    "{box}, where {subject} stands, has openings of {value} {where} and none {other}: air cannot pass through it",
    "add a vent of {value} or more {other}, on another side if it can be",
)
UNEQUAL = Words(
    "{box}, where {subject} stands, has {value} of openings {where} and {limit} {other}: the smaller decides, the "
    "larger is wasted",
    "give both the same size: {middle} each let as much air through",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for view in evidence.cabinets:
        low, high = view.low_m2, view.high_m2
        small, large = min(low, high), max(low, high)
        if large <= 0.0 or small >= LEAST_SHARE * large or view.fan is not None and small > 0.0:
            continue
        where, other = ("low", "high") if low == (large if small == 0.0 else small) else ("high", "low")
        alone = small <= view.climate.cabinet.leak_m2 / 2
        measure = Measure(large if alone else small, large, "opening", "least")
        middle_m2 = small * large * 2**0.5 / (small**2 + large**2) ** 0.5
        yield RULE.find(
            Severity.TIGHT,
            Subject(view.subject, view.place),
            ALONE if alone else UNEQUAL,
            measure,
            {"middle": Number(middle_m2, "opening")},
            {"box": view.name, "where": where, "other": other},
        )
