"""Fault currents: the network with loads and converters open, seen from any pair of nodes.

What remains is linear: batteries as electromotive force behind resistance, chargers as sources of their
current limit. Seen from two nodes it is an open-circuit voltage behind a resistance (Thévenin), and a
bolted fault between them adds the fault current through that resistance to the open-circuit state.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from .balance import currents
from .elements import OPEN_OHM, Corner, Feed, Network, Source
from .jacobian import Rows, factor, jacobian
from .plan import Plan
from .reach import reach
from .solve import program_of
from .state import CURRENT, OFF, State, conductance

LEAST_SEEN_OHM = 1e-6


@dataclass(frozen=True, slots=True)
class Fault:
    """A bolted fault between two nodes.

    `open_v` and `ohm` are the Thévenin voltage and resistance, `current_a` the current through the fault;
    `branch_a`, `source_a` and `feed_a` what every branch, battery and charger carries meanwhile, in the
    order of the Network's tuples.
    """

    open_v: float
    ohm: float
    current_a: float
    branch_a: tuple[float, ...]
    source_a: tuple[float, ...]
    feed_a: tuple[float, ...]


def fault_at(network: Network, corner: Corner, node: int, negative: int = 0) -> Fault:
    """A bolted fault from `node` to `negative`."""
    return faults_at(network, corner, ((node, negative),))[0]


def faults_at(network: Network, corner: Corner, pairs: Iterable[tuple[int, int]]) -> list[Fault]:
    """Bolted faults between several pairs of nodes, one at a time, from one factorisation."""
    seen = _Seen(network, corner)
    return [seen.fault(node, negative) for node, negative in pairs]


class _Seen:
    """The factored fault network of one corner."""

    def __init__(self, network: Network, corner: Corner) -> None:
        self.network, self.corner = network, corner
        feeding = [CURRENT if f.running and f.limit_a < float("inf") else OFF for f in corner.feeds]
        self.state = State([OFF] * len(corner.loads), [OFF] * len(corner.converters), feeding)
        self.plan: Plan = program_of(network).plan
        n_node = len(network.nodes)
        flat = [0.0] * n_node
        rows: Rows = jacobian(network, corner, self.state, flat)
        self.joined = _joined(network, corner)
        for k, pin_s in enumerate(reach(network, corner, self.state).pins, 1):
            if pin_s:
                rows[k][k] = rows[k].get(k, 0.0) + pin_s
        order = [step.node for step in (*self.plan.fixed, *self.plan.moving)]
        pivots, lower, upper = factor(rows, self.plan)
        self.forth = [(p, list(lower[p].items())) for p in order]
        self.back = [(p, pivots[p], list(upper[p].items())) for p in reversed(order)]
        idle = currents(network, corner, self.state, flat)
        right = [0.0] * n_node
        elements: list[Source | Feed] = [*network.sources, *network.feeds]
        for element, a in zip(elements, (*idle.source_a, *idle.feed_a), strict=True):
            right[element.positive] += a
            right[element.negative] -= a
        self.open_v = self.answer(right)
        self.feed_a = tuple(idle.feed_a)
        self.wires = [
            (b.start, b.end, conductance(r)) for b, r in zip(network.branches, corner.branch_ohm, strict=True)
        ]
        self.banks = [
            (s.positive, s.negative, conductance(r), emf_v)
            for s, r, emf_v in zip(network.sources, corner.source_ohm, corner.source_v, strict=True)
        ]

    def answer(self, right: list[float]) -> list[float]:
        """Node voltages from the currents put into the nodes."""
        x = right[:]
        for p, column in self.forth:
            value = x[p]
            if value:
                for i, l in column:
                    x[i] -= l * value
        for p, pivot, row in self.back:
            value = x[p]
            for j, u in row:
                value -= u * x[j]
            x[p] = value / pivot
        x[0] = 0.0
        return x

    def fault(self, node: int, negative: int) -> Fault:
        """One bolted fault."""
        v = self.open_v
        if self.joined[node] != self.joined[negative] or node == negative:
            return self._record(0.0 if node == negative else v[node] - v[negative], OPEN_OHM, 0.0, v)
        right = [0.0] * len(v)
        right[node] += 1.0
        right[negative] -= 1.0
        per_a = self.answer(right)
        open_v = v[node] - v[negative]
        ohm = per_a[node] - per_a[negative]
        current_a = open_v / max(ohm, LEAST_SEEN_OHM)
        shorted = [x - current_a * dx for x, dx in zip(v, per_a, strict=True)]
        return self._record(open_v, ohm, current_a, shorted)

    def _record(self, open_v: float, ohm: float, current_a: float, v: Sequence[float]) -> Fault:
        branch_a = [(v[a] - v[b]) * g for a, b, g in self.wires]
        source_a = [(emf_v - v[a] + v[b]) * g for a, b, g, emf_v in self.banks]
        return Fault(open_v, ohm, current_a, tuple(branch_a), tuple(source_a), self.feed_a)


def _joined(network: Network, corner: Corner) -> list[int]:
    """The island of each node, joined by closed branches and batteries."""
    island = list(range(len(network.nodes)))

    def find(k: int) -> int:
        while island[k] != k:
            island[k] = island[island[k]]
            k = island[k]
        return k

    for source, ohm in zip(network.sources, corner.source_ohm, strict=True):
        if ohm < OPEN_OHM:
            island[find(source.positive)] = find(source.negative)
    for branch, ohm in zip(network.branches, corner.branch_ohm, strict=True):
        if ohm < OPEN_OHM:
            island[find(branch.start)] = find(branch.end)
    return [find(k) for k in range(len(island))]
