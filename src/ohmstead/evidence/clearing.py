"""How a fuse answers a fault: the time it may take, and whether the wire survives that time."""

from collections.abc import Iterator
from math import inf

from ..parts.fuse import Fuse, with_rating
from ..parts.wire import Wire
from ..wiring.adiabatic import withstand_a2s
from ..wiring.fuse_time import continuous_a, melting_window_s, opens_within
from .coverage import fuse_left_open, limited, over_cable, share_through
from .remedy import OVERLOAD_FACTOR, drop_ohm, thicker_wires
from .views import Evidence, FuseView, RunView

OVERLOAD_S = 3600.0  # the hour of IEC 60364-4-43, 433.1, from memory


def guard_share(evidence: Evidence, view: RunView) -> float:
    """Share of the current in a run that flows through its guard."""
    return share_through(evidence, view.guard, view) if view.guard else 1.0


def slowest_s(evidence: Evidence, view: RunView, current_a: float) -> float:
    """Latest time at which the guard has cleared a current in a run; infinite when it never need. [s]"""
    if view.guard is None:
        return inf
    coldest_c = evidence.run(view.guard.run).coldest_c
    return melting_window_s(view.guard.fuse, current_a * guard_share(evidence, view), coldest_c)[1]


def clears_from_a(evidence: Evidence, view: RunView, guard: FuseView, fuse: Fuse) -> float:
    """The smallest current in a run that a fuse in the guard's place surely clears in time. [A]"""
    coldest_c = evidence.run(guard.run).coldest_c
    return opens_within(fuse, evidence.clear_within_s, coldest_c) / guard_share(evidence, view)


def faulted(evidence: Evidence) -> Iterator[RunView]:
    """Runs whose far-end fault a fuse must answer, and on which no graver rule has spoken.

    Left out: runs without a guard (unfused-run), runs with too large a one (fuse-over-cable), runs whose
    source cannot deliver more than the wire bears, and negatives on their own.
    """
    for view in evidence.runs:
        if view.guard is None or view.fault_far is None or view.run.wires == "negative" or limited(view):
            continue
        if over_cable(evidence, view) is None and not fuse_left_open(evidence, view):
            yield view


def not_cleared(evidence: Evidence, view: RunView) -> bool:
    """True when the smallest fault at a run's far end may last longer than the time allowed."""
    if view.guard is None or view.fault_far is None:
        return False
    return slowest_s(evidence, view, view.fault_far.smallest_a) > evidence.clear_within_s


def survives(view: RunView, current_a: float, duration_s: float) -> bool:
    """Whether a run's wire comes through a current that lasts a time; True when its wire is not known.

    A wire bears its ampacity for ever and 1.45 times it for an hour; a larger current when k²S² is above I²t,
    which counts no heat lost to the air and so errs on the safe side.
    """
    if view.wire is None or view.ampacity is None or current_a <= view.ampacity.value_a:
        return True
    if current_a <= OVERLOAD_FACTOR * view.ampacity.value_a and duration_s <= OVERLOAD_S:
        return True
    return current_a**2 * duration_s <= wire_withstand_a2s(view.wire)


def wire_withstand_a2s(wire: Wire) -> float:
    """The I²t a wire survives that is as warm as its insulation bears when the fault begins. [A²s]"""
    return withstand_a2s(wire.area_mm2, wire.insulation_c, wire.fault_c, wire.metal)


def burning_a(evidence: Evidence, view: RunView) -> float | None:
    """The fault current that does the wire most harm; None when it survives every one, or is not cleared. [A]"""
    if not_cleared(evidence, view):
        return None  # fault-not-cleared speaks, and says whether the wire survives
    bad = [amps for amps in fault_currents_a(view) if not survives(view, amps, slowest_s(evidence, view, amps))]
    return max(bad, key=lambda amps: heat_ratio(evidence, view, amps), default=None)


def fault_currents_a(view: RunView) -> Iterator[float]:
    """From the smallest short at the far end to the largest at the near one, and the bends of the fuse's curve. [A]"""
    guard = view.guard
    if guard is None or view.fault_far is None or view.fault_near is None:
        return
    gates = [gate.percent * guard.rating_a / 100 for gate in guard.fuse.window.gates]
    top = min(view.fault_near.largest_a, guard.fuse.breaking_capacity_a(view.source_high.value))
    if guard.fuse.family.kind == "breaker":
        top = min(top, gates[-1])  # what a breaker lets through beyond is only in its maker's sheet
    low = view.fault_far.smallest_a
    yield from (amps for amps in (low, *gates, top) if low <= amps <= top)


def heat_ratio(evidence: Evidence, view: RunView, current_a: float) -> float:
    """Heat let through over heat survived."""
    if view.wire is None:
        return 0.0
    return current_a**2 * slowest_s(evidence, view, current_a) / wire_withstand_a2s(view.wire)


def fuse_that_clears(evidence: Evidence, view: RunView, current_a: float) -> Fuse | None:
    """The largest smaller fuse of the guard's kind that clears a current in time and carries the load."""
    guard = view.guard
    if guard is None:
        return None
    load_a = evidence.run(guard.run).sustained.value
    for rating in sorted(guard.fuse.family.ratings_a, reverse=True):
        if rating >= guard.rating_a:
            continue
        fuse = with_rating(guard.fuse, rating)
        if clears_from_a(evidence, view, guard, fuse) <= current_a:
            return fuse if continuous_a(fuse, guard.ambient_c) >= load_a else None
    return None


def wire_that_clears(evidence: Evidence, view: RunView, needed_a: float) -> Wire | None:
    """The thinnest wire for a run with which its smallest far-end fault reaches a current."""
    battery = next((battery for battery in evidence.batteries if battery.name == view.fed_by), None)
    if view.wire is None or view.fault_far is None or battery is None or view.fault_far.smallest_a <= 0:
        return None
    loop_ohm = battery.low_v / view.fault_far.smallest_a
    allowed_ohm = view.loop_hot_ohm - (loop_ohm - battery.low_v / needed_a)
    return next((wire for wire in thicker_wires(view.wire) if drop_ohm(view, wire) <= allowed_ohm), None)
