"""From a site to the trees of its drawing: who feeds whom, in file order; what closes a ring becomes a tie."""

from collections import deque
from collections.abc import Iterable

from ...network.points import TWO_SIDED, Map
from ...site.kinds import Charger
from ...site.model import Battery, Run, Site
from . import words
from .node import Node

Edge = tuple[str, str, Run]


def trees_of(site: Site, found: Map) -> list[Node]:
    """The trees of a site; every part is in exactly one, every run is a line or a tie."""
    edges = [_edge(site, way.run, way.turned) for way in found.ways]
    nodes = {name: Node(name, "battery") for name in site.batteries}
    nodes |= {name: Node(name, str(getattr(part, "kind", "part"))) for name, part in site.parts.items()}
    roots, ties = _forest(site, nodes, edges)
    roots = _lean_left(site, roots, ties)
    _hang_ties(nodes, ties)
    for node in nodes.values():
        node.children.sort(key=lambda child: child.run.number if child.run else 0)
    return roots + _data_lines(site, nodes)


def _edge(site: Site, run: Run, turned: bool) -> Edge:
    """A run from the part that gives to the one that takes."""
    a, b = run.start.part, run.end.part
    ends = [site.batteries.get(name) or site.parts.get(name) for name in (a, b)]
    if any(isinstance(part, TWO_SIDED) for part in ends):
        return a, b, run  # those have an input and an output: the way it is written is the way it goes
    gives = turned
    if isinstance(ends[1], Charger | Battery) and not isinstance(ends[0], Charger | Battery):
        gives = isinstance(ends[1], Charger) or turned
    elif isinstance(ends[0], Charger | Battery):
        gives = False
    return (b, a, run) if gives else (a, b, run)


def _forest(site: Site, nodes: dict[str, Node], edges: list[Edge]) -> tuple[list[Node], list[Edge]]:
    """Breadth first from batteries, chargers, then whatever nothing feeds."""
    out: dict[str, list[Edge]] = {name: [] for name in nodes}
    fed: set[str] = set()
    for edge in edges:
        if edge[2].wires != "negative":
            out[edge[0]].append(edge)
            fed.add(edge[1])
    chargers = [name for name, part in site.parts.items() if isinstance(part, Charger)]
    starts = [*site.batteries, *chargers, *(name for name in nodes if name not in fed), *nodes]
    reached: set[str] = set()
    used: set[int] = set()
    roots = []
    for start in starts:
        if start in reached:
            continue
        reached.add(start)
        roots.append(nodes[start])
        queue = deque([start])
        while queue:
            name = queue.popleft()
            for _, other, run in out[name]:
                if other not in reached:
                    reached.add(other)
                    used.add(run.number)
                    nodes[other].run = run
                    nodes[name].children.append(nodes[other])
                    queue.append(other)
    return roots, [edge for edge in edges if edge[2].number not in used]


def _lean_left(site: Site, roots: list[Node], ties: list[Edge]) -> list[Node]:
    """Sources that feed into the trunk of a tree stand on its left; the rest stay trees of their own."""
    by_name = {node.name: node for root in roots for node in root.every()}
    kept: list[Node] = []
    for root in roots:
        chain = _chain(root)
        names = {node.name for node in chain}
        leaving = [tie for tie in ties if tie[0] in names or tie[1] in names]
        joins = [tie for tie in leaving if tie[0] == chain[-1].name and tie[1] not in names]
        if len(leaving) != 1 or not joins or root.kind not in ("battery", "charger"):
            kept.append(root)
            continue
        tie = joins[0]
        target = by_name[tie[1]]
        if target.name in _trunk(kept, ties):
            target.left.append(_mirrored(chain, tie[2]))
        elif len(chain) == 1 and not isinstance(site.parts.get(target.name), TWO_SIDED) and kept:
            root.run, root.flow = tie[2], "back"
            target.children.append(root)
        else:
            kept.append(root)
            continue
        ties.remove(tie)
    return kept


def _chain(root: Node) -> list[Node]:
    """The parts of a tree without branches; of any other tree its root only."""
    chain = [root]
    while len(chain[-1].children) == 1:
        chain.append(chain[-1].children[0])
    return chain if not chain[-1].children else [root]


def _trunk(roots: Iterable[Node], ties: list[Edge]) -> set[str]:
    """Parts with nothing but single lines between them and the root of their tree."""
    trunk = set()
    for root in roots:
        node = root
        trunk.add(node.name)
        while len(node.children) == 1 and not any(tie[0] == node.name for tie in ties):
            node = node.children[0]
            trunk.add(node.name)
    return trunk


def _mirrored(chain: list[Node], last: Run) -> Node:
    """The chain hung up by its end: each part's `run` leads on towards the trunk."""
    run = last
    for node in reversed(chain):
        node.children, (node.run, run) = [], (run, node.run or run)
    for before, node in zip(chain, chain[1:], strict=False):
        node.left.append(before)
    return chain[-1]


def _hang_ties(nodes: dict[str, Node], ties: list[Edge]) -> None:
    """A line that ends in a flag where a tie starts, and the same letter where it arrives."""
    for number, (start, end, run) in enumerate(sorted(ties, key=lambda tie: tie[2].number), 1):
        letter = words.TIE.format(number=number)
        nodes[start].children.append(Node(end, "flag", run, tabs=[letter]))
        nodes[end].tabs.append(letter)


def _data_lines(site: Site, nodes: dict[str, Node]) -> list[Node]:
    """Data cables stand by themselves, a flag at both ends, so that they disturb no power line."""
    lines = []
    for number, run in enumerate((run for run in site.runs if run.carries == "data"), 1):
        letter = words.SIGNAL.format(number=number)
        for end in (run.start, run.end):
            nodes[end.part].tabs.append(letter)
        far = Node(run.end.part, "flag", run, tabs=[letter])
        lines.append(Node(run.start.part, "flag", None, [far], tabs=[letter]))
    return lines
