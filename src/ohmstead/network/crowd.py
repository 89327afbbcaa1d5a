"""The work behind a batch: groups of cases that have the same elements off, solved together.

Follows `settle` and `modes` step by step, with masks for what differs from case to case.
"""

from collections.abc import Callable
from typing import Any

import numpy as np

from .elements import OperatingPoint
from .lanes import (
    MOST_ROUNDS,
    Column,
    Figures,
    Modes,
    floor_v,
    wanted_converter,
    wanted_feed,
)
from .reach import Step, start_voltages
from .settle import Case
from .state import CONVERTER_MODES, DEAD, FEED_MODES, OFF, ON, PASSING, first_state

Array = Any
Iterate = Callable[[Case, Figures, Modes, tuple[float, ...], list[Column]], tuple[list[Column], Any]]


class Crowd:
    """The result arrays while they fill."""

    def __init__(self, case: Case, n_case: int, iterate: Iterate) -> None:
        self.case, self.iterate = case, iterate
        network, corner = case.network, case.corner
        self.n_load = len(network.loads)
        self.ends = [(load.positive, load.negative) for load in network.loads]
        self.ends += [(c.input_positive, c.input_negative) for c in network.converters]
        self.needs = [law.cutoff_v for law in corner.loads] + [law.lockout_v for law in corner.converters]
        self.voltage_v = np.empty((len(network.nodes), n_case))
        self.load_mode = np.zeros((n_case, self.n_load), dtype=np.int8)
        self.converter_mode = np.zeros((n_case, len(network.converters)), dtype=np.int8)
        self.feed_mode = np.zeros((n_case, len(network.feeds)), dtype=np.int8)
        self.browned_out = np.zeros((n_case, self.n_load), dtype=bool)
        self.locked_out = np.zeros(self.converter_mode.shape, dtype=bool)
        self.collapsed = np.zeros(n_case, dtype=bool)
        self.alone: list[int] = []

    def run(self, figures: Figures, index: Array) -> None:
        """Solve a chunk with its cascade: in every round each case takes off its deepest element."""
        n_element = len(self.ends)
        rank = np.zeros((figures.n_case, n_element), dtype=int)  # in which round an element was taken off
        active = np.arange(figures.n_case)
        for turn in range(1, n_element + 2):
            if not len(active):
                break
            fine, deepest = self.attempt(figures, index, active, rank > 0)
            rows = active[deepest >= 0]
            rank[rows, deepest[deepest >= 0]] = turn
            self.alone += [int(k) for k in index[active[~fine & (deepest < 0)]]]
            active = rows
        self.put_back(figures, index, rank)

    def put_back(self, figures: Figures, index: Array, rank: Array) -> None:
        """Try again what was only pulled down by something taken off later, as `modes` does."""
        last = rank.max(axis=1, initial=0)
        for turn in range(1, int(last.max(initial=0))):
            rows = np.flatnonzero((last > turn) & ~np.isin(index, self.alone))
            if len(rows):
                trial = rank.copy()
                trial[trial == turn] = 0
                fine, _ = self.attempt(figures, index, rows, trial > 0)
                rank[rows[fine]] = trial[rows[fine]]

    def attempt(self, figures: Figures, index: Array, rows: Array, off: Array) -> tuple[Array, Array]:
        """Solve some cases with elements off and keep what is fine.

        Which cases are fine, and the element that has to go next in those that were solved but are not.
        """
        fine = np.zeros(len(rows), dtype=bool)
        deepest = np.full(len(rows), -1)
        for inside, converters_off in _alike(off[rows][:, self.n_load :]):
            at = rows[inside]
            part = figures if len(at) == figures.n_case else figures.take(at)
            modes, v, found = self.settle(part, off[at][:, : self.n_load], converters_off)
            if self.calm(part, modes, v):
                low = np.full(part.n_case, -1)
            else:
                found = found & ~self.starved(part, modes, v)
                low = np.where(found, self.deepest(part, modes, v), -1)
            good = found & (low < 0)
            if good.all():
                self.keep(index[at], off[at], modes, v)
            elif good.any():
                self.keep(index[at[good]], off[at[good]], modes.take(good), [x[good] for x in v])
            fine[inside], deepest[inside] = good, low
        return fine, deepest

    def settle(self, figures: Figures, loads_off: Array, converters_off: Array) -> tuple[Modes, list[Array], Array]:
        """Voltages and modes of all cases; which cases were found."""
        case, n_case = self.case, figures.n_case
        state = first_state(case.corner)
        for i in map(int, np.flatnonzero(converters_off)):
            state.converter[i] = OFF
        ground = case.reach(state)
        for i in ground.dead_converters:
            state.converter[i] = OFF
        start, passing = _start(case, figures, ground.walk)
        for i in passing:
            state.converter[i] = PASSING if state.converter[i] != OFF else OFF
        load: list[Any] = [DEAD if i in ground.dead_loads else ON for i in range(self.n_load)]
        for i in map(int, np.flatnonzero(loads_off.any(axis=0))):
            load[i] = np.where(loads_off[:, i], OFF, load[i])
        modes = Modes(load, list(state.converter), list(state.feed)).uniform()
        v, found = self.iterate(case, figures, modes, ground.pins, start)
        v = [np.broadcast_to(x, (n_case,)) for x in v]
        found = found & ~self.afloat(loads_off, converters_off)
        busy = self.changes(figures, modes, v) & found
        if busy.any():
            modes = Modes(modes.load, *([_spread(m, n_case) for m in ms] for ms in (modes.converter, modes.feed)))
            v, found = [x.copy() for x in v], found.copy()
            for _ in range(MOST_ROUNDS):
                rows = np.flatnonzero(busy)
                if not len(rows):
                    break
                part, near = figures.take(rows), [x[rows] for x in v]
                new = self.wanted(part, modes.take(rows), near)
                near, ok = self.iterate(case, part, new.uniform(), ground.pins, near)
                for mine, theirs in zip(
                    (*v, *modes.converter, *modes.feed), (*near, *new.converter, *new.feed), strict=True
                ):
                    mine[rows] = theirs
                found[rows] = ok
                busy[rows] = self.changes(part, new, [x[rows] for x in v]) & ok
            found &= ~busy
        return modes, v, found

    def afloat(self, loads_off: Array, converters_off: Array) -> Array:
        """Cases in which a load that was taken off was all that tied an island: left to the careful solver."""
        out = np.zeros(len(loads_off), dtype=bool)
        state = first_state(self.case.corner)
        for i in map(int, np.flatnonzero(converters_off)):
            state.converter[i] = OFF
        tied = self.case.reach(state).pins
        for i in map(int, np.flatnonzero(loads_off.any(axis=0))):
            if self.case.corner.loads[i].conductance_s > 0.0:
                state.load[i] = OFF
                if self.case.reach(state).pins != tied:
                    out |= loads_off[:, i]
                state.load[i] = ON
        return out

    def wanted(self, figures: Figures, modes: Modes, v: list[Array]) -> Modes:
        """The modes that fit the voltages; a converter that is off stays off."""
        network = self.case.network
        converter = [
            now if _is_off(now) else wanted_converter(network, figures, i, now, v)
            for i, now in enumerate(modes.converter)
        ]
        running = self.case.corner.feeds
        feed = [
            wanted_feed(network, figures, i, now, v) if running[i].running else now for i, now in enumerate(modes.feed)
        ]
        return Modes(modes.load, converter, feed)

    def changes(self, figures: Figures, modes: Modes, v: list[Array]) -> Array:
        """Cases in which some mode does not fit."""
        new = self.wanted(figures, modes, v)
        out = np.zeros(figures.n_case, dtype=bool)
        for a, b in zip((*new.converter, *new.feed), (*modes.converter, *modes.feed), strict=True):
            out |= a != b
        return out

    def calm(self, figures: Figures, modes: Modes, v: list[Array]) -> bool:
        """A quick look at all cases: nothing that is on is near any lower limit."""
        for i, (plus, minus) in enumerate(self.ends):
            j = i - self.n_load
            mode = modes.load[i] if j < 0 else modes.converter[j]
            if isinstance(mode, int) and mode in (OFF, DEAD):
                continue
            floor = self.case.corner.loads[i].floor_v if j < 0 else floor_v(figures, j)
            least_v = np.maximum(self.needs[i], floor) if self.needs[i] > 0.0 else floor
            if not (v[plus] - v[minus] > least_v).all():
                return False
        return True

    def starved(self, figures: Figures, modes: Modes, v: list[Array]) -> Array:
        """Cases in which something draws constant power below its floor."""
        out = np.zeros(figures.n_case, dtype=bool)
        for i, (plus, minus) in enumerate(self.ends):
            volts = v[plus] - v[minus]
            if i < self.n_load:
                draws = (np.asarray(modes.load[i]) == ON) & (np.asarray(figures.columns["load_w"][i]) > 0.0)
                out |= draws & (volts <= self.case.corner.loads[i].floor_v)
            else:
                mode = np.asarray(modes.converter[i - self.n_load])
                out |= (mode != OFF) & (mode != PASSING) & (volts <= floor_v(figures, i - self.n_load))
        return out

    def deepest(self, figures: Figures, modes: Modes, v: list[Array]) -> Array:
        """The element relatively deepest below its limit in each case, -1 where none is."""
        least = np.full(figures.n_case, 1.0 - 1e-12)
        code = np.full(figures.n_case, -1)
        for i, (plus, minus) in enumerate(self.ends):
            if self.needs[i] > 0.0:
                mode = modes.load[i] if i < self.n_load else modes.converter[i - self.n_load]
                on = (np.asarray(mode) != OFF) & (np.asarray(mode) != DEAD) if i < self.n_load else mode != OFF
                share = np.where(on, (v[plus] - v[minus]) / self.needs[i], 1.0)
                code = np.where(share < least, i, code)
                least = np.minimum(least, share)
        return code

    def keep(self, at: Array, off: Array, modes: Modes, v: list[Array]) -> None:
        """Write solved cases into the result."""
        at = side_by_side(at)
        for k, x in enumerate(v):
            self.voltage_v[k, at] = x
        for i, mode in enumerate(modes.load):
            self.load_mode[at, i] = mode
        for i, mode in enumerate(modes.converter):
            self.converter_mode[at, i] = mode
        for i, mode in enumerate(modes.feed):
            self.feed_mode[at, i] = mode
        self.browned_out[at] = off[:, : self.n_load]
        self.locked_out[at] = off[:, self.n_load :]

    def place(self, k: int, point: OperatingPoint) -> None:
        """Write one case solved alone into the result."""
        self.voltage_v[:, k] = point.voltage_v
        dead = [v == 0.0 and not on for v, on in zip(point.load_v, point.load_on, strict=True)]
        off = [DEAD if nothing else OFF for nothing in dead]
        self.load_mode[k] = [ON if on else other for on, other in zip(point.load_on, off, strict=True)]
        self.converter_mode[k] = [CONVERTER_MODES.index(mode) for mode in point.converter_mode]
        self.feed_mode[k] = [FEED_MODES.index(mode) for mode in point.feed_mode]
        for event in point.events:
            self.collapsed[k] |= event.kind == "collapsed"
            for names, flags in (
                ([load.name for load in self.case.network.loads], self.browned_out),
                ([c.name for c in self.case.network.converters], self.locked_out),
            ):
                if event.kind != "collapsed" and event.element in names:
                    flags[k, names.index(event.element)] = True


def side_by_side(index: Array) -> Any:
    """The same cases as a slice where they lie side by side: no copying."""
    first, last = int(index[0]), int(index[-1])
    return slice(first, last + 1) if last - first + 1 == len(index) else index


def _alike(converters_off: Array) -> list[tuple[Array, Array]]:
    """Groups of cases in which the same converters are off: the cases, and which are off."""
    if not converters_off.any():
        return [(np.arange(len(converters_off)), np.zeros(converters_off.shape[1], dtype=bool))]
    sets, member = np.unique(converters_off, axis=0, return_inverse=True)
    member = member.reshape(-1)
    return [(np.flatnonzero(member == k), one) for k, one in enumerate(sets)]


def _start(case: Case, figures: Figures, walk: tuple[Step, ...]) -> tuple[list[Column], tuple[int, ...]]:
    """The flat start of every case, and the converters that pass on their input in the nominal one."""
    passing = start_voltages(case.network, case.corner, walk)[1]
    set_v = list(figures.columns["set_v"])
    v = _along(figures, walk, set_v, len(case.network.nodes))
    for i in passing:
        c = case.network.converters[i]
        set_v[i] = v[c.input_positive] - v[c.input_negative] - case.corner.converters[i].pass_drop_v
        v = _along(figures, walk, set_v, len(case.network.nodes))
    return v, passing


def _along(figures: Figures, walk: tuple[Step, ...], set_v: list[Column], n_node: int) -> list[Column]:
    c = figures.columns
    rise = {"source": c["source_v"], "converter": set_v, "feed": c["feed_v"]}
    v: list[Column] = [0.0] * n_node
    for node, other, kind, index, sign in walk:
        v[node] = v[other] + sign * rise[kind][index] if kind else v[other]
    return v


def _spread(mode: Any, n_case: int) -> Array:
    return np.full(n_case, mode) if isinstance(mode, int) else mode


def _is_off(mode: Any) -> bool:
    """Whether a converter is off in all cases: it is off in all of a group or in none."""
    return isinstance(mode, int) and mode == OFF or not isinstance(mode, int) and bool((mode == OFF).all())
