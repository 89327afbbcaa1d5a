"""Newton's method on one corner with every mode given: start high, verify, fall back to pivoting.

From open circuit the equations of constant-power loads bend one way only, so the undamped iteration comes
down to the operating point from above and never passes it. A pivot that is not positive on the way, or no
end of the way, means that the point of collapse was passed: there is no operating point in these modes.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from operator import sub

from .balance import Currents, allowed_residual_a, currents, node_currents, residual_a
from .elements import Corner, Network
from .emit import Program
from .jacobian import jacobian, solve_pivoted
from .stamps import linear, ports
from .state import State

MOST_STEPS = 50
NEAR_ENOUGH_V = 1e-9  # of the next step, judged from the last two: each error goes like the square of the one before
DAMPED_STEPS = 30
PATIENCE = 8  # steps after which the way down is looked at more closely


@dataclass(frozen=True, slots=True)
class Newton:
    """Outcome: node voltages, and whether they are an operating point (`found`).

    `passed` says that there is none: the iteration went past the point of collapse. `checked` holds the
    currents by the elements' laws and what they miss of Kirchhoff's law, where they were computed.
    """

    voltage_v: list[float]
    found: bool
    passed: bool
    pivots: Sequence[float]
    iterations: int
    checked: tuple[Currents, float] | None = None


def newton(
    program: Program,
    corner: Corner,
    state: State,
    pins: tuple[float, ...],
    start_v: Sequence[float],
    scale: float = 1.0,
) -> Newton:
    """Iterate from `start_v`; `scale` multiplies the constant power of the loads."""
    kept, back = program.prepare(linear(corner, state, pins))
    figures = ports(corner, state, scale)
    step = program.step
    v = tuple([start_v[k] for k in program.moving])
    pivots: tuple[float, ...] = ()
    found, passed = not v, False
    moved = 0.0
    count = 0
    try:
        while not found and count < MOST_STEPS:
            count += 1
            new, pivots = step(kept, figures, v)
            if min(pivots) <= 0.0 or (count > PATIENCE and _sunk(program, figures, v)):
                passed = True
                break
            moved, before = max(map(abs, map(sub, new, v))), moved
            v = new
            found = moved * moved * moved <= NEAR_ENOUGH_V * before * before
        else:
            passed = not found
    except (ZeroDivisionError, OverflowError):
        found = False
    return Newton(spread(program, back, v), found, passed, pivots, count)


def _sunk(program: Program, figures: Sequence[float], v: Sequence[float]) -> bool:
    """Whether something that draws power has fallen to the resistance that stands in for it."""
    place = {k: x for k, x in zip(program.moving, v, strict=True)}
    place[0] = 0.0
    for first, positive, negative, size in program.bends:
        power_w, floor_v = figures[first], figures[first + size - 1]
        if power_w > 0.0 and place[positive] - place[negative] <= floor_v:
            return True
    return False


def spread(program: Program, back: Sequence[float], v: Sequence[float]) -> list[float]:
    """All node voltages from those of the moving nodes."""
    voltage_v = [0.0] * program.plan.n_node
    for k, x in zip(program.moving, v, strict=True):
        voltage_v[k] = x
    for k, x in zip(program.fixed, program.finish(back, v), strict=True):
        voltage_v[k] = x
    return voltage_v


def damped(
    network: Network,
    corner: Corner,
    state: State,
    pins: tuple[float, ...],
    start_v: Sequence[float],
    scale: float = 1.0,
) -> Newton:
    """The slow and careful way: elements' own laws, pivoted dense solve, halved steps."""
    v = list(start_v)
    n = len(v)
    flow = currents(network, corner, state, v, scale)
    total_a = _with_pins(node_currents(network, flow), pins, v)
    for count in range(1, DAMPED_STEPS + 1):
        rows = jacobian(network, corner, state, v, scale)
        matrix = [[rows[i].get(j, 0.0) for j in range(1, n)] for i in range(1, n)]
        for i, pin_s in enumerate(pins):
            matrix[i][i] += pin_s
        move = solve_pivoted(matrix, [-a for a in total_a[1:]])
        if move is None:
            break
        share = 1.0
        before = max(map(abs, total_a[1:]), default=0.0)
        while True:
            trial = [0.0] + [x + share * dx for x, dx in zip(v[1:], move, strict=True)]
            flow = currents(network, corner, state, trial, scale)
            total_a = _with_pins(node_currents(network, flow), pins, trial)
            if max(map(abs, total_a[1:]), default=0.0) <= before or share < 1e-3:
                break
            share *= 0.5
        v = trial
        if share == 1.0 and max(map(abs, move), default=0.0) < 100.0 * NEAR_ENOUGH_V:
            leak_a = residual_a(network, flow)
            return Newton(v, leak_a <= allowed_residual_a(flow), False, (), count, (flow, leak_a))
    return Newton(v, False, False, (), DAMPED_STEPS)


def _with_pins(total_a: list[float], pins: tuple[float, ...], v: Sequence[float]) -> list[float]:
    for k, pin_s in enumerate(pins, 1):
        if pin_s:
            total_a[k] += pin_s * v[k]
    return total_a
