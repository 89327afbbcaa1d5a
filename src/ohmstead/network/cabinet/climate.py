"""What is known of a cabinet once network and heat agree."""

from collections.abc import Mapping

from ...heat.around import Around
from ...heat.box import Box
from ...heat.trace import Trace
from ...quantity.span import Span
from ...site.boxes import Cabinet
from ...site.record import record
from .inside import Inside


@record(frozen=True)
class Day:
    """One day of 24 hours: surroundings, heat given off by each gear, and what comes of it."""

    around: Around
    heat_w: Mapping[str, tuple[float, ...]]
    trace: Trace

    @property
    def total_w(self) -> tuple[float, ...]:
        """Heat of all gear by hour. [W]"""
        return tuple(sum(hours) for hours in zip(*self.heat_w.values(), strict=True))


@record(frozen=True)
class Climate:
    """One cabinet: its box, its hottest and its coldest day, and the air at each part.

    `rounds`: times that network and heat were gone through; `off_k`: by how much the last one changed the air.
    """

    zone: str
    cabinet: Cabinet
    box: Box
    inside: Inside
    hot: Day
    cold: Day
    air: Span
    local_air: Mapping[str, Span]
    rounds: int
    off_k: float
