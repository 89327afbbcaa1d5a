"""Heat that is given off in a cabinet at an operating point, by what gives it off."""

from ...site.kinds import Charger
from ...site.model import Site
from ..compile import Circuit
from ..elements import Corner, OperatingPoint
from .inside import WIRES, Inside


def released_w(
    circuit: Circuit, corner: Corner, point: OperatingPoint, inside: Inside, fans: frozenset[str] = frozenset()
) -> dict[str, float]:
    """Heat by part, battery and, under `WIRES`, all wires with their joints and fuses. [W]

    What a device in the box takes turns into heat there, and so does what a converter takes and does not give on.
    Power that leaves the box, by wire or by network cable, is not counted. Fans are counted with the air.
    """
    network, site = circuit.network, circuit.site
    heat = dict.fromkeys(inside.heights_m, 0.0)

    def volts(positive: int, negative: int) -> float:
        return point.voltage_v[positive] - point.voltage_v[negative]

    for index, load in enumerate(network.loads):
        if load.name in heat and load.name not in fans:
            drawn_w = volts(load.positive, load.negative) * point.load_a[index]
            heat[load.name] += drawn_w * (1.0 - getattr(site.parts[load.name], "leaves_fraction", 0.0))
    for index, item in enumerate(network.converters):
        if item.name in heat:
            taken = volts(item.input_positive, item.input_negative) * point.converter_in_a[index]
            given = volts(item.output_positive, item.output_negative) * point.converter_out_a[index]
            heat[item.name] += max(0.0, taken - given)
    for name, branch in circuit.inner_branch.items():
        if name in heat:
            heat[name] += _lost_w(corner, point, branch)
    for index, source in enumerate(network.sources):
        if source.name in heat:
            heat[source.name] += point.source_a[index] ** 2 * corner.source_ohm[index]
    for index, feed in enumerate(network.feeds):
        if feed.name in heat:
            heat[feed.name] += charger_w(site, feed.name, volts(feed.positive, feed.negative) * point.feed_a[index])
    heat[WIRES] = sum(
        share * _lost_w(corner, point, branch)
        for number, share in inside.run_shares.items()
        for branch in circuit.run_branches[number]
    )
    return heat


def _lost_w(corner: Corner, point: OperatingPoint, branch: int) -> float:
    current = point.branch_a[branch]
    return current * current * corner.branch_ohm[branch] if current else 0.0


def charger_w(site: Site, name: str, output_w: float) -> float:
    """What a charger turns into heat while it gives so much; by night a sun charger gives its own draw. [W]"""
    part = site.parts[name]
    assert isinstance(part, Charger)
    if output_w <= 0.0:
        return part.night_w if part.supply == "sun" else 0.0
    efficiency = part.efficiency[-1][1]
    return output_w * (1.0 / efficiency - 1.0)
