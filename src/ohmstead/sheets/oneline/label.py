"""Small blocks of lettering: rows of words and signs, measured before they are drawn."""

from collections.abc import Iterable
from typing import NamedTuple

from .marks import Sign, draw_sign, sign_width
from .scene import Area, Group, Text
from .text import BODY, LINE, LONGEST, PLACE_EM, RISE, text_width

SPACE = 1.6 * BODY * PLACE_EM  # between two items of a row
FULL = LONGEST * BODY * PLACE_EM
TAB = 1.9  # width of the small flag before a tie's letter


class Word(NamedTuple):
    """A text in a row; `what` as in scene.Text."""

    text: str
    what: str
    weight: str = ""


class Tab(NamedTuple):
    """A small flag with the letter of a tie."""

    text: str


Item = Word | Sign | Tab
Row = tuple[Item, ...]


class Label(NamedTuple):
    """Rows of lettering with their size."""

    rows: tuple[Row, ...] = ()
    width: float = 0.0

    @property
    def height(self) -> float:
        """Height of all rows."""
        return LINE * len(self.rows)


def label(rows: Iterable[Row]) -> Label:
    """Measure rows."""
    kept = tuple(row for row in rows if row)
    return Label(kept, max((row_width(row) for row in kept), default=0.0))


def row_width(row: Row) -> float:
    """Width of a row with a space between its items."""
    return sum(_width(item) for item in row) + SPACE * (len(row) - 1)


def _width(item: Item) -> float:
    if isinstance(item, Word):
        return text_width(item.text)
    return sign_width(item) if isinstance(item, Sign) else TAB + text_width(item.text)


def flowed(items: Iterable[Item], most: float = FULL) -> list[Row]:
    """Items in as few rows as fit a width; an item too wide has a row of its own."""
    rows: list[list[Item]] = []
    taken = most
    for item in items:
        wide = _width(item)
        if rows and taken + SPACE + wide <= most:
            rows[-1].append(item)
            taken += SPACE + wide
        else:
            rows.append([item])
            taken = wide
    return [tuple(row) for row in rows]


def draw_label(group: Group, block: Label, x: float, top: float, anchor: str = "start") -> None:
    """Draw a label below `top`; x is its left edge, middle or right edge as `anchor` says."""
    for number, row in enumerate(block.rows):
        base = top + LINE * number + RISE * BODY + 0.3
        left = x - {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor] * row_width(row)
        for item in row:
            if isinstance(item, Word):
                group.marks.append(Text(left, base, item.text, item.what, BODY, item.weight))
            elif isinstance(item, Sign):
                draw_sign(group, item, left, base)
            else:
                _draw_tab(group, item, left, base)
            left += _width(item) + SPACE


def _draw_tab(group: Group, tab: Tab, x: float, base: float) -> None:
    low, high = base + 0.1, base - 1.6
    tip = (x + 1.5, (low + high) / 2)
    group.marks.append(Area(((x, low), (x, high), tip), "", 0.2))
    group.marks.append(Text(x + TAB, base, tab.text, "tab"))
