"""Signs for parts after the descriptions of IEC 60617, from memory, in our own hand.

Each is drawn around the point (x, y) where the line goes through it.
"""

from collections.abc import Callable

from ...site.kinds import Charger, Converter, Device
from .scene import Area, Disc, Group, Line, Text
from .text import SMALL

THIN = 0.2
PEN = 0.3
FUSE = (5.0, 2.0)
SIZE = {
    "battery": (10.0, 8.6),
    "charger": (15.5, 6.4),
    "switch": (8.0, 4.0),
    "low-voltage disconnect": (8.0, 9.2),
    "converter": (8.6, 6.4),
    "device": (5.0, 4.0),
    "busbar": (1.2, 0.0),
    "distribution": (5.0, 0.0),
    "ethernet power source": (5.0, 0.0),
    "flag": (3.2, 3.0),
}
"""Width and height; bars are as tall as their runs need."""
HEADER = {"ethernet power source": 4.2}
"""Room at the top of a bar for its own sign."""
WAVE = ((-1.5, 0.0), (-1.1, -0.7), (-0.7, -0.8), (-0.3, -0.4), (0.3, 0.4), (0.7, 0.8), (1.1, 0.7), (1.5, 0.0))
Part = object


def draw_symbol(group: Group, kind: str, part: Part, x: float, y: float) -> None:
    """The sign of a part that is no bar."""
    SIGNS.get(kind, _device)(group, part, x, y)


def _battery(group: Group, part: Part, x: float, y: float) -> None:
    """Long thin strokes are positive, short ones negative; more than one cell is meant. Negative below."""
    group.box((x - 5.0, y - 3.2, x + 5.0, y + 3.2), "paper", PEN)
    for left in (-2.6, 1.5):
        group.line((x + left, y - 1.0), (x + left, y + 1.0), width=0.55)
        group.line((x + left + 1.1, y - 2.3), (x + left + 1.1, y + 2.3), width=THIN)
    group.line((x - 1.5, y), (x + 1.5, y), width=THIN, dash="0.7 0.6")
    group.line((x - 5.0, y), (x - 2.6, y), width=PEN)
    group.line((x + 2.6, y), (x + 5.0, y), width=PEN)
    negative(group, x, y + 3.2)


def negative(group: Group, x: float, y: float) -> None:
    """The common negative, hung below a point."""
    group.line((x, y), (x, y + 1.3), width=THIN)
    group.line((x - 1.4, y + 1.4), (x + 1.4, y + 1.4), width=0.5)


def _charger(group: Group, part: Part, x: float, y: float) -> None:
    """What drives it, and a converter box."""
    supply = part.supply if isinstance(part, Charger) else ""
    left = x - 4.75
    if supply == "sun":
        group.box((left - 3.0, y - 2.2, left + 3.0, y + 2.2), "paper", PEN)
        group.line((left - 3.0, y - 2.2), (left, y + 0.4), (left + 3.0, y - 2.2), width=THIN)
        for at in (-1.9, 0.1):
            _ray(group, left + at, y - 4.6)
    else:
        group.marks.append(Disc(left, y, 2.4, "paper", PEN))
        if supply == "mains":
            group.line(*((left + dx, y + dy) for dx, dy in WAVE), width=PEN)
        else:
            group.marks.append(Text(left, y + 0.62, "G", "sign", SMALL, "bold", "middle"))
        if supply == "vehicle":
            group.box((left - 2.9, y - 2.9, left + 2.9, y + 2.9), "", THIN)
    group.line((left + (3.0 if supply == "sun" else 2.4), y), (x + 1.2, y), width=PEN)
    _box_with_diagonal(group, x + 4.45, y, 6.5, 6.0)


def _ray(group: Group, x: float, y: float) -> None:
    group.line((x, y), (x + 1.3, y + 1.7), width=THIN)
    tip = (x + 1.5, y + 2.0)
    group.marks.append(Area((tip, (x + 0.65, y + 1.45), (x + 1.35, y + 0.95)), "ink", 0.05))


def _box_with_diagonal(group: Group, x: float, y: float, width: float, height: float) -> None:
    group.box((x - width / 2, y - height / 2, x + width / 2, y + height / 2), "paper", PEN)
    group.line((x - width / 2, y + height / 2), (x + width / 2, y - height / 2), width=THIN)


def _converter(group: Group, part: Part, x: float, y: float) -> None:
    """A box with a diagonal and the direct-current sign on both sides; two diagonals when isolated."""
    _box_with_diagonal(group, x, y, 8.6, 6.4)
    if isinstance(part, Converter) and part.isolated == "yes":
        group.line((x - 4.3, y + 2.2), (x + 3.2, y - 3.2), width=THIN)
        negative(group, x + 2.6, y + 3.2)
    for dx, dy in ((-2.3, -1.6), (2.3, 1.7)):
        group.line((x + dx - 1.0, y + dy), (x + dx + 1.0, y + dy), width=THIN)
        group.line((x + dx - 1.0, y + dy + 0.6), (x + dx + 1.0, y + dy + 0.6), width=THIN, dash="0.5 0.25")


def _switch(group: Group, part: Part, x: float, y: float) -> None:
    """A blade on its pivot; drawn open, as is the custom, however it stands."""
    group.line((x - 4.0, y), (x - 2.0, y), width=PEN)
    group.line((x - 2.0, y), (x + 1.7, y - 2.0), width=0.4)
    group.line((x + 2.0, y), (x + 4.0, y), width=PEN)
    group.marks.append(Disc(x - 2.0, y, 0.45, "ink", 0.1))
    group.marks.append(Disc(x + 2.0, y, 0.45, "paper", THIN))


def _disconnect(group: Group, part: Part, x: float, y: float) -> None:
    """A switch worked by a box that watches for low voltage."""
    _switch(group, part, x, y)
    group.line((x - 0.2, y - 1.0), (x - 0.2, y - 3.2), width=THIN, dash="0.6 0.4")
    group.box((x - 2.2, y - 6.2, x + 1.8, y - 3.2), "paper", THIN)
    group.marks.append(Text(x - 0.2, y - 4.1, "U<", "sign", SMALL, "", "middle"))


def _device(group: Group, part: Part, x: float, y: float) -> None:
    """A box for whatever takes power; with the sign of a network plug when it is fed through one."""
    group.box((x - 2.5, y - 2.0, x + 2.5, y + 2.0), "paper", PEN)
    if isinstance(part, Device) and part.over != "wire":
        plug(group, x, y)


def plug(group: Group, x: float, y: float) -> None:
    """The sign of network power: the outline of a plug."""
    shape = ((-1.4, -1.1), (1.4, -1.1), (1.4, 0.6), (0.7, 0.6), (0.7, 1.2), (-0.7, 1.2), (-0.7, 0.6), (-1.4, 0.6))
    group.marks.append(Area(tuple((x + dx, y + dy) for dx, dy in shape), "", THIN))


def fuse(group: Group, kind: str, x: float, y: float) -> None:
    """A rectangle with the line through it; a breaker is a blade with a cross at its contact."""
    if kind == "breaker":
        group.marks.append(
            Area(((x - 1.8, y - 0.7), (x + 1.8, y - 0.7), (x + 1.8, y + 0.7), (x - 1.8, y + 0.7)), "paper", 0.0)
        )
        group.line((x - 2.3, y), (x - 1.8, y), width=PEN)
        group.line((x - 1.8, y), (x + 1.3, y - 0.95), width=0.35)
        for dy in (-0.6, 0.6):
            group.line((x + 1.2, y - dy), (x + 2.4, y + dy), width=THIN)
        return
    group.box((x - FUSE[0] / 2, y - FUSE[1] / 2, x + FUSE[0] / 2, y + FUSE[1] / 2), "", PEN)


def flag(group: Group, x: float, y: float) -> None:
    """The end of a line that goes on elsewhere."""
    group.marks.append(
        Area(((x - 1.6, y - 1.2), (x, y - 1.2), (x + 1.6, y), (x, y + 1.2), (x - 1.6, y + 1.2)), "paper", THIN)
    )


def arrow_back(group: Group, x: float, y: float) -> None:
    """A head on a line along which energy comes from the right."""
    group.marks.append(Area(((x - 1.0, y), (x + 1.0, y - 0.8), (x + 1.0, y + 0.8)), "ink", 0.1))


SIGNS: dict[str, Callable[[Group, Part, float, float], None]] = {
    "battery": _battery,
    "charger": _charger,
    "converter": _converter,
    "switch": _switch,
    "low-voltage disconnect": _disconnect,
    "device": _device,
}


def dot(x: float, y: float) -> Disc:
    """Where lines join."""
    return Disc(x, y, 0.5, "ink", 0.1)


def stroke(x: float, top: float, bottom: float, width: float) -> Line:
    """An upright line."""
    return Line(((x, top), (x, bottom)), width)
