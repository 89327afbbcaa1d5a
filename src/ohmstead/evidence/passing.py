"""Views of what current passes through: blocks, switches, busbars, chargers, disconnects."""

from collections.abc import Callable
from typing import TypeVar

from ..network.elements import OperatingPoint
from ..network.operate import ROUNDING, Operation
from ..network.points import TWO_SIDED
from ..site.kinds import Charger, Disconnect, Distribution, Part
from .chain import Chain
from .faults import FaultTable
from .tally import NOTHING, Tally
from .views import Carrier, DisconnectView, DistributionView, FaultView

P = TypeVar("P", bound=Part)


def block_views(operation: Operation, chain: Chain, tally: Tally, table: FaultTable) -> tuple[DistributionView, ...]:
    """Views of all distribution blocks."""
    return tuple(
        _block(operation, chain, tally, table, part)
        for part in operation.site.parts.values()
        if isinstance(part, Distribution)
    )


def _block(operation: Operation, chain: Chain, tally: Tally, table: FaultTable, part: Distribution) -> DistributionView:
    ways: dict[int, list[int]] = {}
    for way in chain.ways.values():
        for end in (way.run.start, way.run.end):
            if end.part == part.name and end.way is not None and way.run.wires != "negative":
                ways.setdefault(end.way, []).append(way.run.number)
    return DistributionView(
        part,
        part.name,
        part.place,
        tally.most_lasting(through(operation, chain, part.name)),
        tuple(sorted(ways)),
        {way: tally.most_lasting(_sum_a(tally, runs)) for way, runs in sorted(ways.items())},
        tally.highest(tally.volts(part.name)).value,
        operation.site.air_at(part.name).high,
        fault_at_point(operation, table, part.name),
    )


def _sum_a(tally: Tally, runs: list[int]) -> Callable[[OperatingPoint], float]:
    """Current of all runs that share a way."""
    figures = [tally.run_a(number) for number in runs]
    return lambda point: sum(figure(point) for figure in figures)


def fault_at_point(operation: Operation, table: FaultTable, point: str) -> FaultView | None:
    """The whole fault current at a point that a battery feeds."""
    if point not in table.largest:
        return None
    voltage = max(figures.full_v for figures in operation.known.batteries.values())
    return FaultView(table.largest[point].current_a, table.smallest[point].current_a, voltage, "battery")


def through(operation: Operation, chain: Chain, point: str) -> Callable[[OperatingPoint], float]:
    """Current through a point: half the sum of the magnitudes of all that flows in and out."""
    touching = [way.run.number for way in chain.ways.values() if point in (way.near, way.far)]
    loads = operation.circuit.load_of
    own = loads.get(point)

    def figure(operating: OperatingPoint) -> float:
        total = sum(abs(operation.run_a(operating, number)) for number in touching)
        if own is not None:
            total += abs(operating.load_a[own])
        return total / 2

    return figure


def carriers(operation: Operation, chain: Chain, tally: Tally, kind: type[P]) -> tuple[Carrier[P], ...]:
    """Views of all parts of a kind that current passes through: switches, busbars or chargers."""
    return tuple(
        _carrier(operation, chain, tally, part) for part in operation.site.parts.values() if isinstance(part, kind)
    )


def _carrier(operation: Operation, chain: Chain, tally: Tally, part: P) -> Carrier[P]:
    name = part.name
    point = f"{name} in" if isinstance(part, TWO_SIDED) else name
    volts = tally.volts(point)
    low = tally.lowest(volts, lambda case, operating: volts(operating) > 0.1) or NOTHING
    return Carrier(
        part,
        name,
        part.place,
        tally.most_lasting(_current(operation, chain, part)),
        tally.highest(volts).value,
        low.value,
    )


def _current(operation: Operation, chain: Chain, part: Part) -> Callable[[OperatingPoint], float]:
    circuit = operation.circuit
    if part.name in circuit.inner_branch:
        branch = circuit.inner_branch[part.name]
        return lambda point: abs(point.branch_a[branch])
    if isinstance(part, Charger):
        feed = circuit.feed_of[part.name]
        return lambda point: abs(point.feed_a[feed])
    return through(operation, chain, part.name)


def disconnect_views(operation: Operation, chain: Chain, tally: Tally) -> tuple[DisconnectView, ...]:
    """Views of all low-voltage disconnects."""
    return tuple(
        _disconnect(operation, chain, tally, part)
        for part in operation.site.parts.values()
        if isinstance(part, Disconnect)
    )


def _disconnect(operation: Operation, chain: Chain, tally: Tally, part: Disconnect) -> DisconnectView:
    branch = operation.circuit.inner_branch[part.name]
    current = tally.most_lasting(lambda point: abs(point.branch_a[branch]))
    heavy = tally.heaviest()
    point = heavy[1] if heavy else None
    sensed = part.senses if part.senses in operation.circuit.positive else f"{part.name} in"
    if point is None:
        return DisconnectView(part, part.name, part.place, current, 0.0, 0.0, 0.0)
    low = operation.voltage_v(point, sensed)
    flowing = round(abs(point.branch_a[branch]), ROUNDING)
    fast, slow = rebound(operation, chain, sensed, flowing)
    return DisconnectView(part, part.name, part.place, current, fast, slow, low)


def rebound(operation: Operation, chain: Chain, sensed: str, current_a: float) -> tuple[float, float]:
    """Rise of the sensed voltage when a current stops: at once, and by the battery's slow part. [V]"""
    feeder = operation.circuit.map.feeder[sensed]
    figures = operation.known.batteries.get(feeder.name)
    if figures is None:
        return 0.0, 0.0
    batteries = len(operation.known.batteries)
    slow = operation.site.batteries[feeder.name].slow_ohm
    runs = [n for n in (chain.supply_run(sensed),) if n is not None]
    runs += [n for run in runs for n in operation.circuit.map.upstream[run]]
    wire = sum(operation.circuit.paths[n].most_ohm(operation.circuit.paths[n].air.high) for n in runs)
    fast = (figures.most_hot_ohm - slow) / batteries + wire
    return current_a * fast, current_a * slow / batteries
