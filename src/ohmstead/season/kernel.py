"""The recursion from hour to hour, compiled: what is served, spilled, lost, and what is left in the battery.

State is the energy in the cells. Power x inside the cells gives x - k·x² at the terminals and takes x + k·x² from
them, k = R/V². `flow` is the compiled form; `twin.py` says the same in plain words and is its oracle.
"""

from dataclasses import dataclass
from math import sqrt

import numpy as np
from numba import njit

from ..sun.hours import FloatArray

N_GRID = 65  # points of the state at which the place between the voltages of the load's table is kept
SERVED, UNSERVED, SPILLED, LOST, STATE, CONNECTED = range(6)


@dataclass(frozen=True, slots=True)
class Rules:
    """How the bank and what cuts it off behave. Energies in Wh, power in W, an hour a step.

    floor: the board's own end of discharge; cut and back: states at which the disconnect opens and closes again
    (no disconnect: both equal the floor). accepted: share of the room left that one hour at the charging voltage can
    fill. passed: share of what enters that is lost. rested: share of the state lost in an hour.
    """

    full_wh: float
    floor_wh: float
    cut_wh: float
    back_wh: float
    accepted_fraction: float
    passed_fraction: float
    rested_fraction: float
    discharge_w: float
    start_wh: float

    def numbers(self) -> FloatArray:
        """As the compiled form takes them."""
        return np.array([self.full_wh, self.floor_wh, self.cut_wh, self.back_wh, self.accepted_fraction,
                         self.passed_fraction, self.rested_fraction, self.discharge_w, self.start_wh])  # fmt: skip


@dataclass(frozen=True, slots=True)
class Drive:
    """What drives the recursion, shape (n_hour,) each; load_w (3, n_hour) at low, nominal and full battery.

    harvest_w: at the battery, after controllers and wire. passing_w: what is drawn even with the load cut off.
    loss_per_w: k. charge_most_w: most that may enter the cells. place: 0..2 over the state, N_GRID points, where
    between low, nominal and full voltage the bank stands.
    """

    harvest_w: FloatArray
    load_w: FloatArray
    passing_w: FloatArray
    loss_per_w: FloatArray
    charge_most_w: FloatArray
    place: FloatArray


def run(drive: Drive, rules: Rules) -> FloatArray:
    """The hours, shape (6, n_hour): served, unserved, spilled, lost [Wh], state at the end [Wh], connected (1 or 0)."""
    n_hour = drive.harvest_w.size
    out = np.empty((6, n_hour))
    series = np.empty((4, n_hour))
    series[0], series[1], series[2] = drive.harvest_w, drive.passing_w, drive.loss_per_w
    series[3] = drive.charge_most_w
    flow(series, np.ascontiguousarray(drive.load_w), drive.place, rules.numbers(), out)
    return out


@njit("void(float64[:,::1], float64[:,::1], float64[::1], float64[::1], float64[:,::1])", cache=True)
def flow(series: FloatArray, load: FloatArray, place: FloatArray, rules: FloatArray, out: FloatArray) -> None:
    """Fill `out`; see `run`."""
    full, floor, cut, back = rules[0], rules[1], rules[2], rules[3]
    accepted, passed, rested, discharge = rules[4], rules[5], rules[6], rules[7]
    state = rules[8]
    connected = state > cut or cut <= floor
    scale = (place.size - 1) / full if full > 0.0 else 0.0
    kept = 1.0 - passed
    for hour in range(out.shape[1]):
        where = place[int(state * scale)]
        if where <= 1.0:
            asked = load[0, hour] + where * (load[1, hour] - load[0, hour])
        else:
            asked = load[1, hour] + (where - 1.0) * (load[2, hour] - load[1, hour])
        wanted = asked if connected else min(asked, series[1, hour])
        k = series[2, hour]
        net = series[0, hour] - wanted
        served = wanted
        spilled = 0.0
        lost = 0.0
        tripped = False
        if net >= 0.0:
            inside = 2.0 * net / (1.0 + sqrt(1.0 + 4.0 * k * net))
            most = min(series[3, hour], (full - state) * accepted / kept)
            if inside > most:
                inside = max(most, 0.0)
                spilled = net - inside - k * inside * inside
            state += kept * inside
            lost = k * inside * inside + passed * inside
        else:
            need = -net
            most = discharge
            if k > 0.0:
                most = min(most, 0.5 / k)
            low = cut if connected else floor
            left = max(state - low, 0.0)
            root = 1.0 - 4.0 * k * need
            inside = 2.0 * need / (1.0 + sqrt(root)) if root > 0.0 else most + left + 1.0
            if inside > most or inside > left:
                tripped = inside > left
                inside = min(most, left)
                served = wanted - (need - (inside - k * inside * inside))
            state -= inside
            lost = k * inside * inside
        gone = state * rested
        state -= gone
        out[0, hour] = served
        out[1, hour] = asked - served
        out[2, hour] = spilled
        out[3, hour] = lost + gone
        out[4, hour] = state
        out[5, hour] = 1.0 if connected else 0.0
        if connected:
            connected = not (cut > floor and (tripped or state <= cut))
        else:
            connected = state >= back
