"""How far right everything stands: a column a step from source to load, the loads in the last one."""

from dataclasses import dataclass, field

from .node import Node

LANE = 3.0  # room for an upright line where several runs leave or arrive
PAD = 1.8
LEAST_RUN = 9.0  # a run's line is at least this long: a fuse and some wire
HEAD_BACK = 1.0  # the lettering of a bar ends this far left of its right edge
BESIDE = 1.0  # between a sign and the lettering beside it


@dataclass(slots=True)
class Columns:
    """Left edge and width of every column, and the lanes left and right of the lettering between them."""

    left: list[float] = field(default_factory=list)
    width: list[float] = field(default_factory=list)
    out: list[float] = field(default_factory=list)  # lane behind column c
    into: list[float] = field(default_factory=list)  # lane before column c + 1

    @property
    def total(self) -> float:
        """Width of all columns."""
        return self.left[-1] + self.width[-1]

    def right(self, column: int) -> float:
        """Right edge of a column."""
        return self.left[column] + self.width[column]


def stand_apart(root: Node) -> Columns:
    """Give every node of a frame its column and its place in it."""
    _number(root)
    nodes = root.every()
    last = max(node.column for node in nodes)
    for node in nodes:
        if node.manner == "beside" and node is not root:
            node.column = last
    made = Columns(width=[0.0] * (last + 1), out=[PAD] * last, into=[PAD] * last)
    for node in nodes:
        made.width[node.column] = max(made.width[node.column], node_width(node))
        if node.manner != "hub" and len(node.children) > 1:
            made.out[node.column] = LANE
        if node.manner != "hub" and node.left:
            made.into[node.column - 1] = LANE
    gaps = _gaps(nodes, made)
    edge = max((_overhang(node, made.width[0]) for node in nodes if node.column == 0), default=0.0)
    for column, width in enumerate(made.width):
        made.left.append(edge)
        edge += width + (gaps[column] if column < last else 0.0)
    _stretch(root, made)
    for node in nodes:
        node.x = _place(node, made)
    return made


def spread(root: Node, made: Columns, by: float) -> None:
    """Draw a frame's columns apart, all gaps alike."""
    gaps = len(made.left) - 1
    if gaps < 1 or by <= 0:
        return
    made.left = [x + by * number / gaps for number, x in enumerate(made.left)]
    for node in root.every():
        node.x += by * node.column / gaps


def node_width(node: Node) -> float:
    """Room that a node takes in its column."""
    if node.manner == "hub":
        return node.symbol[0]
    if node.manner == "centred":
        return max(node.symbol[0], node.head.width, node.foot.width)
    return node.symbol[0] + BESIDE + max(node.head.width, node.foot.width)


def run_width(node: Node) -> float:
    """Room that the lettering of a node's run takes."""
    return max(LEAST_RUN, node.run_head.width, node.run_foot.width)


def _number(root: Node) -> None:
    root.column = 0
    waiting = [root]
    for node in waiting:
        for child in node.children:
            child.column = node.column + 1
        for source in node.left:
            source.column = node.column - 1
        waiting += [*node.children, *node.left]
    least = min(node.column for node in waiting)
    for node in waiting:
        node.column -= least


def _gaps(nodes: list[Node], made: Columns) -> list[float]:
    """Room between each column and the next: the lettering of the runs there with its lanes."""
    gaps = [made.out[c] + made.into[c] + LEAST_RUN for c in range(len(made.width) - 1)]
    for node in nodes:
        c = node.column
        for child in node.children:
            if child.column == c + 1:
                gaps[c] = max(gaps[c], made.out[c] + run_width(child) + made.into[c])
        for source in node.left:
            gaps[c - 1] = max(gaps[c - 1], made.out[c - 1] + run_width(source) + made.into[c - 1])
        if c > 0:
            gaps[c - 1] = max(gaps[c - 1], LANE + _overhang(node, made.width[c]))
    return gaps


def _overhang(node: Node, width: float) -> float:
    """How far the lettering of a hub reaches left of its column."""
    if node.manner != "hub":
        return 0.0
    return max(0.0, node.head.width + HEAD_BACK - (width + node.symbol[0]) / 2 + PAD)


def _stretch(root: Node, made: Columns) -> None:
    """Where a line passes over columns, its lettering must still fit before the sign at its end."""
    for node in root.every():
        for child in node.children:
            c = node.column
            room = made.left[child.column] - made.right(c)
            lacking = made.out[c] + run_width(child) + PAD - room
            if lacking > 0:
                made.left = [x + lacking if k > c else x for k, x in enumerate(made.left)]


def _place(node: Node, made: Columns) -> float:
    left, width = made.left[node.column], made.width[node.column]
    if node.manner == "beside":
        return left + node.symbol[0] / 2
    if node.manner == "into":
        return left + width - node.symbol[0] / 2
    return left + width / 2
