"""Cuts a drawing at true size into sheets of paper that are laid edge over edge. [mm]"""

from math import ceil
from typing import NamedTuple

from .box import Box, Spot

OVERLAP_MM = 12.0
"""What two sheets share, so that their marks can be laid upon each other."""


class Tile(NamedTuple):
    """One sheet: its name by row (letter) and column (number), and the part of the plate that it shows."""

    name: str
    row: int
    column: int
    box: Box


def tiles_of(whole: Box, sheet: Spot, overlap: float = OVERLAP_MM) -> tuple[Tile, ...]:
    """As few sheets as show the whole; each shows `sheet` wide and high at most, neighbours share `overlap`.

    >>> [tile.name for tile in tiles_of(Box(0, 0, 300, 200), (190, 270))]
    ['A1', 'A2']
    """
    columns, rows = (
        _count(length, most, overlap) for length, most in zip((whole.width, whole.height), sheet, strict=True)
    )
    step_x, step_y = sheet[0] - overlap, sheet[1] - overlap
    found = []
    for row in range(rows):
        for column in range(columns):
            left, top = whole.left + column * step_x, whole.top + row * step_y
            box = Box(left, top, min(left + sheet[0], whole.right), min(top + sheet[1], whole.bottom))
            found.append(Tile(f"{chr(ord('A') + row)}{column + 1}", row, column, box))
    return tuple(found)


def _count(length: float, most: float, overlap: float) -> int:
    return max(1, ceil((length - overlap) / (most - overlap) - 1e-9))


def marks_of(whole: Box, sheet: Spot, overlap: float = OVERLAP_MM) -> tuple[Spot, ...]:
    """Where registration marks stand: in the middle of each overlap, near both ends and at the crossings."""
    columns, rows = (
        _count(length, most, overlap) for length, most in zip((whole.width, whole.height), sheet, strict=True)
    )
    step_x, step_y = sheet[0] - overlap, sheet[1] - overlap
    xs = [whole.left + column * step_x + overlap / 2 for column in range(1, columns)]
    ys = [whole.top + row * step_y + overlap / 2 for row in range(1, rows)]
    beside_x = [whole.left + overlap / 2, *xs, whole.right - overlap / 2]
    beside_y = [whole.top + overlap / 2, *ys, whole.bottom - overlap / 2]
    found = {(x, y) for x in xs for y in beside_y} | {(x, y) for x in beside_x for y in ys}
    return tuple(sorted(found, key=lambda spot: (spot[1], spot[0])))


def clipped(one: Spot, other: Spot, box: Box) -> tuple[Spot, Spot] | None:
    """The stretch of a straight line that lies within a box, None when none does.

    >>> clipped((-5, 2), (5, 2), Box(0, 0, 3, 3))
    ((0.0, 2.0), (3.0, 2.0))
    """
    start, end = 0.0, 1.0
    across, down = other[0] - one[0], other[1] - one[1]
    rooms = one[0] - box.left, box.right - one[0], one[1] - box.top, box.bottom - one[1]
    for way, room in zip((-across, across, -down, down), rooms, strict=True):
        if way == 0:
            if room < 0:
                return None
            continue
        share = room / way
        if way < 0:
            start = max(start, share)
        else:
            end = min(end, share)
    if start > end:
        return None
    return (one[0] + start * across, one[1] + start * down), (one[0] + end * across, one[1] + end * down)
