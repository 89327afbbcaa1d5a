"""Text into a box: the largest lettering with which every word fits; cut only at the smallest."""

import re
from collections.abc import Iterator, Sequence

from ...site.record import record
from ..oneline.text import MORE, PLACE_EM, RISE, clipped, places
from ..render.phrase import NO_BREAK, bound
from .label import Words

ADVANCE = 1.24  # from base line to base line, in sizes
BETWEEN = 0.3  # room between two items, in sizes
STEP = 0.1
_KEPT = re.compile(r"(?<=/) (?=\d)|(?<=->) |(?<=<-) ")  # "block / 1" breaks before the stroke, never after it


@record(frozen=True)
class Row:
    """A line of text at a size, its base line below the top of the text. [mm]"""

    text: str
    size: float
    weight: str
    down: float


def fitted(items: Sequence[Words], width: float, height: float, sizes: tuple[float, float]) -> tuple[Row, ...]:
    """The items in rows that fit into a box; `sizes` are the smallest and the largest plain lettering. [mm]

    >>> [row.text for row in fitted([Words("W07+", 2.0), Words("net supply")], 9, 10, (1.6, 2.0))]
    ['W07+', 'net', 'supply']
    """
    kept = [item for item in items if printable(item.text)]
    least, most = sizes
    for step in range(round((most - least) / STEP), -1, -1):
        size = least + step * STEP
        lines = [wrapped(item.text, room(item, width, size)) for item in kept]
        for between in (BETWEEN, 0.0) if not step else (BETWEEN,):
            if all(lines) and tall(kept, lines, size, between) <= height:
                return _rows(kept, lines, size, between)
    lines = [_split(item, width, least) for item in kept]
    while tall(kept, lines, least, 0.0) > height:
        longest = max(range(len(kept)), key=lambda i: (len(lines[i]), i))
        if len(lines[longest]) > 1:
            most_places = room(kept[longest], width, least)
            last = lines[longest][-2]
            lines[longest] = [*lines[longest][:-2], clipped(last + MORE, most_places) if last else MORE]
        elif len(kept) > 1:
            kept.pop()
            lines.pop()
        else:
            break
    return _rows(kept, lines, _shrunk(kept, lines, width, (least, height)), 0.0)


def printable(text: str) -> str:
    """The text with single spaces and no control signs."""
    return " ".join("".join(sign if sign.isprintable() else " " for sign in text).split())


def tied(text: str) -> str:
    """The text with what belongs together tied: a figure and its unit, a way and its stroke, an arrow and its name."""
    return _KEPT.sub(NO_BREAK, bound(printable(text)))


def room(item: Words, width: float, size: float) -> int:
    """How many places an item has in a row."""
    return int(width / (size * item.scale * PLACE_EM) + 1e-9)


def tall(items: Sequence[Words], lines: Sequence[Sequence[str]], size: float, between: float) -> float:
    """Height of all rows, with some room between two items (in sizes). [mm]"""
    rows = sum(len(rows) * item.scale for item, rows in zip(items, lines, strict=True))
    return (rows * ADVANCE + max(0, len(items) - 1) * between) * size


def wrapped(text: str, most: int) -> list[str]:
    """The text broken at spaces; nothing when a word is too long.

    >>> wrapped("2.5 mm² (13 AWG)", 8)
    ['2.5 mm²', '(13 AWG)']
    """
    lines: list[str] = []
    for word in tied(text).split(" "):
        if places(word) > most:
            return []
        joined = f"{lines[-1]} {word}" if lines else word
        if lines and places(joined) <= most:
            lines[-1] = joined
        else:
            lines.append(word)
    return [line.replace(NO_BREAK, " ") for line in lines]


def _split(item: Words, width: float, size: float) -> list[str]:
    """The text broken at spaces, long words anywhere."""
    most = max(2, room(item, width, size))
    text = printable(item.text)
    if item.cut == "whole":
        return [text]
    loose = " ".join(word if places(word) <= most else word.replace(NO_BREAK, " ") for word in tied(text).split(" "))
    lines: list[str] = []
    for word in (piece for long in loose.split(" ") for piece in _pieces(long, most)):
        if lines and places(f"{lines[-1]} {word}") <= most:
            lines[-1] = f"{lines[-1]} {word}"
        else:
            lines.append(word)
    return [line.replace(NO_BREAK, " ") for line in lines]


def _pieces(word: str, most: int) -> Iterator[str]:
    piece = ""
    for sign in word:
        if places(piece + sign) > most:
            yield piece
            piece = ""
        piece += sign
    yield piece


def _shrunk(items: Sequence[Words], lines: Sequence[Sequence[str]], width: float, limits: tuple[float, float]) -> float:
    """The smallest size, or less where an item that may not be cut needs it."""
    size, height = limits
    widest = max((places(row) * item.scale for item, rows in zip(items, lines, strict=True) for row in rows), default=0)
    high = tall(items, lines, 1.0, 0.0)
    return min([size] + [width / (widest * PLACE_EM)] * (widest > 0) + [height / high] * (high > 0))


def _rows(items: Sequence[Words], lines: Sequence[Sequence[str]], size: float, between: float) -> tuple[Row, ...]:
    found, top = [], 0.0
    for item, rows in zip(items, lines, strict=True):
        for text in rows:
            own = size * item.scale
            found.append(Row(text, own, item.weight, top + own * RISE))
            top += own * ADVANCE
        top += size * between
    return tuple(found)
