"""The same batch with a compiled kernel (numba): for sweeps of millions of cases.

One kernel serves every topology: it runs the tape of `tape`, a few cases abreast so that the processor's
vector units are filled. The first call compiles it (some seconds) and keeps it on disk. Import this module
only where numba is wanted.
"""

from collections.abc import Mapping
from typing import Any

import numpy as np
from numba import njit

from .batch import Manner, solve_by
from .batch_point import BatchPoint
from .elements import Corner, Network
from .lanes import MOST_STEPS, Column, Figures, Modes, linear, ports
from .newton import NEAR_ENOUGH_V
from .settle import Case
from .tape import Tape, make_tape

CHUNK = 8192  # cases at a time
CHECK_EVERY = 16  # cases between two that are checked by Kirchhoff's law
ABREAST = 64  # cases side by side: enough for the vector units, and all cells stay in the near cache

_tapes: dict[int, tuple[Any, Tape]] = {}


def solve_sweep(network: Network, corner: Corner, vary: Mapping[tuple[str, int], Any]) -> BatchPoint:
    """`solve_batch` with the compiled kernel; the same arguments, the same answer.

    Kirchhoff's law is checked in every sixteenth case only; `residual_a` of the answer has all.
    """
    return solve_by(network, corner, vary, Manner(iterate, CHUNK, CHECK_EVERY))


def iterate(
    case: Case, figures: Figures, modes: Modes, pins: tuple[float, ...], start: list[Column]
) -> tuple[list[Column], Any]:
    """Newton's method on all cases: node voltage columns, and which cases arrived by a sound way."""
    tape = tape_of(case)
    n_case = figures.n_case
    volts = np.empty((len(start), n_case))
    sound = np.zeros(n_case, dtype=np.bool_)
    _newton(
        (tape.linear_at, tape.linear_spots, tape.power_ends, tape.power_spots),
        (tape.converter_ends, tape.converter_spots),
        (tape.fixed_ops, tape.moving_ops, tape.finish_ops),
        (tape.diagonal, tape.voltage, tape.moving, tape.n_cell, tape.n_kept),
        (_split(linear(figures, modes, pins)), _split(ports(figures, modes)), _split(list(start))),
        (volts, sound),
        ABREAST,
    )
    return list(volts), sound


def _split(columns: list[Column]) -> tuple[Any, Any, Any]:
    """Constant figures (zero where one varies), the places of those that vary, and their rows."""
    places = [k for k, column in enumerate(columns) if not isinstance(column, float)]
    constant = np.array([column if isinstance(column, float) else 0.0 for column in columns])
    n_case = len(columns[places[0]]) if places else 0
    rows = np.empty((len(places), n_case))
    for k, place in enumerate(places):
        rows[k] = columns[place]
    return constant, np.array(places, dtype=np.uint32), rows


def tape_of(case: Case) -> Tape:
    """The tape of a case's topology, made once."""
    found = _tapes.get(id(case.program))
    if found is None or found[0] is not case.program:
        if len(_tapes) >= 16:
            _tapes.pop(next(iter(_tapes)))
        found = _tapes[id(case.program)] = (case.program, make_tape(case.network, case.program.plan))
    return found[1]


# The number of lanes is left open in the loops below: only then does the compiler use vector units for them.


@njit(cache=True, fastmath={"contract"}, error_model="numpy")
def _run(ops: Any, x: Any) -> None:
    """Work through a tape on all lanes."""
    n_lane = x.shape[1]
    for k in range(ops.shape[0]):
        code = ops[k, 0]
        t, a, b = x[ops[k, 1]], x[ops[k, 2]], x[ops[k, 3]]
        if code == 2:
            for lane in range(n_lane):
                t[lane] -= a[lane] * b[lane]
        elif code == 1:
            for lane in range(n_lane):
                t[lane] = a[lane] * b[lane]
        elif code == 0:
            for lane in range(n_lane):
                t[lane] = 1.0 / a[lane]
        else:
            for lane in range(n_lane):
                t[lane] = a[lane]


@njit(cache=True, fastmath={"contract"}, error_model="numpy")
def _spread(spots: Any, value: Any, x: Any) -> None:
    """Add a row of values to its cells."""
    for s in range(spots.shape[0]):
        row, sign = x[spots[s, 0]], spots[s, 1]
        if sign == 1:
            for lane in range(row.shape[0]):
                row[lane] += value[lane]
        elif sign == 2:
            for lane in range(row.shape[0]):
                row[lane] -= value[lane]


@njit(cache=True, fastmath={"contract"}, error_model="numpy")
def _bend_power(ends: Any, p: Any, v: Any, slope: Any, rest: Any) -> None:
    """Slope and remaining current of a power port at the voltages `v`: the law of `emit`."""
    plus, minus = v[ends[0]], v[ends[1]]
    power, current, floors = p[0], p[1], p[2]
    for lane in range(plus.shape[0]):
        volts = plus[lane] - minus[lane]
        floor = floors[lane]
        high = 1.0 if volts > floor else 0.0
        r = 1.0 / (volts if volts > floor else floor)
        c = power[lane] * r * r
        y = c + current[lane] * r
        c = (y + c) * high
        slope[lane] = y - c
        rest[lane] = c * volts


@njit(cache=True, fastmath={"contract"}, error_model="numpy")
def _bend_converter(ends: Any, p: Any, v: Any, slope: Any, cross: Any, rest: Any) -> None:
    """Slope, cross slope and remaining current of a converter's input: the law of `emit`."""
    plus, minus, out_plus, out_minus = v[ends[0]], v[ends[1]], v[ends[2]], v[ends[3]]
    own, given, idle, share, square, floors = p[0], p[1], p[2], p[3], p[4], p[5]
    for lane in range(plus.shape[0]):
        volts = plus[lane] - minus[lane]
        out = out_plus[lane] - out_minus[lane]
        e = own[lane] * out
        a = given[lane] - e
        watts = a * out
        floor = floors[lane]
        high = 1.0 if volts > floor else 0.0
        w = 1.0 / (volts if volts > floor else floor)
        w = w * w
        y = (idle[lane] + watts * (share[lane] + watts * square[lane])) * w
        t = (share[lane] + 2.0 * square[lane] * watts) * (a - e) * w * volts
        c = 2.0 * y * high
        slope[lane] = y - c
        cross[lane] = t
        rest[lane] = c * volts - t * out


@njit(cache=True, fastmath={"contract"}, error_model="numpy")
def _arrive(moving: Any, cells: Any, x: Any, v: Any, state: Any) -> bool:
    """Take over the new voltages; whether any case still moves."""
    diagonal, voltage = cells
    moved, before, least = state
    n_lane = x.shape[1]
    for lane in range(n_lane):
        before[lane] = moved[lane]
        moved[lane] = 0.0
    for k in range(moving.shape[0]):
        new, old, pivot = x[voltage[moving[k]]], v[moving[k]], x[diagonal[k]]
        for lane in range(n_lane):
            step = abs(new[lane] - old[lane])
            moved[lane] = moved[lane] if moved[lane] >= step else step
            least[lane] = least[lane] if least[lane] <= pivot[lane] else pivot[lane]
            old[lane] = new[lane]
    busy = 0
    for lane in range(n_lane):
        near = moved[lane] * moved[lane] * moved[lane] <= NEAR_ENOUGH_V * before[lane] * before[lane]
        busy += not near and least[lane] > 0.0
    return busy > 0


@njit(cache=True, fastmath={"contract"}, error_model="numpy")
def _fill(row: Any, value: float) -> None:
    """Set a row."""
    for lane in range(row.shape[0]):
        row[lane] = value


@njit(cache=True, fastmath={"contract"}, error_model="numpy")
def _copy(n_row: int, source: Any, target: Any) -> None:
    """Copy the first rows."""
    for k in range(n_row):
        a, b = source[k], target[k]
        for lane in range(a.shape[0]):
            b[lane] = a[lane]


@njit(cache=True, fastmath={"contract"}, error_model="numpy")
def _take(column: Any, start: int, row: Any) -> None:
    """A block of a column of cases; past its end the last case again."""
    last = column.shape[0] - 1
    for lane in range(row.shape[0]):
        k = start + lane
        row[lane] = column[k if k < last else last]


@njit(cache=True, fastmath={"contract"}, error_model="numpy")
def _newton(stamps: Any, converters: Any, ops: Any, shape: Any, figures: Any, out: Any, n_lane: Any) -> None:
    """All cases, `n_lane` abreast."""
    linear_at, linear_spots, power_ends, power_spots = stamps
    converter_ends, converter_spots = converters
    fixed_ops, moving_ops, finish_ops = ops
    diagonal, voltage, moving, n_cell, n_kept = shape
    fixed, bends, flat = figures
    volts, sound = out
    n_node, n_case, n_power = volts.shape[0], volts.shape[1], power_ends.shape[0]
    common, base, x = np.zeros((n_cell, n_lane)), np.zeros((n_cell, n_lane)), np.zeros((n_cell, n_lane))
    p, v = np.ones((bends[0].shape[0], n_lane)), np.zeros((n_node, n_lane))
    moved, before, least = np.zeros(n_lane), np.zeros(n_lane), np.zeros(n_lane)
    slope, cross, rest = np.zeros(n_lane), np.zeros(n_lane), np.zeros(n_lane)
    for k in range(fixed[0].shape[0]):
        _fill(slope, fixed[0][k])
        _spread(linear_spots[linear_at[k] : linear_at[k + 1]], slope, common)
    for k in range(bends[0].shape[0]):
        _fill(p[k], bends[0][k])
    for start in range(0, n_case, n_lane):
        _copy(n_cell, common, base)
        for k in range(fixed[1].shape[0]):
            place = fixed[1][k]
            _take(fixed[2][k], start, slope)
            _spread(linear_spots[linear_at[place] : linear_at[place + 1]], slope, base)
        for k in range(bends[1].shape[0]):
            _take(bends[2][k], start, p[bends[1][k]])
        for k in range(n_node):
            _fill(v[k], flat[0][k])
        for k in range(flat[1].shape[0]):
            _take(flat[2][k], start, v[flat[1][k]])
        _fill(least, np.inf)
        _fill(moved, 0.0)
        _run(fixed_ops, base)
        for _ in range(MOST_STEPS):
            _copy(n_kept, base, x)
            for i in range(n_power):
                _bend_power(power_ends[i], p[3 * i : 3 * i + 3], v, slope, rest)
                _spread(power_spots[i, 0], slope, x)
                _spread(power_spots[i, 1], rest, x)
            for i in range(converter_ends.shape[0]):
                first = 3 * n_power + 6 * i
                _bend_converter(converter_ends[i], p[first : first + 6], v, slope, cross, rest)
                _spread(converter_spots[i, 0], slope, x)
                _spread(converter_spots[i, 1], cross, x)
                _spread(converter_spots[i, 2], rest, x)
            _run(moving_ops, x)
            if not _arrive(moving, (diagonal, voltage), x, v, (moved, before, least)):
                break
        for k in range(moving.shape[0]):
            row, new = base[voltage[moving[k]]], v[moving[k]]
            for lane in range(n_lane):
                row[lane] = new[lane]
        _run(finish_ops, base)
        width = min(n_lane, n_case - start)
        for k in range(n_node):
            row = base[voltage[k]]
            for lane in range(width):
                volts[k, start + lane] = row[lane] if k else 0.0
        for lane in range(width):
            near = moved[lane] * moved[lane] * moved[lane] <= NEAR_ENOUGH_V * before[lane] * before[lane]
            sound[start + lane] = least[lane] > 0.0 and near
