"""Find paper that nothing is drawn on, for the legend and the list of findings."""

from collections.abc import Iterable
from math import ceil, floor

from .scene import Box, Group, box_of

CELL = 2.0  # [mm]


class Paper:
    """A grid of cells, each row one whole number whose bits say which cells are taken."""

    def __init__(self, area: Box) -> None:
        self.area = area
        left, top, right, bottom = area
        self.columns, self.rows = int((right - left) / CELL), int((bottom - top) / CELL)
        self.taken = [0] * self.rows

    def take(self, box: Box) -> None:
        """Mark a box as drawn on."""
        left, top, _, _ = self.area
        first, last = max(0, floor((box[0] - left) / CELL)), min(self.columns, ceil((box[2] - left) / CELL))
        if last <= first:
            return
        bits = ((1 << (last - first)) - 1) << first
        for row in range(max(0, floor((box[1] - top) / CELL)), min(self.rows, ceil((box[3] - top) / CELL))):
            self.taken[row] |= bits

    def take_groups(self, groups: Iterable[Group]) -> None:
        """Mark everything in groups."""
        for group in groups:
            for _, mark in group.within():
                self.take(box_of(mark))

    def place(self, width: float, height: float) -> tuple[float, float] | None:
        """Left and top of free paper of that size, as far left and then as low as there is; None when there is none."""
        wide, high = ceil(width / CELL), ceil(height / CELL)
        best: tuple[int, int] | None = None
        for row in range(self.rows - high, -1, -1):
            bits = 0
            for each in self.taken[row : row + high]:
                bits |= each
            column = _run_of_zeros(bits, wide, self.columns)
            if column is not None and (best is None or column < best[0]):
                best = column, row
        return None if best is None else (self.area[0] + best[0] * CELL, self.area[1] + best[1] * CELL)


def _run_of_zeros(bits: int, wide: int, columns: int) -> int | None:
    """The first place of so many free cells side by side."""
    free = ~bits & ((1 << columns) - 1)
    length = 1
    while length < wide and free:
        step = min(length, wide - length)
        free &= free >> step
        length += step
    return (free & -free).bit_length() - 1 if free and wide <= columns else None
