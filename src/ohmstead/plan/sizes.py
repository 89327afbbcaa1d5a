"""What a part measures: what the builder wrote, else the usual size for its kind and rating."""

from collections.abc import Mapping

from ..quantity.span import Span
from ..site.kinds import (
    Busbar,
    Charger,
    Converter,
    Device,
    Disconnect,
    Distribution,
    EthernetSource,
    Part,
    Switch,
)
from ..site.plates import Mount
from ..tables.reader import rows

Usual = Mapping[str, float | str]
_SMALL_W = 1.0  # what a block or switch turns into heat; common practice, no source
_BUSY_SHARE = 0.5  # of its rating that a converter is taken to give for hours; common practice, no source
_PASS_LOSS = 0.05  # of its budget that a network source loses; common practice, no source


def rating_of(part: object) -> float:
    """The figure by which the usual size of a part is found: watts, amperes, ways or ports."""
    match part:
        case Converter():
            return part.rating_w or 100.0
        case Device():
            return max((draw.power_w.high for draw in part.draws if draw.seconds is None), default=10.0)
        case Distribution():
            return float(part.ways or 6)
        case EthernetSource():
            return float(part.ports)
        case Switch() | Busbar() | Disconnect():
            return part.rating_a or 100.0
        case Charger():
            return part.current_a
    return 10.0


def usual_of(part: object) -> Usual:
    """The row of usual sizes for a part. A battery on the plate is taken as a large device."""
    kind = str(getattr(part, "kind", "device"))
    found = [row for row in rows("part_sizes") if row["kind"] == kind]
    rating = rating_of(part)
    return next(row for row in found if rating <= float(row["up_to"]))


def heat_w(part: object, mount: Mount | None) -> float:
    """What a part turns into heat for hours, a rough figure to find a place by. [W]"""
    if mount is not None and mount.heat_w is not None:
        return mount.heat_w
    match part:
        case Converter():
            efficiency = part.efficiency[-1][1]
            return _BUSY_SHARE * (part.rating_w or 100.0) * (1 / efficiency - 1)
        case Device():
            lasting: list[Span] = [draw.power_w for draw in part.draws if draw.seconds is None]
            return max((power.nominal for power in lasting), default=0.0)
        case EthernetSource():
            return part.own_w + _PASS_LOSS * (part.budget_w or 0.0)
        case Charger():
            return (part.power_w or 0.0) * (1 - part.efficiency[-1][1])
    return _SMALL_W if isinstance(part, Part) else 0.0
