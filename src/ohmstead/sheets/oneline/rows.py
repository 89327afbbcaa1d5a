"""How high everything stands: one row a branch in file order, parents in the middle of what they feed."""

from collections.abc import Iterator

from .node import Node
from .symbols import HEADER

ROW = 1.0  # air between rows
END = 2.3  # a bar reaches this far beyond its outermost lines
AIR = 0.6


def stand(root: Node) -> float:
    """Give every node of a frame its height; returns the frame's. [mm]"""
    bottom = _stack(root, 0.0)
    trunk = list(trunk_of(root))
    low = max(node.y + max(node.down, END) for node in trunk) + ROW
    for node in trunk:
        for first in node.left:
            low = _stand_chain(first, low)
            if node.manner == "hub":
                node.bar = node.bar[0], max(node.bar[1], first.y + END)
    return max(bottom, low - ROW)


def trunk_of(root: Node) -> Iterator[Node]:
    """The nodes from the root up to the first that branches."""
    yield root
    while len(root.children) == 1:
        root = root.children[0]
        yield root


def chain_of(first: Node) -> list[Node]:
    """A left-standing chain, from the trunk outwards."""
    chain = [first]
    while chain[-1].left:
        chain.append(chain[-1].left[0])
    return chain


def _stack(node: Node, top: float) -> float:
    """Place a node and all below it under `top`; returns where its band ends."""
    low = top
    for child in node.children:
        low = _stack(child, low) + ROW
    node.y = (node.children[0].y + node.children[-1].y) / 2 if node.children else top + node.up
    up, end = node.up, node.y + node.down
    if node.manner == "hub":
        _set_bar(node)
        up, end = max(up, node.y - node.head_top), max(end, node.bar[1])
    lacking = max(0.0, top - (node.y - up))
    if lacking:
        _shift(node, lacking)
    return max(low - ROW, end) + lacking


def _set_bar(node: Node) -> None:
    """The ends of a hub's bar, and where its lettering begins: above the bar and above its run's lettering."""
    heights = [node.y, *(child.y for child in node.children)]
    node.bar = min(heights) - END - HEADER.get(node.kind, 0.0), max(heights) + END
    over_run = node.y - node.up if node.run_head.rows else node.y
    node.head_top = min(node.bar[0] - AIR, over_run - AIR) - node.head.height


def _shift(node: Node, by: float) -> None:
    for each in node.upright():
        each.y += by
        each.bar = each.bar[0] + by, each.bar[1] + by
        each.head_top += by


def _stand_chain(first: Node, top: float) -> float:
    """Place a chain of sources below `top`; returns where the next may begin."""
    chain = chain_of(first)
    for node in chain:
        node.y = 0.0
        if node.manner == "hub":
            _set_bar(node)
    up = max(max(node.up, -node.head_top if node.manner == "hub" else 0.0) for node in chain)
    down = max(max(node.down, node.bar[1] if node.manner == "hub" else 0.0) for node in chain)
    for node in chain:
        node.y = top + up
        if node.manner == "hub":
            _set_bar(node)
    return top + up + down + ROW
