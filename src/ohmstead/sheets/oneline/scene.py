"""What a drawn sheet is made of, before it becomes SVG or DXF: lines, areas, discs, texts, in named groups.

Lengths are millimetres on the unscaled sheet, y grows downwards; a text's y is its base line.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import NamedTuple

from .text import BODY, text_width

Point = tuple[float, float]
Box = tuple[float, float, float, float]
"""Left, top, right, bottom."""


class Line(NamedTuple):
    """An open line through points; `dash` is a pattern of strokes and gaps."""

    points: tuple[Point, ...]
    width: float = 0.25
    dash: str = ""


class Area(NamedTuple):
    """A closed shape; `fill` is "", "ink" or "paper"."""

    points: tuple[Point, ...]
    fill: str = ""
    width: float = 0.25


class Disc(NamedTuple):
    """A circle; `fill` as in Area."""

    x: float
    y: float
    r: float
    fill: str = ""
    width: float = 0.25


class Text(NamedTuple):
    """One line of lettering; `what` says what kind of text it is, such as "volts" or "name"."""

    x: float
    y: float
    text: str
    what: str
    size: float = BODY
    weight: str = ""
    anchor: str = "start"

    @property
    def box(self) -> Box:
        """The paper it covers."""
        width = text_width(self.text, self.size, self.weight)
        left = self.x - {"start": 0.0, "middle": 0.5, "end": 1.0}[self.anchor] * width
        return left, self.y - 0.78 * self.size, left + width, self.y + 0.24 * self.size


Mark = Line | Area | Disc | Text


@dataclass(slots=True)
class Group:
    """Marks that belong together. `what` is "wire", "symbol", "mark", "note" or "frame"."""

    id: str
    what: str
    title: str = ""
    ink: str = ""
    marks: list[Mark] = field(default_factory=list)
    groups: list["Group"] = field(default_factory=list)

    def line(self, *points: Point, width: float = 0.25, dash: str = "") -> None:
        """Add an open line."""
        self.marks.append(Line(points, width, dash))

    def box(self, box: Box, fill: str = "", width: float = 0.25) -> None:
        """Add an upright rectangle."""
        left, top, right, bottom = box
        self.marks.append(Area(((left, top), (right, top), (right, bottom), (left, bottom)), fill, width))

    def within(self) -> Iterator[tuple["Group", Mark]]:
        """Every mark in it, however deep, with its own group."""
        for mark in self.marks:
            yield self, mark
        for group in self.groups:
            yield from group.within()


@dataclass(slots=True)
class Page:
    """One drawing sheet; `scale` turns its lengths into those on paper."""

    number: int
    width: float
    height: float
    scale: float
    groups: list[Group] = field(default_factory=list)


def box_of(mark: Mark) -> Box:
    """The paper that a mark covers, half of its line's width included."""
    if isinstance(mark, Text):
        return mark.box
    if isinstance(mark, Disc):
        reach = mark.r + mark.width / 2
        return mark.x - reach, mark.y - reach, mark.x + reach, mark.y + reach
    half = mark.width / 2
    xs, ys = [x for x, _ in mark.points], [y for _, y in mark.points]
    return min(xs) - half, min(ys) - half, max(xs) + half, max(ys) + half
