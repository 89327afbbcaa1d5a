"""One tree laid out: its size, and cutting it where it is larger than a sheet."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from .columns import Columns, stand_apart
from .node import Node
from .rows import stand
from .text import BODY, PLACE_EM

FLAG_ROW = 9.0  # a line that ends in a flag takes about this much height
FLAG_WIDE = 26.0
MOST_CUTS = 400
WIDTHS = tuple(places * BODY * PLACE_EM for places in (30, 23, 16))
"""Width of the rows of lettering at runs to loads: the wider, the lower the drawing; the widest that fits is taken."""
Measure = Callable[[Node, float], None]
Letter = Callable[[Node], None]


@dataclass(slots=True)
class Frame:
    """A laid-out tree and the room it takes; `x`, `y` and `sheet` are set when it is put on a sheet."""

    root: Node
    columns: Columns
    width: float
    height: float
    x: float = 0.0
    y: float = 0.0
    sheet: int = 0


def frames_of(roots: list[Node], measure: Measure, width: float, height: float) -> list[Frame]:
    """Lay out trees, cut so that each frame fits a sheet of that width and height."""
    frames: list[Frame] = []
    waiting = list(roots)
    while waiting:
        root = waiting.pop(0)
        cut: list[Node] = []
        frames.append(_fitted(root, measure, width, height, cut))
        waiting = cut + waiting
    return frames


def _fitted(root: Node, measure: Measure, width: float, height: float, cut: list[Node]) -> Frame:
    """Lay out one tree; what has to go elsewhere is appended to `cut`."""
    frame, most = _widest(root, measure, width)
    letter = partial(_letter, measure=measure, most=most)
    for _ in range(MOST_CUTS):
        if frame.width > width:
            if _cut_depth(frame, width, letter, cut):
                frame, most = _widest(root, measure, width)
                letter = partial(_letter, measure=measure, most=most)
                continue
            break
        elif frame.height > height:
            changed = _cut_branch(frame, height, letter, cut) or _cut_bar(frame, height, letter, cut)
        else:
            break
        if not changed:
            break
        frame = _laid(root)
    return frame


def _widest(root: Node, measure: Measure, width: float) -> tuple[Frame, float]:
    """Lay a tree out with the widest lettering that the sheet allows."""
    for most in WIDTHS:
        for node in root.every():
            measure(node, most)
        frame = _laid(root)
        if frame.width <= width:
            break
    return frame, most


def _letter(node: Node, measure: Measure, most: float) -> None:
    measure(node, most)


def _laid(root: Node) -> Frame:
    columns = stand_apart(root)
    return Frame(root, columns, columns.total, stand(root))


def _replace(parent: Node, child: Node, letter: Letter) -> Node:
    """Put a flag where a child was; returns the new root, which begins with a flag back."""
    back = Node(parent.name, "flag", None, [child], leads_to=parent)
    flag = Node(child.name, "flag", child.run, leads_to=child, flow=child.flow)
    child.run, child.carried, child.flow = None, child.run, "on"
    parent.children = [flag if node is child else node for node in parent.children]
    letter(flag)
    letter(parent)
    return back


def _cut_depth(frame: Frame, width: float, letter: Letter, cut: list[Node]) -> bool:
    """Cut everything that grows beyond the deepest column that still fits."""
    columns = frame.columns
    parents = [(node, child) for node in frame.root.upright() for child in node.children if child.children]
    fits = [c for c in range(1, len(columns.left)) if columns.left[c] + FLAG_WIDE <= width]
    deepest = max((c for c in fits if any(child.column == c for _, child in parents)), default=0)
    chosen = [(node, child) for node, child in parents if child.column == deepest]
    if not deepest:  # even the first does not fit beside its parent: part them all the same
        first = min((child.column for _, child in parents), default=0)
        chosen = [(node, child) for node, child in parents if child.column == first]
    if all(node.is_flag for node, _ in chosen):
        return False
    cut += [_replace(node, child, letter) for node, child in chosen]
    return True


def _cut_branch(frame: Frame, height: float, letter: Letter, cut: list[Node]) -> bool:
    """Cut the smallest branch that is large enough, else the largest."""
    need = frame.height - height
    found = []
    for node in frame.root.upright():
        for child in node.children:
            saved = _band(child) - FLAG_ROW
            if child.children and saved > 0 and not node.is_flag and len(node.children) > 1:
                found.append((saved, node, child))
    if not found:
        return False
    enough = [entry for entry in found if entry[0] >= need and entry[0] + FLAG_ROW <= height]
    small = [entry for entry in found if entry[0] + FLAG_ROW <= height] or found
    _, node, child = min(enough, key=lambda entry: entry[0]) if enough else max(small, key=lambda entry: entry[0])
    cut.append(_replace(node, child, letter))
    return True


def _band(node: Node) -> float:
    """Height of a branch as it stands."""
    nodes = node.upright()
    lows = [max(n.y + n.down, n.bar[1] if n.manner == "hub" else n.y) for n in nodes]
    highs = [min(n.y - n.up, n.head_top if n.manner == "hub" else n.y) for n in nodes]
    return max(lows) - min(highs)


def _cut_bar(frame: Frame, height: float, letter: Letter, cut: list[Node]) -> bool:
    """Let the part with most runs go on elsewhere, as many as do not fit; or sources on the left of one."""
    node = max(frame.root.upright(), key=lambda n: len(n.children))
    need, moved = frame.height - height + FLAG_ROW, 0.0
    last = node.children[-1] if node.children else node
    begun = last.leads_to if last.is_flag and last.name == node.name else None
    if begun is not None:  # it goes on elsewhere already: let more of it go there
        node.children.pop()
    rest: list[Node] = []
    while node.children[1:] and moved < need:
        rest.insert(0, node.children.pop())
        moved += _band(rest[0])
    if not rest:
        node.children += [last] if begun is not None else []
        return _cut_left(frame, letter, cut)
    if begun is not None:
        begun.children[:0] = rest
        node.children.append(last)
        return True
    follow = Node(node.name, node.kind, None, rest, copy=node.copy + 1)
    flag = Node(node.name, "flag", None, leads_to=follow)
    node.children.append(flag)
    letter(flag)
    letter(node)
    cut.append(Node(node.name, "flag", None, [follow], leads_to=node))
    return True


def _cut_left(frame: Frame, letter: Letter, cut: list[Node]) -> bool:
    """Take the last source off the left side; it gets a frame of its own that ends in a flag."""
    holders = [node for node in frame.root.upright() if node.left]
    if not holders:
        return False
    holder = holders[-1]
    first = holder.left.pop()
    flag = Node(holder.name, "flag", first.run, leads_to=holder)
    first.run = None
    chain = [first]
    while chain[-1].left:
        chain.append(chain[-1].left.pop())
    for near, far in zip(chain, chain[1:], strict=False):
        near.run, far.run = far.run, None
        far.children = [near]
    first.children = [flag]
    letter(holder)
    cut.append(chain[-1])
    return True
