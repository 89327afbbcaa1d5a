"""The elimination order of a network's nodal equations, worked out once per topology.

Node 0 is the reference and has no equation. Nodes that carry only wires and have at most two neighbours
are eliminated first: their equations stay the same while Newton's method iterates, so that part of the
factorisation is done once per corner. The other nodes follow, those behind most converters first and among
them those of least degree: a converter's input answers to its output, and where both share a negative wire
the pivots are sure to stay positive only if the output is eliminated before the input. The negative pin of a
part goes with its positive pin, though the wires of all negatives may be one piece: left to the end, the
negatives of everything would all be neighbours.
"""

from dataclasses import dataclass

from .elements import Feed, Load, Network, Source


@dataclass(frozen=True, slots=True)
class Pivot:
    """One node to eliminate and the neighbours it still has at that moment."""

    node: int
    neighbours: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Plan:
    """Elimination steps: `fixed` once per corner, `moving` once per iteration.

    `pairs` holds every (row, column) off the diagonal that is filled before elimination,
    `lopsided` the unordered pairs (low, high) whose two entries differ (converters), `island` a number for
    each node that is the same for nodes joined by wires.
    """

    n_node: int
    fixed: tuple[Pivot, ...]
    moving: tuple[Pivot, ...]
    pairs: frozenset[tuple[int, int]]
    lopsided: frozenset[tuple[int, int]]
    island: tuple[int, ...]


def pair(a: int, b: int) -> tuple[int, int]:
    """The unordered pair of two nodes."""
    return (a, b) if a < b else (b, a)


def make_plan(network: Network) -> Plan:
    """Choose the elimination order for a network."""
    n_node = len(network.nodes)
    near: list[set[int]] = [set() for _ in range(n_node)]
    busy = [False] * n_node
    lopsided: set[tuple[int, int]] = set()

    def join(a: int, b: int) -> None:
        if a and b and a != b:
            near[a].add(b)
            near[b].add(a)

    for branch in network.branches:
        join(branch.start, branch.end)
    for source in network.sources:
        join(source.positive, source.negative)
    power: list[Load | Feed] = [*network.loads, *network.feeds]
    for port in power:
        join(port.positive, port.negative)
        busy[port.positive] = busy[port.negative] = True
    for converter in network.converters:
        inputs = (converter.input_positive, converter.input_negative)
        outputs = (converter.output_positive, converter.output_negative)
        join(*inputs)
        join(*outputs)
        for node in (*inputs, *outputs):
            busy[node] = True
        for a in inputs:
            for b in outputs:
                join(a, b)
                if a and b and a != b:
                    lopsided.add(pair(a, b))
    pairs = frozenset((a, b) for a in range(1, n_node) for b in near[a])
    island = wired_islands(network)
    depth = _pins_depth(network, converter_depth(network, island))
    skewed = (lopsided, depth)
    fixed = _eliminate(near, [node for node in range(1, n_node) if not busy[node]], 2, skewed)
    done = {pivot.node for pivot in fixed}
    moving = _eliminate(near, [node for node in range(1, n_node) if node not in done], n_node, skewed)
    return Plan(n_node, fixed, moving, pairs, frozenset(lopsided), tuple(island))


def wired_islands(network: Network) -> list[int]:
    """A number for each node, the same for nodes joined by branches."""
    island = list(range(len(network.nodes)))

    def find(k: int) -> int:
        while island[k] != k:
            island[k] = island[island[k]]
            k = island[k]
        return k

    for branch in network.branches:
        island[find(branch.start)] = find(branch.end)
    return [find(k) for k in range(len(island))]


def converter_depth(network: Network, island: list[int]) -> list[int]:
    """How many converters lie between each node and the batteries, by the wires alone."""
    found: dict[int, int] = {island[0]: 0}
    sources: list[Source | Feed] = [*network.sources, *network.feeds]
    for source in sources:
        found[island[source.positive]] = found[island[source.negative]] = 0
    grown = True
    while grown:
        grown = False
        for converter in network.converters:
            base = found.get(island[converter.input_positive])
            for node in (converter.output_positive, converter.output_negative):
                if base is not None and island[node] not in found:
                    found[island[node]] = base + 1
                    grown = True
    return [found.get(home, 0) for home in island]


def _pins_depth(network: Network, depth: list[int]) -> list[int]:
    """Each node's depth, with the negative pins of parts as deep as the shallowest positive pin beside them."""
    beside: dict[int, int] = {}
    simple: tuple[Load | Feed | Source, ...] = (*network.loads, *network.feeds, *network.sources)
    ports = [(port.positive, port.negative) for port in simple]
    for converter in network.converters:
        ports.append((converter.input_positive, converter.input_negative))
        ports.append((converter.output_positive, converter.output_negative))
    for positive, negative in ports:
        beside[negative] = min(depth[positive], beside.get(negative, len(depth)))
    return [max(own, beside.get(node, 0)) for node, own in enumerate(depth)]


def _eliminate(
    near: list[set[int]], nodes: list[int], most: int, kinds: tuple[set[tuple[int, int]], list[int]]
) -> tuple[Pivot, ...]:
    """Take out the deepest nodes of least degree, up to degree `most`; `near` and `lopsided` are updated."""
    lopsided, depth = kinds
    left = dict.fromkeys(nodes)
    pivots: list[Pivot] = []
    if most < len(near):
        depth = [0] * len(near)
    while left:
        node = min(left, key=lambda k: (-depth[k], len(near[k])))
        if len(near[node]) > most:
            break
        del left[node]
        neighbours = tuple(sorted(near[node]))
        skewed = [k for k in neighbours if pair(k, node) in lopsided]
        for k in neighbours:
            near[k].discard(node)
        for place, a in enumerate(neighbours):
            for b in neighbours[place + 1 :]:
                near[a].add(b)
                near[b].add(a)
                if a in skewed or b in skewed:
                    lopsided.add((a, b))
        pivots.append(Pivot(node, neighbours))
    return tuple(pivots)
