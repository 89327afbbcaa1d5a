"""Bolted faults: what every source drives into a short between two nodes, and through which branches.

The fault network is linear: batteries are an electromotive force behind their resistance, running chargers
deliver their current limit, loads and converters are left out (what lies behind a converter is bounded by
its current limit, not by the battery). By superposition the voltages under fault are those before it less
the fault current times the network's answer to one ampere drawn at the fault.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from .elements import Corner, Network
from .jacobian import Rows, couple, factor
from .plan import Plan, make_plan
from .state import conductance

LEAK_S = 1e-9  # ties nodes that nothing else ties; 1e-9 of a volt's worth of current is far below any reading


@dataclass(frozen=True, slots=True)
class Fault:
    """A bolted short between two nodes.

    current_a: through the short. open_v: voltage there before it. Branch and source currents flow while
    it stands, in the order and with the signs of the Network.
    """

    current_a: float
    open_v: float
    branch_a: tuple[float, ...]
    source_a: tuple[float, ...]

    @property
    def seen_ohm(self) -> float:
        """Resistance of the whole network seen from the two nodes. [Ω]"""
        return self.open_v / self.current_a if self.current_a > 0.0 else float("inf")


def faults_at(network: Network, corner: Corner, pairs: Sequence[tuple[int, int]]) -> tuple[Fault, ...]:
    """A fault at each pair (positive node, negative node); one factorisation serves them all."""
    plan = make_plan(network)
    pivots, lower, upper = factor(_rows(network, corner), plan)
    before = _solve(plan, pivots, lower, upper, _driven(network, corner))
    found = []
    for positive, negative in pairs:
        unit = [0.0] * len(network.nodes)
        unit[positive] += 1.0
        unit[negative] -= 1.0
        answer = _solve(plan, pivots, lower, upper, unit)
        open_v = before[positive] - before[negative]
        current = max(0.0, open_v) / max(answer[positive] - answer[negative], 1e-12)
        during = [v - current * z for v, z in zip(before, answer, strict=True)]
        found.append(_fault(network, corner, during, current, open_v))
    return tuple(found)


def _rows(network: Network, corner: Corner) -> Rows:
    rows: Rows = [{} if node == 0 else {node: LEAK_S} for node in range(len(network.nodes))]
    for branch, ohm in zip(network.branches, corner.branch_ohm, strict=True):
        couple(rows, (branch.start, branch.end), (branch.start, branch.end), conductance(ohm))
    for source, ohm in zip(network.sources, corner.source_ohm, strict=True):
        ends = (source.positive, source.negative)
        couple(rows, ends, ends, conductance(ohm))
    return rows


def _driven(network: Network, corner: Corner) -> list[float]:
    """Current that the sources push into each node."""
    into = [0.0] * len(network.nodes)
    for source, emf, ohm in zip(network.sources, corner.source_v, corner.source_ohm, strict=True):
        into[source.positive] += emf * conductance(ohm)
        into[source.negative] -= emf * conductance(ohm)
    for feed, state in zip(network.feeds, corner.feeds, strict=True):
        if state.running:
            into[feed.positive] += state.limit_a
            into[feed.negative] -= state.limit_a
    return into


def _solve(plan: Plan, pivots: list[float], lower: Rows, upper: Rows, right: list[float]) -> list[float]:
    """Node voltages for currents pushed into the nodes."""
    x = list(right)
    x[0] = 0.0
    steps = [step.node for step in (*plan.fixed, *plan.moving)]
    for p in steps:
        for i, factor_i in lower[p].items():
            x[i] -= factor_i * x[p]
    for p in reversed(steps):
        x[p] = (x[p] - sum([u * x[j] for j, u in upper[p].items()])) / pivots[p]
    return x


def _fault(network: Network, corner: Corner, v: list[float], current: float, open_v: float) -> Fault:
    branch_a = tuple([(v[b.start] - v[b.end]) * conductance(ohm)
                      for b, ohm in zip(network.branches, corner.branch_ohm, strict=True)])
    source_a = tuple([(emf - v[s.positive] + v[s.negative]) * conductance(ohm) for s, emf, ohm
                      in zip(network.sources, corner.source_v, corner.source_ohm, strict=True)])
    return Fault(current, open_v, branch_a, source_a)
