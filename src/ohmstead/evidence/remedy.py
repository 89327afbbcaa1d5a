"""The next size that works: wires and fuses to name in a finding's mend, and what decides them."""

from collections.abc import Iterator
from math import inf

from ..parts.fuse import Fuse, rating_at_least, rating_at_most, with_rating
from ..parts.fuse_family import FuseFamily, fuse_family
from ..parts.wire import Wire, like_wire, standard_sizes
from ..quantity.show import show, show_area_both
from ..site.record import record
from ..wiring.ampacity import Laid, ampacity_a
from ..wiring.fuse_time import continuous_a, opens_within
from .views import FuseView, RunView

# Families to look through when the fuse's own has no rating that fits: common and cheap ones first.
FAMILIES = ("blade-regular", "blade-regular-58v", "cylinder-10x38", "class-t", "stud", "nh-gpv", "strip")
# IEC 60364-4-43, 433.1, from memory: a wire bears 1.45 times its ampacity until its fuse opens, an hour.
OVERLOAD_FACTOR = 1.45
NEARLY_FRACTION = 0.3  # ratings this close serve the same circuit; common practice, one step of a series


@record(frozen=True)
class Choice:
    """A wire that fits every need, and the need that made it so thick: "current" or "voltage drop"."""

    wire: Wire
    decided_by: str


def thicker_wires(wire: Wire) -> Iterator[Wire]:
    """The same wire in every thicker standard size of its own system, thinnest first."""
    for size in standard_sizes(wire.system):
        candidate = like_wire(wire, size)
        if candidate.area_mm2 > wire.area_mm2 * 1.0001:
            yield candidate


def carries_a(view: RunView, wire: Wire, rules: str) -> float:
    """What a wire would carry for hours in the place of a run's own. [A]"""
    return ampacity_a(wire, Laid(view.run.laid.method, view.run.laid.circuits), view.ambient_c, rules).value_a


def drop_ohm(view: RunView, wire: Wire) -> float:
    """Loop resistance the run would have with another wire: conductors change, joints and fuse stay. [Ω]"""
    if view.wire is None:
        return view.loop_hot_ohm
    share = wire.resistance_20_ohm_per_km / view.wire.resistance_20_ohm_per_km
    return max(0.0, view.loop_hot_ohm - view.joint_ohm) * share + view.joint_ohm


def smallest_wire_for_current(view: RunView, current_a: float, rules: str) -> Wire | None:
    """The thinnest standard wire, thicker than the run's own, that carries a current where the run lies."""
    if view.wire is None:
        return None
    fits = (wire for wire in thicker_wires(view.wire) if carries_a(view, wire, rules) >= current_a)
    return next(fits, None)


def smallest_wire_for_drop(view: RunView, current_a: float, allowed_v: float) -> Wire | None:
    """The thinnest standard wire, thicker than the run's own, that loses no more than a voltage."""
    if view.wire is None:
        return None
    fits = (wire for wire in thicker_wires(view.wire) if drop_ohm(view, wire) * current_a <= allowed_v)
    return next(fits, None)


def smallest_wire(view: RunView, current_a: float, allowed_v: float, rules: str) -> Choice | None:
    """The thinnest standard wire that does both, and which of the two decides."""
    by_current = smallest_wire_for_current(view, current_a, rules)
    by_drop = smallest_wire_for_drop(view, current_a, allowed_v)
    if by_current is None or by_drop is None:
        return None
    if by_drop.area_mm2 > by_current.area_mm2:
        return Choice(by_drop, "voltage drop")
    return Choice(by_current, "current")


def largest_fuse_under(view: RunView, limit_a: float) -> Fuse | None:
    """The largest fuse not above a limit: of the run's own kind, else of a kind that fits the place."""
    found = view.own_fuse or view.guard
    if found is not None:
        rating = rating_at_most(found.fuse.family, limit_a)
        if rating is not None:
            return with_rating(found.fuse, rating)
    return fitting_fuse(view, limit_a)


def next_fuse_over(fuse: Fuse, current_a: float) -> Fuse | None:
    """The smallest fuse of the same kind whose rating is not below a current."""
    rating = rating_at_least(fuse.family, current_a)
    return None if rating is None else with_rating(fuse, rating)


def fitting_fuse(view: RunView, most_a: float) -> Fuse | None:
    """The largest fuse up to a rating that bears the voltage of a run, breaks its fault and carries its load.

    Of kinds that come near the same rating the commoner one is named. Where none carries the load, the
    largest that may stand there at all.
    """
    fault_a, fault_v = (view.fault_near.largest_a, view.fault_near.largest_v) if view.fault_near else (0.0, 0.0)
    found = []
    for family in map(fuse_family, FAMILIES):
        rating = rating_at_most(family, most_a)
        if rating is not None and _stands(family, rating, view.source_high.value, fault_v, fault_a):
            found.append(of_family(family, rating))
    carrying = [fuse for fuse in found if continuous_a(fuse, view.ambient_c) >= view.sustained.value]
    if not carrying:
        return max(found, key=lambda fuse: fuse.rating_a, default=None)
    best_a = max(fuse.rating_a for fuse in carrying)
    return next(fuse for fuse in carrying if fuse.rating_a >= (1 - NEARLY_FRACTION) * best_a)


def breaking_fuse(
    view: RunView, own: FuseView, voltage_v: float, fault_a: float, most_a: float = inf, within_s: float = inf
) -> Fuse | None:
    """A fuse of the same rating, or nearly, that bears a voltage, breaks a fault and carries the load of a run.

    The same rating goes before the next larger one, which may not pass `most_a`, and that before a smaller one.
    One that would leave the far-end fault longer than `within_s`, or a weak short to the wire, where the present
    one does not, is passed over.
    """
    fault_v = min(voltage_v, view.fault_near.largest_v) if view.fault_near else voltage_v
    load_a = min(view.sustained.value, own.continuous_a)
    ranked = []
    for order, family in enumerate(map(fuse_family, FAMILIES)):
        for rating in family.ratings_a:
            over = rating / own.rating_a - 1
            if abs(over) > NEARLY_FRACTION or rating > max(most_a, own.rating_a):
                continue
            fuse = of_family(family, rating)
            carries = continuous_a(fuse, own.ambient_c) >= load_a
            stands = _stands(family, rating, voltage_v, fault_v, fault_a)
            if carries and stands and _guards(view, own, fuse, within_s):
                ranked.append(((over < 0, abs(over), order), fuse))
    return min(ranked, key=lambda entry: entry[0], default=(None, None))[1]


def _guards(view: RunView, own: FuseView, fuse: Fuse, within_s: float) -> bool:
    """True when a fuse answers faults as well as the present one, or well enough."""
    far_a = view.fault_far.smallest_a if view.fault_far else 0.0
    hour_a = OVERLOAD_FACTOR * view.ampacity.value_a if view.ampacity else inf
    clears = opens_within(fuse, within_s) <= max(far_a, opens_within(own.fuse, within_s))
    return clears and opens_within(fuse, inf) <= max(hour_a, opens_within(own.fuse, inf))


def _stands(family: FuseFamily, rating_a: float, voltage_v: float, fault_v: float, fault_a: float) -> bool:
    """True when a fuse bears the highest voltage of its place and breaks the fault there."""
    bears = voltage_v <= family.rated_v
    return bears and family.breaking_capacity_a(min(fault_v, voltage_v), rating_a) >= fault_a


def of_family(family: FuseFamily, rating_a: float) -> Fuse:
    """A fuse of a family, named as a builder would write it. Raises PartError when it is not made."""
    return with_rating(Fuse(rating_a, family, ""), rating_a)


def wire_words(wire: Wire) -> str:
    """A wire with its size in both systems: "4 mm² (11 AWG) tinned", "10 AWG (5.26 mm²)"."""
    if wire.system in ("mm2", "vehicle"):
        size = show_area_both(wire.area_mm2)
    else:
        size = f"{wire.size} ({show(wire.area_mm2, 'area')})"
    metal = {"copper": "", "tinned copper": " tinned"}.get(wire.metal, f" {wire.metal}")
    vehicle = " vehicle cable" if wire.system == "vehicle" else ""
    return size + metal + vehicle
