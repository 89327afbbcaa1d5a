"""A first placement without a solver: bodies on shelves, exchanged by simulated annealing with a fixed seed.

It only serves as a place to begin: the solver takes it as a hint, improves it and says how good it is.
"""

from collections.abc import Mapping, Sequence
from math import ceil, exp
from random import Random

from ..plate.box import Spot
from .aims import COPPER, HEAT_MM2_PER_W, barred
from .body import Body
from .layout import NEAR, Layout
from .problem import End, Problem

SEED = 1
MOVES, LONGER = 2000, 14_000  # to choose the number of rows, and then for the rows that were chosen
MISSED = 1000.0  # cost of a millimetre by which a body misses its height; nothing else comes near
HOT, COLD = 0.05, 0.0005  # shares of the first cost that a move may worsen it by, at the start and at the end

Rows = list[list[str]]


class Shelves:
    """How rows of bodies become places, and what these cost. Bodies stand as they are turned first."""

    def __init__(self, problem: Problem, count: int) -> None:
        self.problem, self.count, self.grid = problem, count, problem.grid
        self.duct = ceil(problem.plate.ducts_mm[0]) if problem.plate.ducts_mm else 0
        inner = problem.inner
        self.left, self.right = inner.left + self.duct, inner.right - self.duct
        self.size = {name: body.size(body.turns[0]) for name, body in problem.bodies.items()}
        self.room = {name: body.room(body.turns[0]) for name, body in problem.bodies.items()}
        self.links = [(_weight(link.cord.weight), *link.ends) for link in problem.links]

    def places(self, rows: Rows) -> tuple[dict[str, Spot], list[float]] | None:
        """Corner of every body and upper edge of every level duct; None when the rows do not fit."""
        inner = self.problem.inner
        corners: dict[str, Spot] = {}
        ducts = [inner.top]
        for row in rows:
            x, before = self.left, 0.0
            top = ducts[-1] + self.duct + max((self.room[name]["top"] for name in row), default=0.0)
            top = self._up(top, inner.top)
            low = top
            for number, name in enumerate(row):
                room, (width, height) = self.room[name], self.size[name]
                x = self._up(x + max(before, room["left"]) if number else x + room["left"], inner.left)
                corners[name] = (x, top)
                x, before = x + ceil(width), room["right"]
                low = max(low, top + ceil(height) + room["bottom"])
            if x + before > self.right:
                return None
            ducts.append(low)
        if ducts[-1] + self.duct > inner.bottom:
            return None
        ducts[-1] = inner.bottom - self.duct
        return corners, ducts

    def out_of_band(self, corners: Mapping[str, Spot]) -> float:
        """By how much the middles of bodies miss the height at which they must be, all together."""
        total = 0.0
        for name, body in self.problem.bodies.items():
            if body.band is not None:
                middle = corners[name][1] + self.size[name][1] / 2
                total += max(0.0, body.band[0] - middle, middle - body.band[1])
        return total

    def _up(self, value: float, start: float) -> float:
        """The next step of the grid."""
        return start + ceil((value - start) / self.grid - 1e-9) * self.grid

    def cost(self, rows: Rows) -> float | None:
        """What the placement of these rows costs, as the programme counts it; None when they do not fit."""
        if not all(rows):
            return None
        found = self.places(rows)
        if found is None:
            return None
        corners, ducts = found
        row_of = {name: number for number, row in enumerate(rows) for name in row}
        total = MISSED * self.out_of_band(corners)
        total += sum(
            round(COPPER * HEAT_MM2_PER_W * body.heat_w) * self._heat_way(name, body, corners)
            for name, body in self.problem.bodies.items()
        )
        for weight, one, other in self.links:
            total += weight * self._length(one, other, (corners, ducts), row_of)
        return total

    def _heat_way(self, name: str, body: Body, corners: Mapping[str, Spot]) -> float:
        stream = self.problem.plate.stream_mm
        if stream is None:
            return corners[name][1] - self.problem.inner.top
        middle = corners[name][0] + self.size[name][0] / 2
        return max(0.0, stream[0] - middle, middle - stream[1])

    def _length(
        self, one: End, other: End, places: tuple[Mapping[str, Spot], Sequence[float]], row_of: Mapping[str, int]
    ) -> float:
        corners, ducts = places
        (x1, y1, may1), (x2, y2, may2) = (self._end(end, corners, row_of) for end in (one, other))
        if not self.duct:
            return abs(x1 - x2) + abs(y1 - y2)
        half = self.duct / 2
        left, right = self.left - half, self.right + half
        best = float("inf")
        for first in may1:
            for second in may2:
                across = abs(x1 - x2)
                if first != second:
                    across = min(abs(x1 - left) + abs(x2 - left), abs(x1 - right) + abs(x2 - right))
                line1, line2 = ducts[first] + half, ducts[second] + half
                best = min(best, across + abs(y1 - line1) + abs(y2 - line2) + abs(line1 - line2))
        return best

    def _end(
        self, end: End, corners: Mapping[str, Spot], row_of: Mapping[str, int]
    ) -> tuple[float, float, Sequence[int]]:
        """Where an end is, and the level ducts that it may go into."""
        if end.terminal is None:
            spot = self.problem.entries[end.entries[0]]
            no = barred(self.problem, end.entries[0], self.count + 1)
            return spot[0], spot[1], [number for number in range(self.count + 1) if number not in no]
        body = self.problem.bodies[end.body]
        right, down = body.spot_of(end.terminal, body.turns[0])
        row, corner = row_of[end.body], corners[end.body]
        side = end.terminal.side if body.turns[0] == 0 else ""
        may = {"top": (row,), "bottom": (row + 1,)}.get(side, (row, row + 1))
        return corner[0] + right, corner[1] + down, may

    def start(self) -> Rows | None:
        """The highest bodies first, each onto the first shelf that still takes it; None when some find none."""
        rows: Rows = [[] for _ in range(self.count)]
        for name in sorted(self.problem.bodies, key=lambda name: -self.size[name][1]):
            for row in rows:
                row.append(name)
                if self.places(rows) is not None:
                    break
                row.pop()
            else:
                return None
        for row in rows:  # one for each row that is still empty, from the fullest
            if not row:
                fullest = max(rows, key=len)
                row += [fullest.pop()] if len(fullest) > 1 else []
        return rows if self.cost(rows) is not None else None


def _weight(weight: float) -> int:
    return max(1, round(COPPER * weight))


def shelved(problem: Problem, count: int, moves: int = MOVES) -> Layout | None:
    """A layout on so many shelves; None when the bodies do not fit so, or more than shelves is asked for."""
    plate = problem.plate
    if any(body.fixed for body in problem.bodies.values()) or problem.mains or plate.across_mm or plate.upright_mm:
        return None
    shelves = Shelves(problem, count)
    rows = shelves.start()
    if rows is None:
        return None
    rows = _annealed(shelves, rows, moves)
    corners, ducts = shelves.places(rows) or ({}, [])
    if shelves.out_of_band(corners) > 0:
        return None
    inner, wide = problem.inner, shelves.duct
    turns = {name: body.turns[0] for name, body in problem.bodies.items()}
    across = tuple(ducts) if wide else ()
    upright = (inner.left, inner.right - wide) if wide else ()
    return Layout(problem, corners, turns, across, upright, NEAR, shelves.cost(rows) or 0.0, 0.0)


def _annealed(shelves: Shelves, rows: Rows, moves: int) -> Rows:
    chance = Random(SEED)
    cost = best_cost = shelves.cost(rows) or 0.0
    best, first = [list(row) for row in rows], cost
    for move in range(moves):
        changed = _changed(rows, chance)
        new = shelves.cost(changed)
        if new is None:
            continue
        warmth = min(first, 4 * best_cost) * HOT * (COLD / HOT) ** (move / moves)
        if new <= cost or chance.random() < exp((cost - new) / max(warmth, 1e-9)):
            rows, cost = changed, new
            if cost < best_cost:
                best, best_cost = [list(row) for row in rows], cost
    return best


def _changed(rows: Rows, chance: Random) -> Rows:
    """Two bodies exchanged, one put elsewhere, or two rows exchanged."""
    changed = [list(row) for row in rows]
    spots = [(number, place) for number, row in enumerate(rows) for place in range(len(row))]
    kind, one = chance.random(), chance.choice(spots)
    if kind < 0.5:
        other = chance.choice(spots)
        changed[one[0]][one[1]], changed[other[0]][other[1]] = rows[other[0]][other[1]], rows[one[0]][one[1]]
    elif kind < 0.95 or len(rows) < 2:
        name = changed[one[0]].pop(one[1])
        row = chance.choice(changed)
        row.insert(chance.randint(0, len(row)), name)
    else:
        first, second = chance.sample(range(len(rows)), 2)
        changed[first], changed[second] = changed[second], changed[first]
    return changed
