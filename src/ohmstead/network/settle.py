"""Find the modes that agree with the voltages they lead to: regulating or limiting, holding or limited.

Each converter's and charger's characteristic is one falling curve made of pieces; a mode is the piece that
rules at the voltages found. Modes start at "regulating" and "holding" and are corrected until none changes.
Should the corrections ever run in a circle, they go on one element at a time, and an element that keeps
flipping stays on the piece that delivers less: the search always ends.
"""

from dataclasses import dataclass, field, replace

from .balance import Currents, allowed_residual_a, currents, residual_a
from .elements import Corner, Network
from .emit import Program
from .newton import Newton, damped, newton
from .reach import Reach, pattern_of, reach, start_voltages
from .state import (
    DEAD,
    LIMITING,
    OFF,
    ON,
    PASSING,
    REGULATING,
    State,
    input_floor_v,
    wanted_converter_mode,
    wanted_feed_mode,
)

MOST_ROUNDS = 60


@dataclass(slots=True)
class Case:
    """One corner of one network with what was prepared for it.

    `soft` names sources that only follow the others (capacitors): they set no start voltages.
    """

    network: Network
    program: Program
    corner: Corner
    patterns: dict[tuple[object, ...], Reach] = field(default_factory=dict)
    soft: frozenset[int] = frozenset()

    def reach(self, state: State) -> Reach:
        """Islands and dead elements in a state, remembered by pattern."""
        key = pattern_of(self.corner, state)
        found = self.patterns.get(key)
        if found is None:
            found = self.patterns[key] = reach(self.network, self.corner, state, self.soft)
        return found


@dataclass(frozen=True, slots=True)
class Settled:
    """Voltages with the modes that belong to them; `found` is False where there is no operating point.

    `starved` lists, as (kind, place), what "works" only on the resistance that stands in for it at very low
    voltage: then `found` is False as well, though the voltages do solve the equations. `slip` holds the modes
    and pivots of the last try that had no operating point.
    """

    state: State
    voltage_v: list[float]
    found: bool
    pivots: tuple[float, ...]
    starved: tuple[tuple[str, int], ...]
    slip: tuple[State, tuple[float, ...]] | None
    iterations: int
    checked: tuple[Currents, float] | None = None


def settle(case: Case, wanted: State, scale: float = 1.0, warm: Settled | None = None) -> Settled:
    """Solve for voltages and modes. `wanted` says which elements are on; it is not changed.

    `warm` is a solution at a smaller `scale` to start from; without it the start is flat.
    """
    state = wanted.copy()
    ground = case.reach(state)
    for i in ground.dead_loads:
        if state.load[i] != OFF:
            state.load[i] = DEAD
    for i in ground.dead_converters:
        state.converter[i] = OFF
    flat_v, passing = start_voltages(case.network, case.corner, ground.walk)
    start_v = flat_v
    if warm is None:
        for i in passing:
            if state.converter[i] != OFF:
                state.converter[i] = PASSING
    else:
        state.converter, state.feed = warm.state.converter[:], warm.state.feed[:]
        start_v = warm.voltage_v
    seen: set[tuple[int, ...]] = set()
    frozen: set[int] = set()
    single = False
    slip = None
    count = 0
    for _ in range(MOST_ROUNDS):
        answer = _solve(case, state, ground, (start_v, flat_v), scale)
        count += answer.iterations
        if not answer.found:
            slip = state.copy(), tuple(answer.pivots)
        changes = _changes(case, state, answer)
        changes = [change for change in changes if change[0] not in frozen]
        if not changes:
            break
        if single:
            changes = changes[:1]
        for place, mode in changes:
            _set(state, place, mode)
        key = state.key()
        if key in seen:
            if single:
                frozen.add(changes[0][0])
                _hold_less(state, changes[0][0])
            single = True
            seen.clear()
        seen.add(key)
        start_v = answer.voltage_v if answer.found else flat_v
    starved = _starved(case, state, answer.voltage_v, scale) if answer.found else ()
    found = answer.found and not starved
    return Settled(state, answer.voltage_v, found, tuple(answer.pivots), starved, slip, count, answer.checked)


def _solve(case: Case, state: State, ground: Reach, starts: tuple[list[float], list[float]], scale: float) -> Newton:
    """Newton from the given start, then from the flat one, then the careful way; verified."""
    start_v, flat_v = starts
    answer = newton(case.program, case.corner, state, ground.pins, start_v, scale)
    if not answer.found and start_v is not flat_v:
        answer = newton(case.program, case.corner, state, ground.pins, flat_v, scale)
    if answer.found:
        flow = currents(case.network, case.corner, state, answer.voltage_v, scale)
        leak_a = residual_a(case.network, flow)
        if leak_a <= allowed_residual_a(flow):
            return replace(answer, checked=(flow, leak_a))
        start_v = answer.voltage_v
    elif answer.passed:
        return answer
    else:
        start_v = flat_v
    careful = damped(case.network, case.corner, state, ground.pins, start_v, scale)
    count = answer.iterations + careful.iterations
    return Newton(careful.voltage_v, careful.found, False, answer.pivots, count, careful.checked)


def _changes(case: Case, state: State, answer: Newton) -> list[tuple[int, int]]:
    """(place, mode) of every converter, then charger, whose mode does not fit the voltages.

    Voltages without an operating point still tell which outputs are overloaded, and a boost that cannot hold
    an overload at its current limit sags until its input passes through; they tell no more than that.
    """
    v = answer.voltage_v
    sunk = _sunk_island(case, answer)
    out: list[tuple[int, int]] = []
    for i, (c, law) in enumerate(zip(case.network.converters, case.corner.converters, strict=True)):
        now = state.converter[i]
        if now == OFF:
            continue
        in_v = v[c.input_positive] - v[c.input_negative]
        out_v = v[c.output_positive] - v[c.output_negative]
        mode = wanted_converter_mode(c.kind, law, now, in_v, out_v)
        if not answer.found:
            if c.kind == "boost" and now == LIMITING and case.program.plan.island[c.output_positive] == sunk:
                mode = PASSING
            elif (now, mode) != (REGULATING, LIMITING):
                continue
        if mode != now:
            out.append((i, mode))
    if answer.found:
        out += _feed_changes(case, state, v)
    return out


def _feed_changes(case: Case, state: State, v: list[float]) -> list[tuple[int, int]]:
    """Chargers whose mode does not fit. Those that another one pushes back go first: what the others give to a
    charger that is no longer there is no reason to leave the voltage that they hold."""
    n = len(state.converter)
    out: list[tuple[int, int]] = []
    for i, (f, feed) in enumerate(zip(case.network.feeds, case.corner.feeds, strict=True)):
        if feed.running:
            mode = wanted_feed_mode(feed, state.feed[i], v[f.positive] - v[f.negative])
            if mode != state.feed[i]:
                out.append((n + i, mode))
    pushed = [change for change in out if change[1] == OFF]
    return pushed or out


def _sunk_island(case: Case, answer: Newton) -> int:
    """The wired island in which the first pivot is not positive; -1 if none is known."""
    for node, pivot in zip(case.program.moving, answer.pivots, strict=len(answer.pivots) > 0):
        if pivot <= 0.0:
            return case.program.plan.island[node]
    return -1


def _set(state: State, place: int, mode: int) -> None:
    n = len(state.converter)
    if place < n:
        state.converter[place] = mode
    else:
        state.feed[place - n] = mode


def _hold_less(state: State, place: int) -> None:
    """Leave a flipping converter on the piece that delivers less."""
    if place < len(state.converter) and state.converter[place] == REGULATING:
        state.converter[place] = LIMITING


def _starved(case: Case, state: State, v: list[float], scale: float) -> tuple[tuple[str, int], ...]:
    """What draws constant power at a voltage below its floor."""
    out: list[tuple[str, int]] = []
    for i, (load, law) in enumerate(zip(case.network.loads, case.corner.loads, strict=True)):
        draws = state.load[i] == ON and scale * law.power_w > 0.0
        if draws and v[load.positive] - v[load.negative] <= law.floor_v:
            out.append(("load", i))
    for i, (c, given) in enumerate(zip(case.network.converters, case.corner.converters, strict=True)):
        draws = state.converter[i] not in (OFF, PASSING)
        if draws and v[c.input_positive] - v[c.input_negative] <= input_floor_v(given):
            out.append(("converter", i))
    return tuple(out)
