"""What each converter is asked for in a case, before anything is solved."""

from collections.abc import Mapping

from ..site.kinds import Device, Disconnect, EthernetSource
from .cases import Case
from .compile import Circuit
from .losses import Losses
from .points import TWO_SIDED

MOST_IN_A_ROW = 8  # converters behind converters; deeper chains are judged at this depth


def demand_w(circuit: Circuit, losses: Mapping[str, Losses], case: Case) -> dict[str, float]:
    """Output power asked of each converter in a case, losses of converters behind it counted, wires not. [W]"""
    site, feeder = circuit.site, circuit.map.feeder
    wanted: dict[str, float] = {}
    for name, part in site.parts.items():
        power = drawn_w(part, case)
        point = f"{name} in" if isinstance(part, TWO_SIDED) else name
        for _ in range(MOST_IN_A_ROW):
            above = feeder[point]
            if above.kind not in ("converter", "ethernet power source") or power <= 0.0:
                break
            if above.name in losses:
                wanted[above.name] = wanted.get(above.name, 0.0) + power
                power += max(0.0, losses[above.name].lost_w(power))
            point = f"{above.name} in"
    return wanted


def drawn_w(part: object, case: Case) -> float:
    """What a part takes in a case: a device by its state, others their own use. [W]"""
    if isinstance(part, Device):
        draw = next((d for d in part.draws if d.state == case.states.get(part.name)), None)
        if draw is None:
            return 0.0
        return draw.power_w.low if case.kind == "idle" else draw.power_w.high
    if isinstance(part, EthernetSource) and case.kind == "all start" and part.start_w is not None:
        return part.start_w
    return part.own_w if isinstance(part, Disconnect | EthernetSource) else 0.0
