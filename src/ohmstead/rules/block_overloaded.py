"""A fuse block that carries more in all than it is made for overheats its feed stud and bus."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import DistributionView, Evidence

RULE = Rule("block-overloaded", Source("common-practice", "total rating on the block's own sheet"))
SMALL_MARGIN_FRACTION = 0.05  # of the rating; what a clamp meter may be off, common practice
WORDS = Words(
    "the ways of {subject} take up to {value} together; the whole block may carry {limit}",
    "move at least {excess} to a second block, or take a block made for {ample} or more{largest}",
)
CLOSE = Words(
    "the ways of {subject} take up to {value} together, next to the {limit} that the block may carry",
    "add nothing here: a free way is no free current, and a further load needs a second block{largest}",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for view in evidence.blocks:
        total_a = view.block.total_a
        if total_a is None or view.total.value <= total_a * (1 - SMALL_MARGIN_FRACTION):
            continue
        over = view.total.value > total_a
        yield RULE.find(
            Severity.DANGER if over else Severity.TIGHT,
            Subject(view.name, view.place, view.total.case),
            WORDS if over else CLOSE,
            Measure(view.total.value, total_a, "current"),
            numbers={"excess": Number(max(view.total.value - total_a, 0.0), "current")},
            texts={"largest": _largest(view)},
        )


def _largest(view: DistributionView) -> str:
    """The busiest way, in words."""
    if not view.by_way:
        return ""
    way = max(view.by_way, key=lambda number: view.by_way[number].value)
    return f"; way {way} is the busiest with {Number(view.by_way[way].value, 'current')}"
