"""The plan of a topology as tables of numbers: the same elimination for a kernel compiled once for all.

Memory is a row of cells: matrix entries, right sides, then scratch. `spots` say where a figure is added
(cell, sign); `ops` are the elimination and substitution, one (code, target, a, b) after the other.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from .elements import Network
from .plan import Plan, pair

INVERT, PRODUCT, LESS_PRODUCT, COPY = 0, 1, 2, 3
NONE, PLUS, MINUS = 0, 1, 2

Ends = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Tape:
    """Index tables of one topology.

    linear_at/linear_spots: for each figure of `stamps.linear` its cells and signs. power_ends: nodes of each
    power port; converter_ends: input and output nodes of each converter; *_spots: for each, the cells of
    slope, cross slope and current. n_kept: cells, the first ones, that an iteration starts from. *_ops: the program.
    diagonal, voltage: cells of pivots and of results by node.
    """

    n_cell: int
    n_kept: int
    linear_at: np.ndarray
    linear_spots: np.ndarray
    power_ends: np.ndarray
    power_spots: np.ndarray
    converter_ends: np.ndarray
    converter_spots: np.ndarray
    fixed_ops: np.ndarray
    moving_ops: np.ndarray
    finish_ops: np.ndarray
    diagonal: np.ndarray
    voltage: np.ndarray
    moving: np.ndarray


class _Cells:
    """Numbers for cells, and the sums and operations on them."""

    def __init__(self, plan: Plan) -> None:
        self.lopsided = plan.lopsided
        self.number: dict[str, int] = {"void": 0}

    def cell(self, name: str) -> int:
        """The number of a named cell."""
        return self.number.setdefault(name, len(self.number))

    def matrix(self, row: int, column: int) -> int:
        """A matrix cell; a pair that stays symmetric has one."""
        low, high = pair(row, column)
        if row != column and (low, high) not in self.lopsided:
            return self.cell(f"m{low}_{high}")
        return self.cell(f"m{row}_{column}")

    def couple(self, row: Ends, column: Ends) -> list[tuple[int, int]]:
        """Cells and signs of a conductance, as in `emit`."""
        out = []
        for i, plus_row in ((row[0], 1), (row[1], -1)):
            for j, plus_column in ((column[0], 1), (column[1], -1)):
                if i and j and (i <= j or row != column or pair(i, j) in self.lopsided):
                    out.append((self.matrix(i, j), PLUS if plus_row == plus_column else MINUS))
        return out

    def inject(self, positive: int, negative: int) -> list[tuple[int, int]]:
        """Cells and signs of a current into `positive` and out of `negative`."""
        out = [(self.cell(f"b{positive}"), PLUS)] if positive else []
        return out + ([(self.cell(f"b{negative}"), MINUS)] if negative else [])

    def eliminate(self, pivots: tuple[int, ...], near: dict[int, tuple[int, ...]]) -> list[tuple[int, int, int, int]]:
        """Operations of forward elimination."""
        ops = []
        for p in pivots:
            ops.append((INVERT, self.cell(f"r{p}"), self.matrix(p, p), 0))
            for i in near[p]:
                l = self.cell(f"l{i}_{p}")
                ops.append((PRODUCT, l, self.matrix(i, p), self.cell(f"r{p}")))
                ops.append((LESS_PRODUCT, self.cell(f"b{i}"), l, self.cell(f"b{p}")))
                for j in near[p]:
                    if i <= j or pair(i, j) in self.lopsided:
                        ops.append((LESS_PRODUCT, self.matrix(i, j), l, self.matrix(p, j)))
        return ops

    def substitute(self, pivots: tuple[int, ...], near: dict[int, tuple[int, ...]]) -> list[tuple[int, int, int, int]]:
        """Operations of backward substitution, results in the cells x."""
        ops = []
        for p in reversed(pivots):
            x = self.cell(f"x{p}")
            ops.append((COPY, x, self.cell(f"b{p}"), 0))
            ops += [(LESS_PRODUCT, x, self.matrix(p, j), self.cell(f"x{j}")) for j in near[p]]
            ops.append((PRODUCT, x, x, self.cell(f"r{p}")))
        return ops


def make_tape(network: Network, plan: Plan) -> Tape:
    """The tables of a topology."""
    cells = _Cells(plan)
    # the cells that an iteration starts from come first
    for step in plan.moving:
        cells.cell(f"b{step.node}")
        for i in (step.node, *step.neighbours):
            cells.matrix(i, step.node)
            cells.matrix(step.node, i)
    n_kept = len(cells.number)
    near = {step.node: step.neighbours for step in (*plan.fixed, *plan.moving)}
    fixed = tuple(step.node for step in plan.fixed)
    moving = tuple(step.node for step in plan.moving)
    linear = _linear_spots(cells, network, plan.n_node)
    power_ends = [(p.positive, p.negative) for p in (*network.loads, *network.feeds)]  # type: ignore[attr-defined]
    converters = [
        ((c.input_positive, c.input_negative), (c.output_positive, c.output_negative)) for c in network.converters
    ]
    power = [_rows([cells.couple(e, e), cells.inject(e[1], e[0])], 4) for e in power_ends]
    working = [
        _rows([cells.couple(taken, taken), cells.couple(taken, given), cells.inject(taken[1], taken[0])], 4)
        for taken, given in converters
    ]
    fixed_ops, moving_ops = cells.eliminate(fixed, near), cells.eliminate(moving, near)
    moving_ops += cells.substitute(moving, near)
    finish_ops = cells.substitute(fixed, near)
    at = np.cumsum([0] + [len(spots) for spots in linear]).astype(np.uint32)
    return Tape(
        n_cell=len(cells.number),
        n_kept=n_kept,
        linear_at=at,
        linear_spots=_table([spot for spots in linear for spot in spots], 2),
        power_ends=_table(power_ends, 2),
        power_spots=np.array(power, dtype=np.uint32).reshape(len(power), 2, 4, 2),
        converter_ends=_table([(*taken, *given) for taken, given in converters], 4),
        converter_spots=np.array(working, dtype=np.uint32).reshape(len(working), 3, 4, 2),
        fixed_ops=_table(fixed_ops, 4),
        moving_ops=_table(moving_ops, 4),
        finish_ops=_table(finish_ops, 4),
        diagonal=np.array([cells.matrix(k, k) for k in moving], dtype=np.uint32),
        voltage=np.array([0] + [cells.cell(f"x{k}") for k in range(1, plan.n_node)], dtype=np.uint32),
        moving=np.array(moving, dtype=np.uint32),
    )


def _linear_spots(cells: _Cells, network: Network, n_node: int) -> list[list[tuple[int, int]]]:
    """Cells of every figure of `stamps.linear`, in its order."""
    out: list[list[tuple[int, int]]] = []
    for branch in network.branches:
        ends = (branch.start, branch.end)
        out.append(cells.couple(ends, ends))
    for source in network.sources:
        ends = (source.positive, source.negative)
        out += [cells.couple(ends, ends), cells.inject(*ends)]
    for load in network.loads:
        ends = (load.positive, load.negative)
        out.append(cells.couple(ends, ends))
    for c in network.converters:
        taken, given = (c.input_positive, c.input_negative), (c.output_positive, c.output_negative)
        out += [cells.couple(given, given), cells.inject(*given)]
        through = cells.couple(given, given) + cells.couple(taken, taken)
        through += cells.couple((given[1], given[0]), taken) + cells.couple((taken[1], taken[0]), given)
        out += [through, cells.inject(given[1], given[0]) + cells.inject(*taken)]
    for feed in network.feeds:
        ends = (feed.positive, feed.negative)
        out += [cells.couple(ends, ends), cells.inject(*ends)]
    return out + [[(cells.matrix(k, k), PLUS)] for k in range(1, n_node)]


def _rows(groups: list[list[tuple[int, int]]], width: int) -> list[list[tuple[int, int]]]:
    """Groups of spots filled up to one width with the void cell."""
    return [group + [(0, NONE)] * (width - len(group)) for group in groups]


def _table(rows: Sequence[tuple[int, ...]], width: int) -> np.ndarray:
    return np.array(rows, dtype=np.uint32).reshape(len(rows), width)
