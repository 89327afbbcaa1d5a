"""Panels that can drive more current than their controller bears at its input overload it in strong sun."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence

RULE = Rule("array-current-over-controller", Source("iec-62548", "design current of an array"))
STRONG_SUN = 1.25  # over the short current of the sheet, for sun brightened by clouds and snow; IEC 62548, from memory
OVER = Words(
    "{arrays} can drive {value} through {subject} ({factor} times their short current); its input bears {limit}",
    "put more modules in series and fewer strings side by side, or fit a controller that bears {ample}",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    chargers = {view.charger.name: view.charger for view in evidence.arrays if view.charger is not None}
    for name, charger in chargers.items():
        limit = charger.array_limit_a
        if limit is None and charger.type == "switching":
            limit = charger.current_a  # what flows in flows out
        mine = [view for view in evidence.arrays if view.charger is charger]
        currents = [view.short_a for view in mine if view.short_a is not None]
        if limit is None or len(currents) < len(mine):
            continue
        measure = Measure(STRONG_SUN * sum(currents), limit, "current")
        if measure.value > measure.limit:
            yield RULE.find(
                Severity.FAILS,
                Subject(name, charger.place),
                OVER,
                measure,
                {"factor": Number(STRONG_SUN, "number", "table")},
                {"arrays": " and ".join(view.name for view in mine)},
            )
