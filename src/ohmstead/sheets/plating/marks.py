"""Marks that the plate's drawings share. Lengths are millimetres on paper."""

from math import cos, pi, sin

from ..oneline.scene import Area, Box, Disc, Group, Line, Text
from ..oneline.text import BODY

FINE, THIN, PLAIN, THICK = 0.13, 0.18, 0.25, 0.6
DASH = "1.6 0.9"
DOTS = "0.3 0.9"


def cross(group: Group, x: float, y: float, reach: float, width: float = THIN) -> None:
    """Two short lines through a spot."""
    group.line((x - reach, y), (x + reach, y), width=width)
    group.line((x, y - reach), (x, y + reach), width=width)


def dashed(group: Group, box: Box, width: float = THIN, dash: str = DASH) -> None:
    """An upright rectangle of broken lines."""
    left, top, right, bottom = box
    corners = ((left, top), (right, top), (right, bottom), (left, bottom), (left, top))
    group.marks.append(Line(corners, width, dash))


def zero(group: Group, x: float, y: float, size: float = 2.4) -> None:
    """The corner from which all is measured: a circle with two black quarters."""
    group.marks.append(Disc(x, y, size, "paper", PLAIN))
    for right, down in ((1, 1), (-1, -1)):
        arc = tuple(
            (x + right * size * cos(step * pi / 16), y + down * size * sin(step * pi / 16)) for step in range(9)
        )
        group.marks.append(Area(((x, y), *arc), "ink", 0))
    cross(group, x, y, size * 1.6, THIN)


def said(
    group: Group, x: float, y: float, text: str, size: float = BODY, anchor: str = "start", weight: str = ""
) -> None:
    """A text."""
    group.marks.append(Text(x, y, text, "note", size, weight, anchor))


def across(group: Group, left: float, right: float, y: float, text: str) -> None:
    """A level dimension line with strokes at its ends and its figure above the middle."""
    group.line((left, y), (right, y), width=THIN)
    for x in (left, right):
        group.line((x - 0.8, y + 0.8), (x + 0.8, y - 0.8), width=PLAIN)
    said(group, (left + right) / 2, y - 0.8, text, BODY, "middle", "bold")


def down(group: Group, top: float, bottom: float, x: float, text: str) -> None:
    """An upright dimension line; its figure stands left of the middle."""
    group.line((x, top), (x, bottom), width=THIN)
    for y in (top, bottom):
        group.line((x - 0.8, y + 0.8), (x + 0.8, y - 0.8), width=PLAIN)
    said(group, x - 0.8, top + (bottom - top) / 2 - 1.2, text, BODY, "end", "bold")
