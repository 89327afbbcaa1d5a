"""Draw a laid-out frame: parts with their lettering, and the lines between them, straight and square."""

from ...site.model import Run
from .columns import BESIDE, HEAD_BACK
from .figures import Figures
from .frame import Frame
from .label import draw_label
from .measure import CLEAR, TIGHT, above, below
from .node import Node
from .scene import Group, Point, Text
from .symbols import FUSE, HEADER, arrow_back, dot, draw_symbol, flag, fuse, plug
from .text import BODY

# Steps of line weight by lasting current: our own, for the eye; the legend tells them. [A, mm]
WEIGHTS = ((0.0, 0.25), (3.0, 0.4), (10.0, 0.6), (30.0, 0.85), (100.0, 1.15))
LEAD = 1.5  # an upright line stands in the middle of its lane
PAIR = 0.35  # half the distance of the two strokes of a network cable
DASH = "1.6 1.1"


def weight_of(current_a: float) -> float:
    """Width of a line that carries a current. [mm]"""
    return next(width for least, width in reversed(WEIGHTS) if current_a >= least)


class Router:
    """Draws one frame after the other with the lettering of one study."""

    def __init__(self, figures: Figures) -> None:
        self.figures = figures

    def draw(self, frame: Frame) -> list[Group]:
        """All groups of a frame, lines first, so that signs lie on top of them."""
        wires, parts = [], []
        for node in frame.root.every():
            for child in node.children:
                wires.append(self._line(frame, node, child))
            for source in node.left:
                wires.append(self._line_left(frame, node, source))
            parts.append(self._part(frame, node))
        return wires + parts

    def _weight(self, run: Run | None) -> float:
        return weight_of(self.figures.sustained_a(run))

    def _part(self, frame: Frame, node: Node) -> Group:
        names, x, y = self.figures.names, frame.x + node.x, frame.y + node.y
        if node.is_flag:
            return self._flag(node, x, y)
        suffix = f"--{node.copy}" if node.copy > 1 else ""
        group = Group(names.part_id(node.name) + suffix, "symbol", names.part(node.name))
        self._joints(group, frame, node)
        if node.manner == "hub":
            self._bar(group, frame, node)
            return group
        site = self.figures.asked.site
        draw_symbol(group, node.kind, site.batteries.get(node.name) or site.parts[node.name], x, y)
        if node.manner == "beside":
            left, top = x + node.symbol[0] / 2 + BESIDE, y - (node.head.height + node.foot.height) / 2
            draw_label(group, node.head, left, top)
            draw_label(group, node.foot, left, top + node.head.height)
        else:
            top = y - above(node, self.figures) - TIGHT - node.head.height
            draw_label(group, node.head, x, top, "middle")
            draw_label(group, node.foot, x, y + below(node, self.figures) + TIGHT, "middle")
        return group

    def _flag(self, node: Node, x: float, y: float) -> Group:
        group = Group("", "symbol")
        flag(group, x, y)
        top = y - node.head.height / 2
        if node.manner == "into":
            draw_label(group, node.head, x - node.symbol[0] / 2 - BESIDE, top, "end")
        else:
            draw_label(group, node.head, x + node.symbol[0] / 2 + BESIDE, top)
        return group

    def _bar(self, group: Group, frame: Frame, node: Node) -> None:
        x, half = frame.x + node.x, node.symbol[0] / 2
        top, bottom = frame.y + node.bar[0], frame.y + node.bar[1]
        if node.kind == "busbar":
            group.box((x - half, top, x + half, bottom), "ink", 0.0)
        else:
            group.box((x - half, top, x + half, bottom), "paper", 0.55)
            for child in node.children:
                self._way(group, node, child, x, frame.y + child.y)
        header = HEADER.get(node.kind, 0.0)
        if header:
            plug(group, x, top + header / 2)
            group.line((x - half, top + header), (x + half, top + header), width=0.2)
        draw_label(group, node.head, x + half - HEAD_BACK, frame.y + node.head_top, "end")

    def _way(self, group: Group, node: Node, child: Node, x: float, y: float) -> None:
        run = child.run
        ends = () if run is None else (run.start, run.end)
        for end in ends:
            if end.part == node.name and end.way is not None:
                group.marks.append(Text(x, y + 0.36 * BODY, str(end.way), "way", BODY, "", "middle"))

    def _joints(self, group: Group, frame: Frame, node: Node) -> None:
        """The upright lines where several runs leave a part, or sources arrive at it."""
        if node.manner == "hub":
            return
        y, half = frame.y + node.y, node.symbol[0] / 2
        if len(node.children) > 1:
            x = frame.x + frame.columns.right(node.column) + LEAD
            heights = [frame.y + child.y for child in node.children]
            width = max(self._weight(child.run or child.carried) for child in node.children)
            group.line((frame.x + node.x + half, y), (x, y), width=width)
            group.line((x, heights[0]), (x, heights[-1]), width=width)
            group.marks += [dot(x, at) for at in sorted({y, *heights[1:-1]})]
        if node.left:
            x = frame.x + frame.columns.left[node.column] - LEAD
            lowest = max(frame.y + source.y for source in node.left)
            width = max(self._weight(source.run) for source in node.left)
            group.line((frame.x + node.x - half, y), (x, y), width=width)
            group.line((x, y), (x, lowest), width=width)
            joins = [frame.y + source.y for source in node.left if frame.y + source.y < lowest]
            group.marks += [dot(x, at) for at in ([y] if node.run or node.carried else []) + joins]

    def _line(self, frame: Frame, node: Node, child: Node) -> Group:
        y, lanes = frame.y + child.y, frame.columns
        start = frame.x + node.x + node.symbol[0] / 2
        if node.manner != "hub" and len(node.children) > 1:
            start = frame.x + lanes.right(node.column) + LEAD
        end = frame.x + child.x - child.symbol[0] / 2
        if child.left and child.manner != "hub":
            end = frame.x + lanes.left[child.column] - LEAD
        label = frame.x + lanes.right(node.column) + lanes.out[node.column]
        return self._run(child, child.name, (start, y), (end, y), label)

    def _line_left(self, frame: Frame, node: Node, source: Node) -> Group:
        y, lanes = frame.y + source.y, frame.columns
        start, end = frame.x + source.x + source.symbol[0] / 2, frame.x + node.x - node.symbol[0] / 2
        if node.manner != "hub":
            end = frame.x + lanes.left[node.column] - LEAD
        label = frame.x + lanes.right(source.column) + lanes.out[source.column]
        return self._run(source, node.name, (start, y), (end, y), label)

    def _run(self, node: Node, right: str, start: Point, end: Point, label: float) -> Group:
        """A run's line with its fuse and lettering; `right` is the part at its right end."""
        run, y = node.run, start[1]
        if run is None:
            group = Group("", "wire")
            self._stroke(group, node.carried, start, end)
            return group
        group = Group(self.figures.names.run_id(run), "wire", self.figures.names.run(run))
        self._stroke(group, run, start, end)
        if run.fuse is not None:
            fuse(group, run.fuse.family.kind, _fuse_x(node, run, right, label), y)
        if node.flow == "back":
            arrow_back(group, end[0] - 3.0, y)
        draw_label(group, node.run_head, label, y - CLEAR - node.run_head.height)
        draw_label(group, node.run_foot, label, y + CLEAR)
        return group

    def _stroke(self, group: Group, run: Run | None, start: Point, end: Point) -> None:
        if run is not None and run.carries == "data":
            group.line(start, end, width=0.25, dash=DASH)
        elif run is not None and run.cable is not None:
            for dy in (-PAIR, PAIR):
                group.line((start[0], start[1] + dy), (end[0], end[1] + dy), width=0.2)
        else:
            group.line(start, end, width=self._weight(run))


def _fuse_x(node: Node, run: Run, right: str, label: float) -> float:
    """At the end of the lettering that is nearer to where the fuse sits; runs may be written leftwards."""
    far = run.fuse_at_m is not None and run.fuse_at_m > run.length_m / 2
    width = max(node.run_head.width, node.run_foot.width, FUSE[0] + 4.0)
    return label + width - FUSE[0] / 2 if far != (run.start.part == right) else label + FUSE[0] / 2
