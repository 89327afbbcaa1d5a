"""A cabinet measured: a year of hours against scipy's general solver on the same equations, and a day without imports.

    python benchmarks/heat.py

Times are processor time of one core, best of several. The solver is given the compiled films and draughts of the
product, so that only the way through the hours differs; both are held against each other first.
"""

import sys
import time
from collections.abc import Callable
from dataclasses import replace
from math import cos, pi
from typing import Any

import numpy as np
from numba import njit
from scipy.integrate import solve_ivp

from ohmstead.heat import compiled, kernel
from ohmstead.heat.around import Around
from ohmstead.heat.box import Box, Fan, Filter, Gear, Opening, SpeedCurve, Thermostat
from ohmstead.heat.fan import fan_curve
from ohmstead.heat.model import day, steady, year
from ohmstead.heat.plan import heats, plan_of, surroundings
from ohmstead.heat.state import scratch

SOLVED_DAYS = 4
N_DAY = 365
SUN = {
    face: [
        max(0.0, 800.0 * cos(pi * (hour + 0.5 - noon) / 14)) if abs(hour + 0.5 - noon) < 7 else 0.0
        for hour in range(24)
    ]
    for face, noon in (("front", 12.0), ("left", 16.0), ("right", 8.0), ("top", 12.0))
}
HEAT = {"converter": 15.0, "recorder": 25.0}


def best_s(work: Callable[[], object], n_time: int = 5) -> float:
    """Least processor time of several goes."""
    found = []
    for _ in range(n_time):
        begin = time.process_time()
        work()
        found.append(time.process_time() - begin)
    return min(found)


def around(n_day: int) -> Around:
    """Hours of a clear place whose days differ."""
    dice = np.random.default_rng(5)
    mean = 20.0 + 10.0 * np.sin(np.arange(n_day) / 365 * 2 * pi) + dice.normal(0.0, 3.0, n_day)
    air = [float(m) - 8.0 * cos(2 * pi * (hour - 3) / 24) for m in mean for hour in range(24)]
    return Around(air, sun_w_per_m2={face: values * n_day for face, values in SUN.items()})


def boxes() -> dict[str, Box]:
    """Closed, with vents, and with a fan."""
    gear = (Gear("converter", 0.15, 3000.0), Gear("recorder", 0.45, 5000.0))
    closed = Box(0.6, 0.5, 0.3, gear=gear)
    hole = Opening("low", 0.05, 0.0064, 0.6, mat=Filter(0.01))
    fan = Fan("fan", 0.55, "out", fan_curve(0.014, 29.4), 2.5, 0.0064)
    blown = replace(closed, openings=(hole,), leak_m2=2e-4, fan=fan)
    return {
        "closed": closed,
        "vents": replace(closed, openings=(hole, Opening("high", 0.55, 0.0064, 0.6)), leak_m2=2e-4),
        "thermostat": replace(blown, control=Thermostat(42.0, 35.0, 0.45)),
        "speed": replace(blown, control=SpeedCurve(((32.0, 0.0), (45.0, 1.0)), 0.45)),
    }


def right_side(box: Box, hours: Around) -> tuple[Callable[..., Any], int]:
    """The equations of a box without fan for a general solver, compiled; and how many unknowns."""
    plan = plan_of(box, hours)
    rows, heat = compiled.table(surroundings(hours)), compiled.table(heats(plan, HEAT, hours.n_hour))
    m = scratch(plan, compiled.array).m
    films, draughts = compiled.names["films"], compiled.names["draughts"]
    walls, n = len(plan.walls), len(plan.w[0])
    cap_air = plan.b[kernel.B_CAP]
    star = np.array([20.0])

    @njit
    def compute(y: Any, hour: int, m: Any, rows: Any, heat: Any, star: Any) -> Any:
        w, co, sides, off = m[0], m[8], m[9], m[10]
        low, high, leaf = y[0], y[1], y[2:]
        out = rows[0, hour]
        mix = 0.0
        for _ in range(40):
            mid = (low, high, star[0])
            mix = films(m, mid, leaf, (out, rows[1, hour], rows[2, hour]))
            up = sides[0] * low + sides[1] * high + heat[n - walls, hour]
            down = sides[0] + sides[1]
            for j in range(walls):
                up += co[1][j] * leaf[j]
                down += co[1][j]
            if abs(up / down - star[0]) < 1e-7:
                break
            star[0] = up / down
        draughts(m, (out, low, high, 0.0), off)
        rate = np.empty(n + 2)
        d_low = mix * (high - low) + 1006.0 * (off[0] * (out - low) + max(-off[2], 0.0) * (high - low))
        d_high = mix * (low - high) + 1006.0 * (off[1] * (out - high) + max(off[2], 0.0) * (low - high))
        d_low += sides[0] * (star[0] - low)
        d_high += sides[1] * (star[0] - high)
        for j in range(n):
            zone = w[0][j] > 0.0
            flow = co[0][j] * (leaf[j] - (high if zone else low))
            if zone or (j >= walls and flow > 0.0):
                d_high += flow
            else:
                d_low += flow
            q = heat[j - walls, hour] if j >= walls else 0.0
            if j < walls:
                q += w[12][j] * rows[4 + int(w[11][j]), hour] - w[13][j] * rows[3, hour]
                q += co[1][j] * (star[0] - leaf[j]) + co[2][j] * (co[3][j] - leaf[j])
            rate[2 + j] = (q - flow) / w[14][j]
        rate[0], rate[1] = d_low / cap_air, d_high / cap_air
        return rate

    return lambda t, y, hour: compute(y, hour, m, rows, heat, star), n + 2


def solved(box: Box, hours: Around, n_day: int, begin: np.ndarray | None = None) -> np.ndarray:
    """Gear at the end of each hour by scipy's LSODA, an hour a go since the surroundings jump there."""
    rate, n = right_side(box, hours)
    y = np.full(n, hours.air_c[0] + 5.0) if begin is None else begin
    ends = []
    for hour in range(24 * n_day):
        y = solve_ivp(rate, (0.0, 3600.0), y, "LSODA", rtol=1e-4, atol=1e-3, args=(hour,)).y[:, -1]
        ends.append(y)
    return np.array(ends)


def main() -> None:
    """Print what a year and a day cost."""
    hours, some = around(N_DAY), around(SOLVED_DAYS)
    one_day = Around(hours.air_c[:24], sun_w_per_m2=SUN)
    for name, box in boxes().items():
        year(box, hours, HEAT)
        whole = best_s(lambda b=box: year(b, hours, HEAT), 3)
        plain = best_s(lambda b=box: day(b, one_day, HEAT))
        still = best_s(lambda b=box: steady(b, one_day, HEAT, 14))
        text = f"{name:10s} year {1e3 * whole:5.1f} ms, plain day {1e3 * plain:4.1f} ms, settled {1e3 * still:3.1f} ms"
        if box.fan is None:
            theirs = solved(box, some, SOLVED_DAYS)
            begin = time.process_time()
            theirs = solved(box, some, SOLVED_DAYS)
            slow = (time.process_time() - begin) / SOLVED_DAYS * N_DAY
            ours = year(box, some, HEAT)
            apart = max(
                float(np.abs(np.array(ours.lump_c[lump])[-24:] - theirs[-24:, at]).max())
                for lump, at in (("lower", -2), ("upper", -1))
            )
            text += f"; scipy {slow:6.1f} s, {slow / whole:5.0f} times that, at most {apart:.2f} K apart"
        print(text)


if __name__ == "__main__":
    sys.exit(main())
