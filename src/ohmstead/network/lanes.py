"""Many cases of one network side by side: the compiled program run on arrays, one element a case.

A figure that does not vary stays a float and costs nothing. Modes are small integers per case; where all
cases agree the mode is one integer and no mask is needed.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from .elements import Corner, Network
from .emit import compile_high_step
from .newton import NEAR_ENOUGH_V, PATIENCE
from .settle import Case
from .state import (
    CURRENT,
    DEAD,
    HOLDING,
    IDLE,
    LEAST_OHM,
    LIMITING,
    NOTHING_A,
    OFF,
    ON,
    PASSING,
    POWER,
    REGULATING,
)

Column = Any  # a float, or an array with one element a case

MOST_STEPS = 50
SURE_STEPS = 1  # before these there is no point in looking for convergence
MOST_ROUNDS = 8

_CORNER_FIELDS: dict[str, Callable[[Corner], Sequence[float]]] = {
    "branch_ohm": lambda corner: corner.branch_ohm,
    "source_v": lambda corner: corner.source_v,
    "source_ohm": lambda corner: corner.source_ohm,
    "load_w": lambda corner: [load.power_w for load in corner.loads],
    "load_a": lambda corner: [load.current_a for load in corner.loads],
    "load_s": lambda corner: [load.conductance_s for load in corner.loads],
    "set_v": lambda corner: [c.set_v for c in corner.converters],
    "limit_a": lambda corner: [c.limit_a for c in corner.converters],
    "loss_w": lambda corner: [c.loss_w for c in corner.converters],
    "feed_v": lambda corner: [f.set_v for f in corner.feeds],
    "feed_a": lambda corner: [f.limit_a for f in corner.feeds],
    "feed_w": lambda corner: [f.limit_w for f in corner.feeds],
}
NAMES = tuple(_CORNER_FIELDS)


@dataclass(slots=True)
class Figures:
    """All figures that may vary, as columns, and the corner with those that do not."""

    corner: Corner
    columns: dict[str, list[Column]]
    n_case: int

    def take(self, which: Any) -> "Figures":
        """The same figures for some of the cases."""
        columns = {
            name: [c if isinstance(c, float) else c[which] for c in column] for name, column in self.columns.items()
        }
        n_case = len(range(self.n_case)[which]) if isinstance(which, slice) else len(which)
        return Figures(self.corner, columns, n_case)


def figures_of(corner: Corner, n_case: int) -> Figures:
    """A corner's figures, none of them varied yet."""
    columns = {name: [float(x) for x in get(corner)] for name, get in _CORNER_FIELDS.items()}
    return Figures(corner, columns, n_case)


@dataclass(slots=True)
class Modes:
    """Mode columns of loads, converters and chargers: an integer each, or an integer array."""

    load: list[Any]
    converter: list[Any]
    feed: list[Any]

    def take(self, which: Any) -> "Modes":
        """The same modes for some of the cases."""
        lists = (self.load, self.converter, self.feed)
        return Modes(*([m if isinstance(m, int) else m[which] for m in modes] for modes in lists))

    def uniform(self) -> "Modes":
        """The same with a single integer wherever all cases agree."""
        lists = (self.load, self.converter, self.feed)
        return Modes(*([_one(m) for m in modes] for modes in lists))


def _one(mode: Any) -> Any:
    if isinstance(mode, int):
        return mode
    first = int(mode[0])
    return first if (mode == first).all() else mode


def conductance(ohm: Column) -> Column:
    """Conductance of a resistance column."""
    return 1.0 / (max(ohm, LEAST_OHM) if isinstance(ohm, float) else np.maximum(ohm, LEAST_OHM))


def pick(mode: Any, values: dict[int, Column]) -> Column:
    """The value that belongs to each case's mode; zero for a mode not named."""
    if isinstance(mode, int):
        return values.get(mode, 0.0)
    out: Column = np.zeros(len(mode))
    for code, value in values.items():
        out = np.where(mode == code, value, out)
    return out


def floor_v(figures: Figures, index: int) -> Column:
    """Input floor of a converter, see `state.input_floor_v`."""
    lockout_v = figures.corner.converters[index].lockout_v
    return 0.5 * lockout_v if lockout_v > 0.0 else 0.02 * figures.columns["set_v"][index]


def feed_floor_v(figures: Figures, index: int) -> Column:
    """Voltage under which a charger's power limit no longer rules, see `state.feed_floor_v`."""
    c = figures.columns
    low, other = c["feed_w"][index] / c["feed_a"][index], 0.1 * c["feed_v"][index]
    return max(low, other) if isinstance(low, float) and isinstance(other, float) else np.maximum(low, other)


def linear(figures: Figures, modes: Modes, pins: tuple[float, ...]) -> list[Column]:
    """Columns for `prepare`, in the order of `stamps.linear`."""
    c, corner = figures.columns, figures.corner
    out = [conductance(ohm) for ohm in c["branch_ohm"]]
    for emf_v, ohm in zip(c["source_v"], c["source_ohm"], strict=True):
        g = conductance(ohm)
        out += (g, g * emf_v)
    for s, mode in zip(c["load_s"], modes.load, strict=True):
        out.append(s if isinstance(s, float) and s == 0.0 else pick(mode, {ON: s, DEAD: s}))
    for i, law in enumerate(corner.converters):
        mode = modes.converter[i]
        through = pick(mode, {PASSING: conductance(law.pass_ohm)})
        out += (*_output(figures, i, mode), through, through * law.pass_drop_v)
    for i, feed in enumerate(corner.feeds):
        g = conductance(feed.output_ohm)
        mode = modes.feed[i]
        held = pick(mode, {HOLDING: g})
        out += (held, pick(mode, {HOLDING: g * c["feed_v"][i], CURRENT: c["feed_a"][i]}))
    out += pins
    return out


def ports(figures: Figures, modes: Modes) -> list[Column]:
    """Columns for `step`, in the order of `stamps.ports`."""
    c, corner = figures.columns, figures.corner
    out: list[Column] = []
    for i, load in enumerate(corner.loads):
        mode = modes.load[i]
        out += (pick(mode, {ON: c["load_w"][i]}), pick(mode, {ON: c["load_a"][i]}), load.floor_v)
    for i in range(len(corner.feeds)):
        mode = modes.feed[i]
        if isinstance(mode, int) and mode != POWER:
            out += (0.0, 0.0, 1.0)
        else:
            out += (pick(mode, {POWER: -c["feed_w"][i]}), 0.0, feed_floor_v(figures, i))
    for i, law in enumerate(corner.converters):
        mode = modes.converter[i]
        working = (REGULATING, LIMITING, IDLE)
        out += _output(figures, i, mode)
        out.append(pick(mode, dict.fromkeys((*working, PASSING), c["loss_w"][i])))
        out.append(pick(mode, dict.fromkeys(working, 1.0 + law.loss_fraction)))
        out.append(pick(mode, dict.fromkeys(working, law.loss_per_w)))
        out.append(floor_v(figures, i))
    return out


def _output(figures: Figures, index: int, mode: Any) -> tuple[Column, Column]:
    g = conductance(figures.corner.converters[index].output_ohm)
    set_v, limit_a = figures.columns["set_v"][index], figures.columns["limit_a"][index]
    return pick(mode, {REGULATING: g}), pick(mode, {REGULATING: g * set_v, LIMITING: limit_a})


def iterate(
    case: Case, figures: Figures, modes: Modes, pins: tuple[float, ...], start: list[Column]
) -> tuple[list[Column], Any]:
    """Newton's method on all cases at once: node voltage columns, and which cases arrived by a sound way."""
    program = case.program
    step = _high_step(case) if _all_live(case.network, start) else program.step
    kept, back = program.prepare(linear(figures, modes, pins))
    bends = ports(figures, modes)
    v = tuple([start[k] for k in program.moving])
    going: Any = np.ones(figures.n_case, dtype=bool)
    sound: Any = going
    moved: Column = 0.0
    with np.errstate(all="ignore"):
        for count in range(MOST_STEPS if v else 0):
            new, pivots = step(kept, bends, v)
            if count >= SURE_STEPS:
                before, moved = moved, 0.0
                for a, b in zip(new, v, strict=True):
                    moved = np.maximum(moved, np.abs(a - b))
                going = ~np.broadcast_to(moved * moved * moved <= NEAR_ENOUGH_V * before * before, sound.shape)
                if count >= PATIENCE or not going.any():
                    sound = sound & _upright(pivots)
            v = new
            if not (going & sound).any():
                break
        voltages: list[Column] = [0.0] * program.plan.n_node
        for k, x in zip(program.moving, v, strict=True):
            voltages[k] = x
        for k, x in zip(program.fixed, program.finish(back, v), strict=True):
            voltages[k] = x
    return voltages, sound & ~going if v else sound


def _all_live(network: Network, start: list[Column]) -> bool:
    """Whether everything that bends has a voltage to start from."""
    ends = [(load.positive, load.negative) for load in network.loads]
    ends += [(feed.positive, feed.negative) for feed in network.feeds]
    ends += [(c.input_positive, c.input_negative) for c in network.converters]
    return all(np.min(start[plus] - start[minus]) > 0.0 for plus, minus in ends)


def _upright(pivots: Any) -> Any:
    """Cases in which every pivot is positive: none that are not can be an operating point."""
    least: Column = np.inf
    for pivot in pivots:
        least = np.minimum(least, pivot)
    return least > 0.0


_high_steps: dict[int, tuple[Any, Any]] = {}


def _high_step(case: Case) -> Any:
    """The step without floors: what comes below one is found afterwards, and left to the careful solver."""
    known = _high_steps.get(id(case.program))
    if known is None or known[0] is not case.program:
        if len(_high_steps) >= 16:
            _high_steps.pop(next(iter(_high_steps)))
        step = compile_high_step(case.network, case.program.plan)
        known = _high_steps[id(case.program)] = (case.program, step)
    return known[1]


def wanted_converter(network: Network, figures: Figures, index: int, now: Any, v: list[Column]) -> Any:
    """Mode column of one running converter at these voltages, see `state.wanted_converter_mode`."""
    element, law = network.converters[index], figures.corner.converters[index]
    in_v = v[element.input_positive] - v[element.input_negative]
    out_v = v[element.output_positive] - v[element.output_negative]
    set_v, limit_a = figures.columns["set_v"][index], figures.columns["limit_a"][index]
    held_a = conductance(law.output_ohm) * (set_v - out_v)
    mode = np.where(held_a > limit_a, LIMITING, REGULATING)
    held_a = np.minimum(held_a, limit_a)
    if element.kind != "buck-boost":
        pass_a = conductance(law.pass_ohm) * (in_v - law.pass_drop_v - out_v)
        through = pass_a > held_a if element.kind == "boost" else pass_a < held_a
        mode = np.where(through, PASSING, mode)
        held_a = np.where(through, pass_a, held_a)
    return np.where((held_a <= -NOTHING_A) & ((now == mode) | (now == IDLE)), IDLE, mode)


def wanted_feed(network: Network, figures: Figures, index: int, now: Any, v: list[Column]) -> Any:
    """Mode column of one running charger at these voltages, see `state.wanted_feed_mode`."""
    element, law = network.feeds[index], figures.corner.feeds[index]
    c = figures.columns
    volts = v[element.positive] - v[element.negative]
    held_a = conductance(law.output_ohm) * (c["feed_v"][index] - volts)
    back = (held_a <= -NOTHING_A) & ((now == HOLDING) | (now == OFF))
    mode = np.where(held_a > c["feed_a"][index], CURRENT, HOLDING)
    held_a = np.minimum(held_a, c["feed_a"][index])
    mode = np.where(held_a * volts > c["feed_w"][index], POWER, mode)
    return np.where(back, OFF, mode)
