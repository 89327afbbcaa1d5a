"""The cheapest way of a wire: along ducts where there are some, else along free lines between parts.

The plate is a grid of level and upright lines. A step along a duct costs its length, a step elsewhere
`OFF_DUCT` times as much, a bend as much as `BEND_MM` of way, or `LOOSE_BEND_MM` outside the ducts where there are
ducts. What a part covers cannot be crossed.
"""

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from heapq import heappop, heappush
from typing import NamedTuple

from .box import TOUCH, Box, Spot
from .duct import Duct

OFF_DUCT = 10.0
BEND_MM = 10.0
LOOSE_BEND_MM = 5000.0
_OUT = {"top": (0, -1), "bottom": (0, 1), "left": (-1, 0), "right": (1, 0)}


class Way(NamedTuple):
    """A route: its corners, and what it costs. [mm]"""

    spots: tuple[Spot, ...]
    cost: float

    @property
    def length(self) -> float:
        """Along the plate. [mm]"""
        pairs = zip(self.spots, self.spots[1:], strict=False)
        return sum(abs(a[0] - b[0]) + abs(a[1] - b[1]) for a, b in pairs)


class Grid:
    """All lines that wires may follow, and what lies in their way."""

    def __init__(self, spots: Iterable[Spot], ducts: Sequence[Duct], lines: tuple[Sequence[float], Sequence[float]]):
        """`spots` are ends of wires; `lines` are further x and y at which wires may run."""
        known = list(spots)
        self.ducts = tuple(ducts)
        self.xs = _merged([x for x, _ in known] + [d.line for d in ducts if d.way == "upright"] + list(lines[0]))
        self.ys = _merged([y for _, y in known] + [d.line for d in ducts if d.way == "level"] + list(lines[1]))
        self._level = {self.row(d.line): d for d in ducts if d.way == "level"}
        self._upright = {self.column(d.line): d for d in ducts if d.way == "upright"}
        self._prices: dict[tuple[int, int, int, int], float] = {}
        self._bends: dict[tuple[int, int], float] = {}
        self._barred: dict[Box, tuple[set[tuple[int, int]], set[tuple[int, int]]]] = {}

    def column(self, x: float) -> int:
        """Number of the upright line nearest to x."""
        return _nearest(self.xs, x)

    def row(self, y: float) -> int:
        """Number of the level line nearest to y."""
        return _nearest(self.ys, y)

    def price(self, one: tuple[int, int], other: tuple[int, int]) -> float:
        """What a step between two neighbours on a line costs, nothing in its way."""
        key = (*one, *other)
        known = self._prices.get(key)
        if known is None:
            known = self._prices[key] = self._price(one, other)
        return known

    def _price(self, one: tuple[int, int], other: tuple[int, int]) -> float:
        (a, b), (c, d) = one, other
        if b == d:
            left, right = sorted((self.xs[a], self.xs[c]))
            return (right - left) * _factor(self._level.get(b), left, right, self.ducts)
        top, bottom = sorted((self.ys[b], self.ys[d]))
        return (bottom - top) * _factor(self._upright.get(a), top, bottom, self.ducts)

    def barred(self, wall: Box) -> tuple[set[tuple[int, int]], set[tuple[int, int]]]:
        """The level and the upright steps that go through a wall, each by its first end; worked out once a wall."""
        known = self._barred.get(wall)
        if known is None:
            known = self._barred[wall] = _barred(self, wall)
        return known

    def way(self, start: Spot, end: Spot, walls: Sequence[Box], sides: tuple[str, str] = ("", "")) -> Way | None:
        """The cheapest way between two spots, None when there is none.

        `walls` cannot be crossed, their edges can be followed. `sides` are the sides of the parts at which the
        two ends are: a wire leaves straight out; an empty text leaves it free.
        """
        goal = (self.column(end[0]), self.row(end[1]))
        first = (self.column(start[0]), self.row(start[1]))
        blocked = _Walls(self, walls)
        best: dict[tuple[int, int, int], float] = {(*first, 2): 0.0}
        before: dict[tuple[int, int, int], tuple[int, int, int]] = {}
        queue = [(self._least(first, goal), 0.0, (*first, 2))]
        while queue:
            _, cost, state = heappop(queue)
            if cost > best[state] + TOUCH:
                continue
            column, row, way = state
            if (column, row) == goal:
                return Way(self._corners(state, before), cost)
            for towards, spot in (
                (0, (column - 1, row)),
                (0, (column + 1, row)),
                (1, (column, row - 1)),
                (1, (column, row + 1)),
            ):
                if not (0 <= spot[0] < len(self.xs) and 0 <= spot[1] < len(self.ys)):
                    continue
                step = (spot[0] - column, spot[1] - row)
                if way == 2 and step != _OUT.get(sides[0], step):
                    continue
                if spot == goal and sides[1] in _OUT and step != (-_OUT[sides[1]][0], -_OUT[sides[1]][1]):
                    continue
                if blocked.bars((column, row), spot):
                    continue
                price = cost + self.price((column, row), spot)
                price += self._bend(column, row) if way not in (towards, 2) else 0.0
                new = (*spot, towards)
                if price < best.get(new, float("inf")) - TOUCH:
                    best[new], before[new] = price, state
                    heappush(queue, (price + self._least(spot, goal), price, new))
        return None

    def _bend(self, column: int, row: int) -> float:
        """What a bend costs here: where there are ducts, hardly any way is worth one outside of them."""
        known = self._bends.get((column, row))
        if known is None:
            known = self._bends[column, row] = self._bend_at(column, row)
        return known

    def _bend_at(self, column: int, row: int) -> float:
        level, upright = self._level.get(row), self._upright.get(column)
        x, y = self.xs[column], self.ys[row]
        inside = level is not None and level.ends[0] <= x <= level.ends[1]
        inside = inside or upright is not None and upright.ends[0] <= y <= upright.ends[1]
        return BEND_MM if inside or not self.ducts else LOOSE_BEND_MM

    def _least(self, spot: tuple[int, int], goal: tuple[int, int]) -> float:
        return abs(self.xs[spot[0]] - self.xs[goal[0]]) + abs(self.ys[spot[1]] - self.ys[goal[1]])

    def _corners(
        self, state: tuple[int, int, int], before: dict[tuple[int, int, int], tuple[int, int, int]]
    ) -> tuple[Spot, ...]:
        """The ends and the bends of a way."""
        states = [state]
        while states[-1] in before:
            states.append(before[states[-1]])
        states.reverse()
        spots = [(self.xs[column], self.ys[row]) for column, row, _ in states]
        kept = [spots[0]]
        for here, following in zip(spots[1:], spots[2:], strict=False):
            last = kept[-1]
            straight = last[0] == here[0] == following[0] or last[1] == here[1] == following[1]
            if not straight:
                kept.append(here)
        return (*kept, spots[-1]) if len(spots) > 1 else (spots[0],)


class _Walls:
    """Which steps of a grid go through some walls."""

    def __init__(self, grid: Grid, walls: Sequence[Box]) -> None:
        self.level: set[tuple[int, int]] = set()  # (column, row): the step to the right of it is barred
        self.upright: set[tuple[int, int]] = set()
        for wall in walls:
            level, upright = grid.barred(wall)
            self.level |= level
            self.upright |= upright

    def bars(self, one: tuple[int, int], other: tuple[int, int]) -> bool:
        """Does the step go through a wall?"""
        if one[1] == other[1]:
            return (min(one[0], other[0]), one[1]) in self.level
        return (one[0], min(one[1], other[1])) in self.upright


def _barred(grid: Grid, wall: Box) -> tuple[set[tuple[int, int]], set[tuple[int, int]]]:
    xs, ys = grid.xs, grid.ys
    level, upright = set(), set()
    inner = wall.shrunk(1e-3)
    columns = range(max(0, bisect_left(xs, inner.left) - 1), bisect_left(xs, inner.right) + 1)
    rows = range(max(0, bisect_left(ys, inner.top) - 1), bisect_left(ys, inner.bottom) + 1)
    for column in columns:
        for row in rows:
            here = (xs[min(column, len(xs) - 1)], ys[min(row, len(ys) - 1)])
            inside = column < len(xs) and row < len(ys)
            if inside and column + 1 < len(xs) and _crosses(inner, here, (xs[column + 1], ys[row])):
                level.add((column, row))
            if inside and row + 1 < len(ys) and _crosses(inner, here, (xs[column], ys[row + 1])):
                upright.add((column, row))
    return level, upright


def _crosses(wall: Box, one: Spot, other: Spot) -> bool:
    return (
        min(one[0], other[0]) < wall.right
        and max(one[0], other[0]) > wall.left
        and min(one[1], other[1]) < wall.bottom
        and max(one[1], other[1]) > wall.top
    )


def _factor(own: Duct | None, low: float, high: float, ducts: Sequence[Duct]) -> float:
    inside = own is not None and own.ends[0] <= low + TOUCH and high <= own.ends[1] + TOUCH
    return 1.0 if inside or not ducts else OFF_DUCT


def _merged(values: list[float]) -> list[float]:
    """Sorted, those that are the same but for arithmetic once."""
    found: list[float] = []
    for value in sorted(values):
        if not found or value - found[-1] > 1e-3:
            found.append(value)
    return found


def _nearest(values: list[float], value: float) -> int:
    place = bisect_left(values, value)
    if place == len(values) or place > 0 and value - values[place - 1] <= values[place] - value:
        return place - 1
    return place
