"""What hangs together: which elements have a live source, which islands need a reference, where to start.

An island is a set of nodes joined by closed branches, batteries, running chargers and the outputs of
running converters. An island apart from node 0 is pinned to it at one node: by Kirchhoff's law such a
single tie carries no current, whatever its conductance. A load between two islands, or between nodes that
no source drives apart, is dead: it draws nothing and is not blamed. A converter without a live input is off.
"""

from dataclasses import dataclass

from .elements import OPEN_OHM, Corner, Network
from .state import OFF, State

PIN_S = 1.0

# (node, from node, kind, index, sign): start voltage of node = that of the other + sign * EMF
Step = tuple[int, int, str, int, float]


@dataclass(frozen=True, slots=True)
class Reach:
    """Result for one pattern of open branches and modes."""

    pins: tuple[float, ...]
    dead_loads: tuple[int, ...]
    dead_converters: tuple[int, ...]
    walk: tuple[Step, ...]


def pattern_of(corner: Corner, state: State) -> tuple[object, ...]:
    """Everything `reach` depends on besides the network: a key to remember its answer by."""
    resistances = corner.branch_ohm + corner.source_ohm
    open_paths: tuple[int, ...] = ()
    if OPEN_OHM in resistances:
        open_paths = tuple(i for i, ohm in enumerate(resistances) if ohm == OPEN_OHM)
    return (
        open_paths,
        tuple([load.conductance_s > 0.0 and mode != OFF for load, mode in zip(corner.loads, state.load, strict=True)]),
        tuple([mode != OFF for mode in state.converter]),
        tuple([feed.running for feed in corner.feeds]),
        tuple([emf_v > 0.0 for emf_v in corner.source_v]),
    )


def reach(network: Network, corner: Corner, state: State, soft: frozenset[int] = frozenset()) -> Reach:
    """Islands, pins, dead elements and the walk that gives every node a start voltage.

    Sources in `soft` give a start voltage only to what nothing else does.
    """
    n_node = len(network.nodes)
    island = list(range(n_node))

    def find(k: int) -> int:
        while island[k] != k:
            island[k] = island[island[k]]
            k = island[k]
        return k

    edges: list[list[Step]] = [[] for _ in network.nodes]

    def join(plus: int, minus: int, kind: str, index: int) -> None:
        island[find(plus)] = find(minus)
        edges[minus].append((plus, minus, kind, index, 1.0))
        edges[plus].append((minus, plus, kind, index, -1.0))

    for i, source in enumerate(network.sources):
        if corner.source_ohm[i] < OPEN_OHM:
            join(source.positive, source.negative, "soft" if i in soft else "source", i)
    for i, branch in enumerate(network.branches):
        if corner.branch_ohm[i] < OPEN_OHM:
            join(branch.start, branch.end, "", 0)
    for i, feed in enumerate(network.feeds):
        if corner.feeds[i].running:
            join(feed.positive, feed.negative, "feed", i)
    waiting = [i for i, mode in enumerate(state.converter) if mode != OFF]
    while True:
        walk = _walk(edges, _roots(network, [find(k) for k in range(n_node)]))
        flat_v = start_voltages(network, corner, walk)[0]
        started = []
        for i in waiting:
            c = network.converters[i]
            if find(c.input_positive) == find(c.input_negative) and (
                flat_v[c.input_positive] - flat_v[c.input_negative] > 0.0
            ):
                started.append(i)
        if not started:
            break
        for i in started:
            c = network.converters[i]
            join(c.output_positive, c.output_negative, "converter", i)
            waiting.remove(i)
    dead_loads = tuple(
        [
            i
            for i, load in enumerate(network.loads)
            if find(load.positive) != find(load.negative) or flat_v[load.positive] <= flat_v[load.negative]
        ]
    )
    for i, load in enumerate(network.loads):
        if corner.loads[i].conductance_s > 0.0 and state.load[i] != OFF:
            island[find(load.positive)] = find(load.negative)
    pinned = _roots(network, [find(k) for k in range(n_node)])[1:]
    pins = tuple([PIN_S if k in pinned else 0.0 for k in range(1, n_node)])
    return Reach(pins, dead_loads, tuple(waiting), walk)


def start_voltages(network: Network, corner: Corner, walk: tuple[Step, ...]) -> tuple[list[float], tuple[int, ...]]:
    """The flat start: every node at the open-circuit voltage its sources give it.

    Also the converters that only pass their input on at these voltages: a buck set higher than its input,
    a boost set lower. They start in that mode.
    """
    n_node = len(network.nodes)
    set_v = [converter.set_v for converter in corner.converters]
    passing: list[int] = []
    while True:
        v = _along(corner, walk, set_v, n_node)
        found = False
        for i, c in enumerate(network.converters):
            if c.kind != "buck-boost" and i not in passing:
                through_v = v[c.input_positive] - v[c.input_negative] - corner.converters[i].pass_drop_v
                if (through_v < set_v[i]) if c.kind == "buck" else (through_v > set_v[i]):
                    passing.append(i)
                    set_v[i] = through_v
                    found = True
        if not found:
            return v, tuple(passing)


def _along(corner: Corner, walk: tuple[Step, ...], set_v: list[float], n_node: int) -> list[float]:
    voltage_v = [0.0] * n_node
    for node, other, kind, index, sign in walk:
        v = voltage_v[other]
        if kind in ("source", "soft"):
            v += sign * corner.source_v[index]
        elif kind == "converter":
            v += sign * set_v[index]
        elif kind == "feed":
            v += sign * corner.feeds[index].set_v
        voltage_v[node] = v
    return voltage_v


def _roots(network: Network, home: list[int]) -> list[int]:
    """Node 0, then one node of every island apart from it: a negative terminal where there is one."""
    chosen: dict[int, int] = {home[0]: 0}
    negatives = [c.output_negative for c in network.converters]
    negatives += [s.negative for s in network.sources] + [f.negative for f in network.feeds]
    for k in (*sorted(negatives), *range(len(home))):
        chosen.setdefault(home[k], k)
    return list(chosen.values())


def _walk(edges: list[list[Step]], roots: list[int]) -> tuple[Step, ...]:
    """Breadth-first order from the reference and the pinned nodes."""
    seen = set(roots)
    queue = list(roots)
    steps: list[Step] = []
    late: list[Step] = []
    for node in queue:
        for step in edges[node]:
            if step[2] == "soft":
                late.append(step)
            elif step[0] not in seen:
                seen.add(step[0])
                queue.append(step[0])
                steps.append(step)
    # what is still without a start voltage hangs on a capacitor
    while late:
        step = late.pop(0)
        queue = [] if step[0] in seen else [step[0]]
        steps += [step] * len(queue)
        seen.update(queue)
        for node in queue:
            for other in edges[node]:
                if other[2] == "soft":
                    late.append(other)
                elif other[0] not in seen:
                    seen.add(other[0])
                    queue.append(other[0])
                    steps.append(other)
    return tuple(steps)
