"""The nose of the P-V curve: how far the constant-power loads can grow, and what gives way there.

A continuation in the factor on all constant power. Close to the nose the determinant of the Jacobian
falls like the square root of the distance, so its square falls in a straight line: a secant on it gives
the next factor to try, and trials beyond the nose bracket it from above. Where a converter's current limit
ends the curve earlier there is no such line, and the bracket is halved.
"""

from dataclasses import dataclass
from math import log

from .jacobian import converter_slopes_s, factor, jacobian, load_slope_s
from .settle import Case, Settled, settle
from .state import LOW, OFF, ON, PASSING, State

MOST_FACTOR = 1e6
LEAST_FACTOR = 1e-6
FALL = 0.2


@dataclass(frozen=True, slots=True)
class Nose:
    """`factor`: largest factor with an operating point, `last` that point, `base` the one
    without constant power, `beyond` the failing one just above.

    `beyond` is None where the target was reached (or where nothing ever gives way).
    """

    factor: float
    base: Settled
    last: Settled | None
    beyond: Settled | None


def climb(case: Case, wanted: State, target: float, tolerance: float) -> Nose:
    """Follow the operating point from no constant power up to `target`, or to the nose if that is lower."""
    point = settle(case, wanted, 0.0)
    if not point.found:
        return Nose(0.0, point, None, point)
    base = point
    endless = target >= MOST_FACTOR
    top = None if endless else settle(case, wanted, target, point)
    if top is not None and top.found:
        return Nose(target, base, top, None)
    low = 0.0
    fails: list[tuple[float, Settled]] = [] if top is None else [(target, top)]
    before: tuple[float, float] | None = None
    here = (0.0, 1.0)
    reference = _log_det(point)
    trial = 1.0 if endless else 0.5 * target
    while True:
        test = settle(case, wanted, trial, point)
        if test.found and not (endless and _fell(point, test)):
            same = test.state.key() == point.state.key()
            low, point = trial, test
            before, here = (here if same else None), (trial, _ratio(test, reference))
            while fails and fails[-1][0] <= low:
                fails.pop()
        else:
            fails.append((trial, test))
        ceiling = fails[-1][0] if fails else float("inf")
        if low >= MOST_FACTOR or (low >= target and not fails):
            break
        if fails and (ceiling - low <= tolerance * ceiling or ceiling < LEAST_FACTOR):
            if fails[-1][0] == trial:
                break
            trial = ceiling  # it failed from afar: once more from nearby
            continue
        trial = _next(before, here, low, ceiling, tolerance)
    return Nose(low, base, point, fails[-1][1] if fails else None)


def _fell(point: Settled, test: Settled) -> bool:
    """Whether a voltage dropped so far, with a change of modes, that the curve may have been left."""
    if test.state.key() == point.state.key():
        return False
    pairs = zip(point.voltage_v, test.voltage_v, strict=True)
    return any(abs(a - b) > FALL * max(abs(a), 1.0) for a, b in pairs)


def _log_det(point: Settled) -> float:
    return sum([log(p) for p in point.pivots]) if point.pivots else 0.0


def _ratio(point: Settled, reference: float) -> float:
    """Square of the determinant over its value without constant power."""
    exponent = 2.0 * (_log_det(point) - reference)
    return 2.718281828459045**exponent if exponent < 300.0 else float("inf")


def _next(
    before: tuple[float, float] | None,
    here: tuple[float, float],
    low: float,
    ceiling: float,
    tolerance: float,
) -> float:
    """The next factor to try, inside the bracket."""
    guess = 2.0 * low if ceiling == float("inf") else 0.5 * (low + ceiling)
    if ceiling == float("inf") and low == 0.0:
        guess = 1.0
    if before is not None and before[1] > here[1]:
        zero = here[0] + here[1] * (here[0] - before[0]) / (before[1] - here[1])
        # a hair beyond the foot of the secant, so that the nose is bracketed from both sides
        zero += 0.5 * tolerance * zero
        if ceiling == float("inf"):
            return min(zero, 4.0 * max(low, 1e-3))
        if low < zero < ceiling:
            return zero
    return guess


@dataclass(frozen=True, slots=True)
class Weakest:
    """The element that gives way: kind "load" or "converter", its place, its voltage, its share."""

    kind: str
    index: int
    voltage_v: float
    share: float


def weakest(case: Case, nose: Nose) -> Weakest | None:
    """The element that gives way at the nose, or the lowest one where not even idling is possible.

    It is the element with the largest part in the negative conductance that undoes the worst pivot.

    With u and w the right and left directions of that pivot, w·J·u equals it. Every element adds its
    slope times its part of w and of u: what is resistive holds up, what draws constant power pulls down,
    at the nose the two are equal, and the strongest pull names the element.
    """
    point = nose.last or nose.beyond
    if point is None:
        return None
    state, pivots = point.state, point.pivots
    if nose.beyond is not None and nose.beyond.slip is not None:
        slipped = nose.beyond.slip
        if nose.last is None or slipped[0].key() != point.state.key():
            state, pivots = slipped
    v = point.voltage_v
    network, corner = case.network, case.corner
    u, w = _directions(case, state, v, nose, pivots)

    def pull(plus: int, minus: int) -> float:
        return (u.get(plus, 0.0) - u.get(minus, 0.0)) * (w.get(plus, 0.0) - w.get(minus, 0.0))

    found: list[Weakest] = []
    for i, load in enumerate(network.loads):
        if state.load[i] in (ON, LOW):
            volts = v[load.positive] - v[load.negative]
            slope_s = load_slope_s(corner, state, i, volts, nose.factor) - corner.loads[i].conductance_s
            found.append(Weakest("load", i, volts, -slope_s * pull(load.positive, load.negative)))
    for i, c in enumerate(network.converters):
        if state.converter[i] not in (OFF, PASSING):
            volts = v[c.input_positive] - v[c.input_negative]
            out_v = v[c.output_positive] - v[c.output_negative]
            slope_s = converter_slopes_s(corner, state, i, (volts, out_v))[0]
            found.append(Weakest("converter", i, volts, -slope_s * pull(c.input_positive, c.input_negative)))
    pulling = [one for one in found if one.share > 0.0]
    if pulling:
        return max(pulling, key=lambda one: one.share)
    return min(found, key=lambda one: one.voltage_v, default=None)


def _directions(
    case: Case, state: State, v: list[float], nose: Nose, seen: tuple[float, ...]
) -> tuple[dict[int, float], dict[int, float]]:
    """Right and left direction of the pivot that fell most since there was no constant power."""
    rows = jacobian(case.network, case.corner, state, v, nose.factor)
    for k, pin_s in enumerate(case.reach(state).pins, 1):
        if pin_s:
            rows[k][k] = rows[k].get(k, 0.0) + pin_s
    pivots, lower, upper = factor(rows, case.program.plan)
    moving = case.program.moving
    order = [step.node for step in (*case.program.plan.fixed, *case.program.plan.moving)]
    first = dict(zip(moving, nose.base.pivots, strict=len(nose.base.pivots) > 0))
    last = dict(zip(moving, seen, strict=len(seen) > 0))
    fallen_below = [k for k in moving if last.get(k, 1.0) <= 0.0]
    if fallen_below:
        worst = fallen_below[0]
    else:
        worst = min(moving, key=lambda k: last.get(k, pivots[k]) / abs(first.get(k, 1.0)))
    u = {worst: 1.0}
    w = {worst: 1.0}
    for k in reversed(order[: order.index(worst)]):
        u[k] = -sum([a * u.get(j, 0.0) for j, a in upper[k].items()]) / pivots[k]
        w[k] = -sum([a * w.get(i, 0.0) for i, a in lower[k].items()])
    return u, w
