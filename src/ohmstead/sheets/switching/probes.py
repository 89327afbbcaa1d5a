"""Probe marks on the one-line drawing: a box with P and a number at parts, one with cut corners and C at wires."""

from collections.abc import Iterable, Iterator

from ...bench.marks import Marks
from ...network.points import TWO_SIDED
from ...site.kinds import Charger
from ..asked import Asked
from ..oneline.border import drawing_area
from ..oneline.free import Paper
from ..oneline.legend import framed
from ..oneline.names import Names
from ..oneline.scene import Area, Box, Disc, Group, Line, Page, Text, box_of
from ..oneline.text import BODY, LINE, RISE, text_width
from . import words

SIZE = 0.85 * BODY
HIGH = 2.2
CUT = 0.7
STEP = 1.0
INK = "#1d4f7a"
CLEAR = 0.15


def add_marks(pages: list[Page], asked: Asked, sharing: str, marks: Marks) -> None:
    """Put every mark beside its part or on its wire, where nothing else stands."""
    names = Names(asked.site, sharing)
    parts: dict[str, list[tuple[str, str]]] = {}
    for point, mark in marks.points.items():
        name, side = _side(asked, point)
        parts.setdefault(names.part_id(name), []).append((mark, side))
    runs = {names.run_id(run): marks.runs[run.number] for run in asked.site.runs if run.number in marks.runs}
    for page in pages:
        taken = [
            box_of(mark)
            for group in page.groups
            if group.what != "frame"
            for _, mark in group.within()
            if isinstance(mark, Text | Area | Disc)
        ]
        left, top, right, bottom = drawing_area(page.width, page.height)
        taken += [(0, 0, left, page.height), (right, 0, page.width, page.height), (0, 0, page.width, top)]
        taken.append((0, bottom, page.width, page.height))
        added = []
        for group in page.groups:
            if group.what == "wire" and group.id in runs:
                added.append(_on_wire(group, runs[group.id], taken))
            for mark, side in parts.get(group.id, ()) if group.what == "symbol" else ():
                added.append(_beside(group, mark, side, taken))
        page.groups += added
        _note(page)


def _side(asked: Asked, point: str) -> tuple[str, str]:
    """The part of a point, and on which side of it: "left", "right" or "any"."""
    for end, side in ((" in", "left"), (" out", "right")):
        name = point.removesuffix(end)
        if point.endswith(end) and isinstance(asked.site.parts.get(name), TWO_SIDED):
            return name, side
    gives = point in asked.site.batteries or isinstance(asked.site.parts.get(point), Charger)
    return point, "right" if gives else "any"


def _on_wire(group: Group, mark: str, taken: list[Box]) -> Group:
    """On the longest level stretch of the line, else above or below it."""
    lines = [line for line in group.marks if isinstance(line, Line) and len(line.points) == 2]
    stretch = max(lines, key=lambda line: abs(line.points[1][0] - line.points[0][0]))
    (x0, y), (x1, _) = sorted(stretch.points)
    wide = text_width(mark, SIZE) + 1.4
    spots = [(x, y + dy) for dy in (0.0, -HIGH, HIGH, -2 * HIGH, 2 * HIGH) for x in _along(x0, x1, wide)]
    return _drawn(mark, _free(spots or [((x0 + x1) / 2, y)], wide, taken), wide, "cut")


def _along(left: float, right: float, wide: float) -> Iterator[float]:
    """Places along a stretch, from two thirds of it outwards."""
    start, away = left + (right - left) * 2 / 3, 0.0
    while away < right - left:
        for x in (start + away, start - away):
            if left + wide / 2 <= x <= right - wide / 2:
                yield x
        away += STEP


def _beside(group: Group, mark: str, side: str, taken: list[Box]) -> Group:
    """At the pin: inputs on the line to the left, outputs on the line to the right; else around the symbol."""
    boxes = [box_of(shape) for shape in group.marks if not isinstance(shape, Text)] or [
        box_of(shape) for _, shape in group.within()
    ]
    left, top = min(b[0] for b in boxes), min(b[1] for b in boxes)
    right, bottom = max(b[2] for b in boxes), max(b[3] for b in boxes)
    wide = text_width(mark, SIZE) + 1.2
    middle = (top + bottom) / 2
    xs = {"left": [left - wide / 2 + 0.5], "right": [right + wide / 2 - 0.5], "any": [left, right, (left + right) / 2]}
    pin = right + wide / 2 + 0.4 if side == "right" else left - wide / 2 - 0.4
    spots = [(pin, middle)]
    for away in range(9):
        for x in xs[side]:
            for y in (top - HIGH / 2 - 0.3 - away * STEP, bottom + HIGH / 2 + 0.3 + away * STEP):
                spots += [(x + dx, y) for dx in (0.0, -STEP * away, STEP * away)]
    return _drawn(mark, _free(spots, wide, taken), wide, "plain")


def _free(spots: list[tuple[float, float]], wide: float, taken: list[Box]) -> tuple[float, float]:
    """The first spot that covers nothing, else the one that covers least; it is taken from now on."""
    best, least = spots[0], float("inf")
    for x, y in spots:
        covered = sum(_overlap((x - wide / 2, y - HIGH / 2, x + wide / 2, y + HIGH / 2), other) for other in taken)
        if covered < least:
            best, least = (x, y), covered
        if covered == 0.0:
            break
    x, y = best
    taken.append((x - wide / 2, y - HIGH / 2, x + wide / 2, y + HIGH / 2))
    return best


def _overlap(a: Box, b: Box) -> float:
    wide = min(a[2], b[2]) - max(a[0], b[0]) + CLEAR
    high = min(a[3], b[3]) - max(a[1], b[1]) + CLEAR
    return wide * high if wide > 0 and high > 0 else 0.0


def _drawn(mark: str, at: tuple[float, float], wide: float, shape: str) -> Group:
    group = Group(f"probe-{mark.lower()}", "mark", mark, INK)
    _tag(group, mark, at, wide, shape)
    return group


def _tag(group: Group, mark: str, at: tuple[float, float], wide: float, shape: str) -> None:
    (x, y), half, high = at, wide / 2, HIGH / 2
    left, right, top, bottom = x - half, x + half, y - high, y + high
    corners: tuple[tuple[float, float], ...] = ((left, top), (right, top), (right, bottom), (left, bottom))
    if shape == "cut":
        corners = (
            (left + CUT, top), (right - CUT, top), (right, y), (right - CUT, bottom), (left + CUT, bottom), (left, y),
        )  # fmt: skip
    group.marks.append(Area(corners, "paper", 0.25))
    group.marks.append(Text(x, y + 0.36 * SIZE, mark, "probe", SIZE, "bold", "middle"))


def _note(page: Page) -> None:
    """What the marks mean, where paper is free."""
    paper = Paper(drawing_area(page.width, page.height))
    paper.take_groups(group for group in page.groups if group.what != "frame")
    size = max(text_width(line) for line in words.PROBE_NOTE) + 4.0, 4.6 + LINE * (len(words.PROBE_NOTE) + 0.6)
    spot = paper.place(size[0] + 2.0, size[1] + 2.0)
    if spot is None:
        return
    group = Group("", "note", "", INK)
    top = framed(group, words.PROBE_TITLE, spot[0] + 1.0, spot[1] + 1.0, size)
    for line in words.PROBE_NOTE:
        group.marks.append(Text(spot[0] + 2.6, top + RISE * BODY + 0.3, line, "note"))
        top += LINE
    page.groups.append(group)


def groups_of(pages: Iterable[Page]) -> list[str]:
    """Ids of all probe marks that were drawn."""
    return [group.id for page in pages for group in page.groups if group.id.startswith("probe-")]
