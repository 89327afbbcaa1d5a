"""Signs on labels, in lines of our own.

The warning triangles follow what ISO 7010 says of W001 (general warning: exclamation mark) and W012 (electricity:
an arrow in zigzag) in words; proportions are ours. From memory. In black on white they are signs for the builder's
own door, not certified safety signs.
"""

from collections.abc import Callable
from math import cos, pi, sin

from ..oneline.scene import Area, Box, Disc, Line, Mark, Point, Text
from ..oneline.text import RISE, text_width

CENTRE = {"centre positive": ("+", "-"), "centre negative": ("-", "+"), "centre unknown": ("?", "?")}
BOLT = (
    (0.54, 0.30),
    (0.36, 0.60),
    (0.49, 0.60),
    (0.43, 0.80),
    (0.38, 0.77),
    (0.41, 0.92),
    (0.52, 0.82),
    (0.47, 0.81),
    (0.61, 0.54),
    (0.48, 0.54),
    (0.60, 0.30),
)
STROKE = ((0.455, 0.36), (0.545, 0.36), (0.525, 0.70), (0.475, 0.70))


def sign(name: str, box: Box) -> list[Mark]:
    """A sign in a box: "general", "electricity", "centre positive", ..., or any other text as a large number."""
    if name in CENTRE:
        return polarity(CENTRE[name], box)
    drawn: dict[str, Callable[[Box], list[Mark]]] = {"general": general, "electricity": electricity}
    return drawn[name](box) if name in drawn else number(name, box)


def number(text: str, box: Box) -> list[Mark]:
    """A text as large as the box allows."""
    left, top, right, bottom = box
    size = min((bottom - top) / 1.02, (right - left) / text_width(text, 1.0))
    return [Text((left + right) / 2, (top + bottom) / 2 + size * (RISE - 0.51), text, "way", size, "bold", "middle")]


def general(box: Box) -> list[Mark]:
    """General warning: a triangle with an exclamation mark."""
    side, to = _placed(box)
    dot = Disc(*to((0.5, 0.80)), 0.052 * side, "ink", 0.0)
    return [*_triangle(side, to), Area(tuple(map(to, STROKE)), "ink", 0.0), dot]


def electricity(box: Box) -> list[Mark]:
    """Electricity: a triangle with an arrow in zigzag."""
    side, to = _placed(box)
    return [*_triangle(side, to), Area(tuple(map(to, BOLT)), "ink", 0.0)]


def polarity(signs: tuple[str, str], box: Box) -> list[Mark]:
    """A barrel plug from its front: centre and sleeve, each with its sign."""
    left, top, right, bottom = box
    r = min((right - left) / 9.0, (bottom - top) / 3.0)
    x, y, pen = (left + right) / 2, (top + bottom) / 2, r * 0.16
    arc = tuple((x + 1.2 * r * cos(a), y + 1.2 * r * sin(a)) for a in (pi * (-0.78 + 1.56 * k / 24) for k in range(25)))
    marks: list[Mark] = [
        Line(arc, pen * 1.6),
        Disc(x, y, 0.5 * r, "ink", 0.0),
        Line(((x, y), (x - 2.3 * r, y)), pen),
        Line(((x + 1.2 * r, y), (x + 2.3 * r, y)), pen),
    ]
    for text, at in zip(signs, (x - 3.3 * r, x + 3.3 * r), strict=True):
        marks += [Disc(at, y, r, "", pen), *_polarity_sign(text, (at, y), r)]
    return marks


def _polarity_sign(text: str, at: Point, r: float) -> list[Mark]:
    x, y = at
    if text == "?":
        return [Text(x, y + 0.5 * r, text, "mark", 1.4 * r, "bold", "middle")]
    bars: list[Mark] = [Line(((x - 0.55 * r, y), (x + 0.55 * r, y)), 0.22 * r)]
    return bars + [Line(((x, y - 0.55 * r), (x, y + 0.55 * r)), 0.22 * r)] * (text == "+")


def _triangle(side: float, to: Callable[[Point], Point]) -> list[Mark]:
    pen = 0.07
    corners = ((0.5, pen), (1 - pen, 1 - pen), (pen, 1 - pen))
    return [Area(tuple(map(to, corners)), "paper", pen * side)]


def _placed(box: Box) -> tuple[float, Callable[[Point], Point]]:
    """Side of the largest square in a box, and a function that puts unit points into it, y squeezed to a triangle."""
    left, top, right, bottom = box
    side = min(right - left, (bottom - top) / 0.9)
    x, y = (left + right - side) / 2, (top + bottom - 0.9 * side) / 2
    return side, lambda point: (x + side * point[0], y + 0.9 * side * point[1])
