"""Prospective fault currents at every point and through every run."""

from dataclasses import replace

from ..network.cases import Case
from ..network.compile import Circuit
from ..network.corner import corner_of, fault_branches
from ..network.elements import Corner
from ..network.operate import Operation
from ..network.thevenin import Fault, faults_at
from ..site.kinds import Charger, Converter, EthernetSource
from ..site.record import record
from .chain import Chain
from .views import FaultView

LIMIT_OVER_RATING = 1.5  # a converter that states no current limit may deliver this times its rating; common practice


@record(frozen=True)
class FaultTable:
    """Faults at the points that a battery or a charger feeds."""

    largest: dict[str, Fault]
    smallest: dict[str, Fault]
    highest_v: dict[str, float]


def fault_table(operation: Operation) -> FaultTable:
    """Bolted faults at every point that is joined to a battery without a converter between."""
    circuit = operation.circuit
    points = [p for p, feeder in circuit.map.feeder.items() if feeder.kind == "battery"]
    most, least = extreme_corner(operation, "largest"), extreme_corner(operation, "smallest")
    joined = _joined_nodes(circuit)
    # Where only a positive wire arrives, a short goes to whatever negative lies beside it: the battery's.
    returns = {p: circuit.negative[p] if circuit.negative[p] in joined else 0 for p in points}
    pairs = [(circuit.positive[p], returns[p]) for p in points]
    largest = faults_at(circuit.network, most, pairs)
    smallest = faults_at(circuit.network, least, pairs)
    return FaultTable(dict(zip(points, largest, strict=True)), dict(zip(points, smallest, strict=True)), {})


def _joined_nodes(circuit: Circuit) -> set[int]:
    """Nodes that some conductor or source touches."""
    network = circuit.network
    found = {0}
    found.update(node for branch in network.branches for node in (branch.start, branch.end))
    found.update(source.negative for source in network.sources)
    found.update(feed.negative for feed in network.feeds)
    return found


def extreme_corner(operation: Operation, extreme: str) -> Corner:
    """The corner of the "largest" fault (full, cold, fresh, chargers on) or of the "smallest"."""
    known = operation.known
    branches = fault_branches(operation.circuit, extreme)
    if extreme == "largest":
        case = Case("largest-fault", "full", "cold", "bare")
        corner = corner_of(known, case, {})
        feeds = tuple(replace(feed, running=True) for feed in corner.feeds)
        ohms = tuple(known.batteries[s.name].least_ohm for s in operation.circuit.network.sources)
        return replace(corner, branch_ohm=branches, source_ohm=ohms, feeds=feeds)
    corner = corner_of(known, Case("smallest-fault", "low", "hot", "bare"), {})
    worst = tuple(
        max(known.batteries[s.name].most_cold_ohm, known.batteries[s.name].most_hot_ohm)
        for s in operation.circuit.network.sources
    )
    return replace(corner, branch_ohm=branches, source_ohm=worst)


def battery_fault(operation: Operation, table: FaultTable, number: int, point: str, end: str) -> FaultView | None:
    """A fault at one end of a run. "near": all that its source end can deliver; "far": what the run carries."""
    if point not in table.largest:
        return None
    branches = operation.circuit.run_branches[number]
    largest, smallest = table.largest[point], table.smallest[point]
    if end == "far" and branches:
        high, low = abs(largest.branch_a[branches[0]]), abs(smallest.branch_a[branches[0]])
    else:
        high, low = largest.current_a, smallest.current_a
    voltage = max((figures.full_v for figures in operation.known.batteries.values()), default=0.0)
    return FaultView(high, low, voltage, "battery")


def limited_fault(chain: Chain, number: int, feeder: str, end: str, loop_ohm: tuple[float, float]) -> FaultView | None:
    """A fault behind a converter, Ethernet source or charger: its current limit bounds it, and the wire."""
    part = chain.site.parts.get(feeder)
    if isinstance(part, Converter):
        volts = part.output_v
        rated = (part.rating_w or 0.0) / volts.nominal if volts.nominal else 0.0
        low, high = (part.limit_a, part.limit_a) if part.limit_a else (rated, rated * LIMIT_OVER_RATING)
    elif isinstance(part, Charger):
        volts, low, high = None, part.current_a, part.current_a
    elif isinstance(part, EthernetSource):
        return None
    else:
        return None
    top = volts.high if volts else part.voltage_v  # type: ignore[union-attr]
    bottom = volts.low if volts else part.voltage_v  # type: ignore[union-attr]
    if end == "far":
        high = min(high, top / max(loop_ohm[0], 1e-6))
        low = min(low, bottom / max(loop_ohm[1], 1e-6))
    return FaultView(high, low, top, feeder)
