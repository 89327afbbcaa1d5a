"""A way of a fuse block that carries more than it is made for melts its holder while the fuse stays whole."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence

RULE = Rule("way-overloaded", Source("common-practice", "rating of a way on the block's own sheet"))
SMALL_MARGIN_FRACTION = 0.05  # of the rating; what a clamp meter may be off, common practice
WORDS = Words(
    "way {way} of {block} carries up to {value} for long; a way of it may carry {limit}",
    "give this circuit an in-line holder or a block whose ways bear {ample} or more, or split it over two ways",
)
CLOSE = Words(
    "way {way} of {block} carries up to {value} for long, next to the {limit} that a way of it may carry",
    "leave the ways beside it free or lightly loaded, and feel the holder after an hour at full load",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for view in evidence.blocks:
        limit_a = view.block.per_way_a
        if limit_a is None:
            continue
        for way, current in sorted(view.by_way.items()):
            if current.value <= limit_a * (1 - SMALL_MARGIN_FRACTION):
                continue
            over = current.value > limit_a
            yield RULE.find(
                Severity.DANGER if over else Severity.TIGHT,
                Subject(f"{view.name} / {way}", view.place, current.case),
                WORDS if over else CLOSE,
                Measure(current.value, limit_a, "current"),
                texts={"way": str(way), "block": view.name},
            )
