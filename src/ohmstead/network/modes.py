"""The outer loop: what browns out, locks out or collapses is named, taken off, and the rest solved again.

Of all that is below its limit, the element that is relatively deepest goes first. When more than one was
taken off, each is tried again with the later ones off: what works then was only pulled down by them, and
is put back and not blamed.
"""

from dataclasses import dataclass

from .balance import currents, residual_a
from .elements import Event, OperatingPoint
from .nose import Nose, climb, weakest
from .settle import Case, Settled, settle
from .state import (
    CONVERTER_MODES,
    DEAD,
    FEED_MODES,
    LIMB,
    LOW,
    OFF,
    ON,
    State,
    first_state,
)

NOSE_TOLERANCE = 1e-4  # only the name of the element that collapses depends on it
HAIR = 1.0 - 1e-12
SMOOTH = 0.01  # so near its floor before it comes below, a load has not jumped there


@dataclass(frozen=True, slots=True)
class Blame:
    """An element taken off: kind "load" or "converter", its place, and the event that says why."""

    kind: str
    index: int
    event: Event


def operating_point(case: Case) -> OperatingPoint:
    """Solve one corner with its cascade of brown-outs."""
    state = first_state(case.corner)
    blamed: list[Blame] = []
    count = 0
    while True:
        settled, blame = _attempt(case, state)
        count += settled.iterations
        if blame is None:
            break
        blamed.append(blame)
        _take_off(case, state, blame)
    if len(blamed) > 1:
        settled, blamed, more = _put_back(case, settled, blamed)
        count += more
    return _record(case, settled, tuple(b.event for b in blamed), count)


def _attempt(case: Case, state: State) -> tuple[Settled, Blame | None]:
    """Solve with these elements on; name the one that must go, if any."""
    settled = settle(case, state)
    if settled.found:
        return settled, _deepest(case, settled)
    nose = climb(case, state, 1.0, NOSE_TOLERANCE)
    if nose.beyond is None and nose.last is not None:
        return nose.last, _deepest(case, nose.last)
    if nose.base.found:
        sunk = _deepest(case, nose.base)
        if sunk is not None:
            return nose.base, sunk
    low = _came_down_smoothly(case, nose)
    if low:
        for i in low:
            state.load[i] = LOW
        return _attempt(case, state)
    worst = weakest(case, nose)
    if worst is None:
        return settled, None
    network, corner = case.network, case.corner
    if worst.kind == "load":
        law = corner.loads[worst.index]
        name, needed_v = network.loads[worst.index].name, law.cutoff_v or law.floor_v
    else:
        name = network.converters[worst.index].name
        needed_v = corner.converters[worst.index].lockout_v
    return settled, Blame(worst.kind, worst.index, Event("collapsed", name, worst.voltage_v, needed_v))


def _came_down_smoothly(case: Case, nose: Nose) -> list[int]:
    """Loads that reached their floor at the end of the climb although nothing gave way there."""
    if nose.last is None or nose.beyond is None:
        return []
    v = nose.last.voltage_v
    low = [i for kind, i in nose.beyond.starved if kind == "load"]
    out: list[int] = []
    for i in low:
        load, floor_v = case.network.loads[i], case.corner.loads[i].floor_v
        if v[load.positive] - v[load.negative] < (1.0 + SMOOTH) * floor_v:
            out.append(i)
    return out


def _deepest(case: Case, settled: Settled) -> Blame | None:
    """The element relatively deepest below the voltage it needs."""
    v, state = settled.voltage_v, settled.state
    found: Blame | None = None
    least = HAIR
    for i, (load, law) in enumerate(zip(case.network.loads, case.corner.loads, strict=True)):
        if law.cutoff_v > 0.0 and state.load[i] in (ON, LOW, LIMB):
            volts = v[load.positive] - v[load.negative]
            if volts < least * law.cutoff_v:
                least = volts / law.cutoff_v
                found = Blame("load", i, Event("browned out", load.name, volts, law.cutoff_v))
    for i, (c, given) in enumerate(zip(case.network.converters, case.corner.converters, strict=True)):
        if given.lockout_v > 0.0 and state.converter[i] != OFF:
            volts = v[c.input_positive] - v[c.input_negative]
            if volts < least * given.lockout_v:
                least = volts / given.lockout_v
                found = Blame("converter", i, Event("locked out", c.name, volts, given.lockout_v))
    return found


def _take_off(case: Case, state: State, blame: Blame) -> None:
    if blame.kind == "converter":
        state.converter[blame.index] = OFF
    else:
        state.load[blame.index] = OFF if case.corner.loads[blame.index].cutoff_v > 0.0 else LIMB


def _put_back(case: Case, settled: Settled, blamed: list[Blame]) -> tuple[Settled, list[Blame], int]:
    """Try each element again with all others taken off; keep on what works then."""
    kept = list(blamed)
    count = 0
    for one in blamed[:-1]:
        others = [b for b in kept if b is not one]
        state = first_state(case.corner)
        for b in others:
            _take_off(case, state, b)
        trial = settle(case, state)
        count += trial.iterations
        if trial.found and _deepest(case, trial) is None:
            settled, kept = trial, others
    return settled, kept, count


def _record(case: Case, settled: Settled, events: tuple[Event, ...], count: int) -> OperatingPoint:
    network, corner, state = case.network, case.corner, settled.state
    v = settled.voltage_v
    if settled.checked is not None:
        flow, leak_a = settled.checked
    else:
        flow = currents(network, corner, state, v)
        leak_a = residual_a(network, flow)
    return OperatingPoint(
        corner=corner.name,
        voltage_v=tuple(v),
        branch_a=tuple(flow.branch_a),
        source_a=tuple(flow.source_a),
        load_v=tuple(
            [
                v[load.positive] - v[load.negative] if mode != DEAD else 0.0
                for load, mode in zip(network.loads, state.load, strict=True)
            ]
        ),
        load_a=tuple(flow.load_a),
        load_on=tuple([mode in (ON, LOW, LIMB) for mode in state.load]),
        converter_in_a=tuple(flow.converter_in_a),
        converter_out_a=tuple(flow.converter_out_a),
        converter_mode=tuple([CONVERTER_MODES[mode] for mode in state.converter]),
        feed_a=tuple(flow.feed_a),
        feed_mode=tuple([FEED_MODES[mode] for mode in state.feed]),
        events=events,
        residual_a=leak_a,
        iterations=count,
    )
