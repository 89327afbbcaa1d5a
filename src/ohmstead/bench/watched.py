"""Readings as vectors, and the supply as a linear law around any set of parameter values.

Row i is a reading, column k a parameter in the order of the bench; two columns more are the zero errors of the
meter in volts and amperes. A block holds the rows of one situation and where they were linearised; it is solved
anew only when the parameters have moved so far that the straight line would tell.
"""

from collections.abc import Mapping, Sequence
from dataclasses import fields

import numpy as np
from numpy.typing import NDArray

from ..network.jacobian import jacobian
from ..network.reach import reach
from ..site.record import record
from .expect import Solved
from .observation import Observation
from .points import Point, gradient_of
from .situation import Bench, Situation

Floats = NDArray[np.float64]
MODEL_FRACTION = 0.001  # what the meter's ranges and the model disagree among themselves, as a share of the reading
MOVED_FRACTION = 0.02  # rows that move by more than this are solved anew
LEAST_OHM = 1e-7
OFFSETS = ("volts", "amps")  # zero errors of the meter: the columns behind those of the bench


@record(frozen=True)
class Block:
    """The rows of one situation, linearised: y ≈ y0 + S·(p − at)."""

    situation: Situation
    rows: tuple[int, ...]
    points: tuple[Point, ...]
    at: Floats
    y: Floats
    slopes: Floats


@record(frozen=True)
class Watched:
    """The readings of a bench: values, variances of the meter's counts, and which rows belong together."""

    bench: Bench
    observations: tuple[Observation, ...]
    value: Floats
    variance: Floats
    groups: tuple[tuple[Situation, tuple[int, ...]], ...]

    @property
    def n_column(self) -> int:
        """Columns: parameters of the bench and the meter's zero errors."""
        return len(self.bench.parameters) + len(OFFSETS)


def watch(bench: Bench, observations: Sequence[Observation]) -> Watched:
    """Readings made ready for fitting. Raises KeyError for a point that the site has not."""
    value = np.array([o.value for o in observations])
    counts = np.array([bench.meter.function(o.point.method).counts(o.value) for o in observations])
    own = np.array([o.uncertainty for o in observations])
    variance = counts**2 / 3.0 + own**2 + (MODEL_FRACTION * value) ** 2
    groups: dict[str, tuple[Situation, list[int]]] = {}
    for i, o in enumerate(observations):
        groups.setdefault(key_of(o.situation), (o.situation, []))[1].append(i)
    return Watched(bench, tuple(observations), value, variance, tuple((s, tuple(rows)) for s, rows in groups.values()))


def key_of(situation: Situation) -> str:
    """Situations that are alike in all but their name share a key."""
    values = [getattr(situation, entry.name) for entry in fields(situation) if entry.name != "name"]
    return repr([sorted(value.items()) if isinstance(value, Mapping) else sorted(value) for value in values])


def nominal(bench: Bench) -> Floats:
    """The parameters' nominal values, the meter's zero errors behind them."""
    return np.array([*bench.values(), *(0.0 for _ in OFFSETS)])


def deviations(bench: Bench) -> Floats:
    """Standard deviation of every column without a fault."""
    return np.array([*(p.sigma for p in bench.parameters), *(0.0 for _ in OFFSETS)])


def linearise(watched: Watched, at: Floats) -> tuple[Block, ...]:
    """Every situation solved at these values."""
    found = []
    for situation, rows in watched.groups:
        points = tuple(watched.observations[i].point for i in rows)
        found.append(block_of(watched.bench, situation, rows, points, at))
    return tuple(found)


def block_of(bench: Bench, situation: Situation, rows: tuple[int, ...], points: tuple[Point, ...], at: Floats) -> Block:
    """One situation solved at these values."""
    values = possible(bench, at)
    solved = Solved(bench, situation, [float(v) for v in values[: -len(OFFSETS)]])
    y = np.array([solved.reading(point) for point in points])
    slopes = np.zeros((len(points), len(values)))
    slopes[:, : -len(OFFSETS)] = slopes_of(solved, points, y)
    for i, point in enumerate(points):
        column = len(values) - len(OFFSETS) + (1 if point.dimension == "current" else 0)
        slopes[i, column] = 1.0
        y[i] += values[column]
    return Block(situation, rows, points, values, y, slopes)


def possible(bench: Bench, at: Floats) -> Floats:
    """The values with what cannot be below zero kept above it."""
    kept = at.copy()
    for k, parameter in enumerate(bench.parameters):
        if parameter.dimension == "resistance":
            kept[k] = max(kept[k], LEAST_OHM)
        elif parameter.dimension in ("power", "length", "voltage"):
            kept[k] = max(kept[k], 0.02 * parameter.bounds.nominal)
    return kept


def refresh(watched: Watched, blocks: tuple[Block, ...], at: Floats) -> tuple[Block, ...]:
    """The same blocks, those solved anew that the parameters have left behind."""
    fresh = []
    for block in blocks:
        moved = np.abs(block.slopes @ (at - block.at))
        floor = np.maximum(np.abs(block.y), 30.0 * np.sqrt(watched.variance[list(block.rows)]))
        if np.any(moved > MOVED_FRACTION * floor):
            block = block_of(watched.bench, block.situation, block.rows, block.points, at)
        fresh.append(block)
    return tuple(fresh)


def stacked(watched: Watched, blocks: tuple[Block, ...]) -> tuple[Floats, Floats]:
    """Rows in the order of the readings: what remains at zero parameters, y − S·p, and S."""
    y = np.empty(len(watched.value))
    slopes = np.empty((len(watched.value), watched.n_column))
    for block in blocks:
        rows = list(block.rows)
        y[rows] = block.y - block.slopes @ block.at
        slopes[rows] = block.slopes
    return y, slopes


def slopes_of(solved: Solved, points: Sequence[Point], readings: Floats) -> Floats:
    """Change of each reading with each parameter of the bench, all points by one dense solution."""
    n_node, bench = len(solved.network.nodes), solved.bench
    state = solved.state
    dense = np.zeros((n_node, n_node))
    for i, row in enumerate(jacobian(solved.network, solved.corner, state, solved.point.voltage_v)):
        for j, slope in row.items():
            dense[i, j] = slope
    for k, pin_s in enumerate(reach(solved.network, solved.corner, state).pins, 1):
        dense[k, k] += pin_s
    dense[0, 0] = 1.0
    right = np.zeros((n_node, len(points)))
    out = np.zeros((len(points), len(bench.parameters)))
    figures = []
    for c, point in enumerate(points):
        nodes, by_figure, direct = gradient_of(bench, solved.values, solved.corner, solved.point, point)
        for node, slope in nodes.items():
            right[node, c] += slope
        for index, slope in direct.items():
            out[c, index] += slope
        figures.append(by_figure)
    right[0] = 0.0
    answer = np.linalg.solve(dense.T, right)
    answer[0] = 0.0
    place = {key: c for c, key in enumerate(solved.by_figure)}
    effect = np.zeros((n_node, len(place)))
    for key, c in place.items():
        for node, current in solved.by_figure[key]:
            effect[node, c] += current
    by_figure_slopes = -answer.T @ effect
    for c, rises in enumerate(figures):
        for key, rise in rises.items():
            if key in place:
                by_figure_slopes[c, place[key]] += rise
    links = [
        (place[figure, i], index, slope) for index, figure, i, slope in solved.setting.links if (figure, i) in place
    ]
    moved = np.zeros((len(place), len(bench.parameters)))
    rows, columns, shares = (np.array(each) for each in zip(*links, strict=True))
    np.add.at(moved, (rows, columns), shares)
    out += by_figure_slopes @ moved
    return _with_meter(solved, points, readings, out)


def _with_meter(solved: Solved, points: Sequence[Point], readings: Floats, out: Floats) -> Floats:
    """The meter's gain on every row, and its own columns."""
    at, name = solved.bench.at, solved.bench.meter.name
    for c, point in enumerate(points):
        column = at[f"meter {point.method} gain of {name}"]
        gain = 1.0 + solved.values[column]
        zero = 0.0
        if point.method == "clamp":
            zero = solved.values[at[f"meter clamp zero of {name}"]]
        out[c] *= gain
        out[c, column] += (readings[c] - zero) / gain
        if point.method == "clamp":
            out[c, at[f"meter clamp zero of {name}"]] = 1.0
    return out
