"""The nodal Jacobian from the elements' laws, and two factorisations of it in plain Python.

Used where speed does not count: the fallback solve, the weakest element, the fault network.
"""

from collections.abc import Sequence

from .elements import Corner, Network
from .plan import Plan
from .state import (
    DEAD,
    HOLDING,
    LIMB,
    LIMITING,
    OFF,
    PASSING,
    POWER,
    REGULATING,
    State,
    conductance,
    feed_floor_v,
    input_floor_v,
)

Rows = list[dict[int, float]]


def couple(rows: Rows, row: tuple[int, int], column: tuple[int, int], slope_s: float) -> None:
    """Add to `rows`: the current through port `row` changes by `slope_s` a volt at port `column`."""
    for i, row_sign in ((row[0], slope_s), (row[1], -slope_s)):
        if i:
            for j, value in ((column[0], row_sign), (column[1], -row_sign)):
                if j:
                    rows[i][j] = rows[i].get(j, 0.0) + value


def jacobian(network: Network, corner: Corner, state: State, voltage_v: Sequence[float], scale: float = 1.0) -> Rows:
    """Change of the current leaving each node with each node voltage, as sparse rows; row 0 stays empty."""
    rows: Rows = [{} for _ in network.nodes]
    v = voltage_v
    for branch, ohm in zip(network.branches, corner.branch_ohm, strict=True):
        ends = (branch.start, branch.end)
        couple(rows, ends, ends, conductance(ohm))
    for source, ohm in zip(network.sources, corner.source_ohm, strict=True):
        ends = (source.positive, source.negative)
        couple(rows, ends, ends, conductance(ohm))
    for i, load in enumerate(network.loads):
        ends = (load.positive, load.negative)
        couple(rows, ends, ends, load_slope_s(corner, state, i, v[ends[0]] - v[ends[1]], scale))
    for i, feed in enumerate(network.feeds):
        ends = (feed.positive, feed.negative)
        couple(rows, ends, ends, feed_slope_s(corner, state, i, v[ends[0]] - v[ends[1]]))
    for i, c in enumerate(network.converters):
        taken, given = (c.input_positive, c.input_negative), (c.output_positive, c.output_negative)
        volts = (v[taken[0]] - v[taken[1]], v[given[0]] - v[given[1]])
        own_s, across_s, out_s, back_s = converter_slopes_s(corner, state, i, volts)
        couple(rows, taken, taken, own_s)
        couple(rows, taken, given, across_s)
        couple(rows, given, given, out_s)
        couple(rows, given, taken, back_s)
    return rows


def load_slope_s(corner: Corner, state: State, index: int, volts: float, scale: float) -> float:
    """Incremental conductance of a load."""
    load, mode = corner.loads[index], state.load[index]
    if mode == OFF:
        return 0.0
    if mode == DEAD:
        return load.conductance_s
    power_w = load.power_w if mode == LIMB else scale * load.power_w
    if mode != LIMB and volts > load.floor_v:
        return load.conductance_s - power_w / (volts * volts)
    return load.conductance_s + (load.current_a + power_w / load.floor_v) / load.floor_v


def feed_slope_s(corner: Corner, state: State, index: int, volts: float) -> float:
    """Incremental conductance of a charger."""
    feed, mode = corner.feeds[index], state.feed[index]
    if mode == HOLDING:
        return conductance(feed.output_ohm)
    if mode == POWER:
        floor_v = feed_floor_v(feed)
        return feed.limit_w / (volts * volts) if volts > floor_v else -feed.limit_w / floor_v**2
    return 0.0


def converter_slopes_s(
    corner: Corner, state: State, index: int, volts: tuple[float, float]
) -> tuple[float, float, float, float]:
    """Slopes of a converter: input current by input voltage and by output voltage, output likewise.

    The output current counts as taken from the output node, so its own slope is positive.
    """
    law, mode = corner.converters[index], state.converter[index]
    if mode == OFF:
        return 0.0, 0.0, 0.0, 0.0
    in_v, out_v = volts
    floor_v = input_floor_v(law)
    high = in_v > floor_v
    per_w = 1.0 / in_v if high else in_v / (floor_v * floor_v)
    bend = -1.0 / (in_v * in_v) if high else 1.0 / (floor_v * floor_v)
    if mode == PASSING:
        g = conductance(law.pass_ohm)
        return g + law.loss_w * bend, -g, g, -g
    g = conductance(law.output_ohm) if mode == REGULATING else 0.0
    out_a = g * (law.set_v - out_v) if mode == REGULATING else law.limit_a if mode == LIMITING else 0.0
    p = out_a * out_v
    power_w = law.loss_w + p * (1.0 + law.loss_fraction + law.loss_per_w * p)
    rise = (1.0 + law.loss_fraction + 2.0 * law.loss_per_w * p) * (out_a - g * out_v)
    return power_w * bend, rise * per_w, g, 0.0


def factor(rows: Rows, plan: Plan) -> tuple[list[float], Rows, Rows]:
    """Sparse LU without pivoting in the plan's order: pivots, lower factors, upper rows by node."""
    pivots = [1.0] * plan.n_node
    lower: Rows = [{} for _ in rows]
    upper: Rows = [{} for _ in rows]
    for step in (*plan.fixed, *plan.moving):
        p = step.node
        row = rows[p]
        pivots[p] = row.get(p, 0.0) or 1e-300
        upper[p] = {j: row[j] for j in step.neighbours if j in row}
        for i in step.neighbours:
            value = rows[i].pop(p, 0.0)
            if value:
                l = value / pivots[p]
                lower[p][i] = l
                target = rows[i]
                for j, u in upper[p].items():
                    target[j] = target.get(j, 0.0) - l * u
    return pivots, lower, upper


def solve_pivoted(matrix: list[list[float]], right: list[float]) -> list[float] | None:
    """Dense Gaussian elimination with column pivoting; None where the matrix is singular."""
    n = len(right)
    rows = [[*row, b] for row, b in zip(matrix, right, strict=True)]
    for k in range(n):
        best = max(range(k, n), key=lambda i: abs(rows[i][k]))
        if abs(rows[best][k]) < 1e-300:
            return None
        rows[k], rows[best] = rows[best], rows[k]
        lead = rows[k]
        for i in range(k + 1, n):
            l = rows[i][k] / lead[k]
            if l:
                target = rows[i]
                for j in range(k + 1, n + 1):
                    target[j] -= l * lead[j]
    out = [0.0] * n
    for k in range(n - 1, -1, -1):
        out[k] = (rows[k][n] - sum([rows[k][j] * out[j] for j in range(k + 1, n)])) / rows[k][k]
    return out
