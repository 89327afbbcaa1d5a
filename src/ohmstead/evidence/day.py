"""Energy of a mean day at the battery, and how much of it is spent with nothing to show for it."""

from ..network.duty import lasting, lightest, may_be_off, mean_hours
from ..network.operate import Operation
from ..site.kinds import Converter, Device, Disconnect, EthernetSource
from .chain import Chain
from .views import DayUse

DAY_H = 24.0


def day_use(operation: Operation, chain: Chain) -> DayUse:
    """What a mean day takes from the battery, by part; wire losses are left out, converter losses are not.

    Idle is what flows while nothing useful is done: converters and Ethernet sources with no load, disconnects,
    and devices that have several states, while they are in their lightest one.
    """
    by_part: dict[str, float] = {}
    idle: dict[str, float] = {}
    for name, part in operation.site.parts.items():
        if isinstance(part, Device):
            used, waiting = _device(part)
            gain = _gross(operation, chain, name)
            by_part[name], idle[name] = used * gain, waiting * gain
        elif isinstance(part, Converter):
            by_part[name] = idle[name] = operation.known.losses[name].idle_w * DAY_H * _gross(operation, chain, name)
        elif isinstance(part, EthernetSource | Disconnect):
            by_part[name] = idle[name] = part.own_w * DAY_H * _gross(operation, chain, name)
    idle = {name: energy for name, energy in idle.items() if energy > 0}
    return DayUse(sum(by_part.values()), sum(idle.values()), by_part, idle)


def _device(device: Device) -> tuple[float, float]:
    """Energy of a mean day, and the part of it in the lightest of several states. [Wh]"""
    states = lasting(device)
    if not states:
        return 0.0, 0.0
    hours = mean_hours(device)
    used = sum(hours.get(draw.state, 0.0) * draw.power_w.nominal for draw in states)
    light = lightest(device)
    waiting = hours.get(light.state, 0.0) * light.power_w.nominal if len(states) > 1 and not may_be_off(device) else 0.0
    return used, waiting


def _gross(operation: Operation, chain: Chain, name: str) -> float:
    """Battery energy for one unit at the part: the load-dependent losses of the converters above it at half load."""
    gain = 1.0
    for source in chain.sources_above(name):
        losses = operation.known.losses.get(source)
        if losses is not None:
            rating = getattr(operation.site.parts[source], "rating_w", None) or 1.0
            gain *= 1 + losses.fraction_at(rating / 2)
    return gain
