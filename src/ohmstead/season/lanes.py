"""The recursion for many designs over the same years: designs lie side by side in lanes, no branch in an hour.

Same equations as `flow.py`, two wells, cold, shedding and back-up included, but the load and the resistance are those
of a half-full battery, and only sums are kept. One signed equation serves both ways: x + k·x² = net, x > 0 into the
cells and x < 0 out of them.
"""

from dataclasses import dataclass
from functools import cache
from math import sqrt
from typing import Any

import numpy as np
from numba import njit

from ..storage.kinetic import hour_shares
from ..sun.hours import HOURS_A_YEAR, FloatArray
from .flow import SLACK
from .kernel import Drive, Rules, Starts

LANES = 64
# Where each column begins in the one piece of memory that a block works in: one piece, so that the compiler sees that
# the columns lie apart and puts several designs into one instruction.
ARRAY, FULL, MOST, FLOOR, CUT, BACK, THIN, BANK, STATE = (LANES * place for place in range(9))
LACKING, DARK, SPILLED, THROUGH, LOWEST, ON, HAS = (LANES * place for place in range(9, 16))
TOP, FILLED, RUN, LONGEST, BEFORE, HAND = (LANES * place for place in range(16, 22))
LEVEL, RUNS, RAN, GIVEN, RUNNING = (LANES * place for place in range(22, 27))
UNSERVED_WH, DARK_H, SPILLED_WH, LOWEST_WH, END_WH, FULL_DAYS, NOT_FULL_DAYS, THROUGH_WH, BACKUP_WH, BACKUP_H = range(
    10
)
N_SUM = 10
N_SERIES, N_SHARED = 6, 12  # before the loads that are left after shedding; before its thresholds
OPENS, CLOSES = 1.0 + SLACK, 1.0 - SLACK
FULL_FRACTION = 0.99  # of what a battery holds: a day on which it comes so far ended its charge


@dataclass(frozen=True, slots=True)
class Designs:
    """What sets designs apart, shape (n_design,): array over the array of the series, bank over its bank,
    most the controller delivers [W], and the states at which the disconnect opens and closes, as shares.
    """

    array: FloatArray
    bank: FloatArray
    most_w: FloatArray
    cut_fraction: FloatArray
    back_fraction: FloatArray


@dataclass(frozen=True, slots=True)
class Outcome:
    """What each design comes to.

    sums: (10, n_design), rows named UNSERVED_WH and so on: unserved energy, hours with a lack, spilled, lowest and last
    state, days on which the battery came to be full, longest run of days without, energy that entered the cells, energy
    and hours of the back-up source.
    by_year_wh: (n_year, n_design), unserved of each whole year.
    """

    sums: FloatArray
    by_year_wh: FloatArray


def sweep(drive: Drive, rules: Rules, designs: Designs) -> Outcome:
    """What each of many designs comes to over the same hours.

    Steps of shedding, and when a back-up source starts and stops, are the same shares of full for all of them.
    """
    n_design = designs.array.size
    n_block = -(-n_design // LANES)
    full = np.maximum(designs.bank, 1e-12) * rules.full_wh
    floor = rules.floor_wh / rules.full_wh
    cut = np.maximum(designs.cut_fraction, floor)
    columns = np.zeros((9, n_block * LANES))
    columns[:, :] = np.array([1.0, 1.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0])[:, None]
    back, thin = np.maximum(designs.back_fraction, cut), 1.0 / np.maximum(designs.bank, 1e-12)
    at_hand = rules.available_fraction * full  # all thresholds are levels of the well at hand
    rows = (designs.array, at_hand, designs.most_w, floor * at_hand, cut * at_hand, back * at_hand, thin, designs.bank,
            rules.start_wh / rules.full_wh * full)  # fmt: skip
    for column, row in zip(columns, rows, strict=True):
        column[:n_design] = row
    least = np.zeros_like(drive.loss_per_w) if drive.least_wh is None else rules.available_fraction * drive.least_wh
    thick = 1.0 if drive.thick is None else float(drive.thick[drive.thick.size // 2])
    reduced = [] if drive.reduced_w is None else list(drive.reduced_w[:, 1])
    series = np.stack([drive.harvest_w, drive.load_w[1], np.minimum(drive.passing_w, drive.load_w[1]),
                       drive.loss_per_w * thick, drive.charge_most_w, least, *reduced])  # fmt: skip
    out = np.empty((N_SUM, n_block * LANES))
    by_year = np.empty((drive.harvest_w.size // HOURS_A_YEAR, n_block * LANES))
    wells = "one" if rules.available_fraction >= 1.0 else "two"
    _blocks(wells, len(reduced), "yes" if rules.backup else "no")(series, columns, _shared(rules), out, by_year)
    return Outcome(out[:, :n_design], by_year[:, :n_design])


def _shared(rules: Rules) -> FloatArray:
    """What all designs share; thresholds as shares of full."""
    backup = rules.backup or Starts(0.0, 0.0, 0.0)
    full = max(rules.full_wh, 1e-12)
    return np.array([rules.accepted_fraction, rules.passed_fraction, rules.rested_fraction, rules.discharge_w,
                     rules.available_fraction, *hour_shares(rules.available_fraction, rules.exchange_per_h),
                     backup.power_w, backup.start_wh / full, backup.stop_wh / full, backup.least_h,
                     *(state / full for pair in rules.sheds for state in pair)])  # fmt: skip


@cache
def _blocks(wells: str, n_step: int, backup: str) -> Any:
    """The pass over the hours, compiled once and kept: for batteries with "one" well or "two", for so many steps of
    shedding, with a back-up source ("yes") or without ("no"). What is not there costs nothing.
    """
    two, spare = wells == "two", backup == "yes"

    @njit("void(float64[:,::1], float64[:,::1], float64[::1], float64[:,::1], float64[:,::1])", cache=True, nogil=True,
          fastmath={"nsz", "nnan", "contract", "arcp"}, error_model="numpy")  # fmt: skip
    def blocks(
        series: FloatArray, columns: FloatArray, shared: FloatArray, out: FloatArray, by_year: FloatArray
    ) -> None:
        accepted, passed, rested, discharge = shared[0], shared[1], shared[2], shared[3]
        kept = 1.0 - passed
        share, stays, joins, drawn = shared[4], shared[5], shared[6], shared[7]
        power, starts, stops, least_h = shared[8], shared[9], shared[10], shared[11]
        each = 1.0 / drawn
        fill, stay = accepted / kept * each, 1.0 - rested
        n_hour = series.shape[1]
        for block in range(columns.shape[1] // LANES):
            begin = block * LANES
            w = np.zeros(27 * LANES)
            for i in range(LANES):
                for column in range(9):
                    w[column * LANES + i] = columns[column, begin + i]
                w[LOWEST + i] = w[STATE + i]
                w[HAND + i] = share * w[STATE + i]
                w[HAS + i] = 1.0 if w[CUT + i] > w[FLOOR + i] else 0.0
                w[ON + i] = 1.0 if w[HAND + i] > w[CUT + i] or w[HAS + i] == 0.0 else 0.0
                w[RUNS + i] = 1.0 if spare and w[HAND + i] <= starts * w[FULL + i] else 0.0
                for step in range(n_step):
                    if w[LEVEL + i] == step and w[HAND + i] <= shared[N_SHARED + 2 * step] * w[FULL + i]:
                        w[LEVEL + i] = step + 1.0
            for hour in range(n_hour):
                sun, load, passing = series[0, hour], series[1, hour], series[2, hour]
                loss, charge, least = series[3, hour], series[4, hour], series[5, hour]
                most = min(discharge, 0.5 / max(loss, 1e-30))
                for i in range(LANES):
                    state, on, has = w[STATE + i], w[ON + i], w[HAS + i]
                    cut, floor = w[CUT + i], w[FLOOR + i]
                    k = loss * w[THIN + i]
                    offered = load
                    for step in range(n_step):
                        offered = series[N_SERIES + step, hour] if w[LEVEL + i] > step else offered
                    wanted = offered if on > 0.5 else min(offered, passing)
                    given = power if spare and w[RUNS + i] > 0.5 else 0.0
                    net = min(w[ARRAY + i] * sun, w[MOST + i]) + given - wanted
                    free = stays * w[HAND + i] + joins * state if two else state
                    low = max(cut if on > 0.5 else floor, least * w[BANK + i])
                    left = max((free - low) * each if two else free - low, 0.0)
                    give = min(left, most * w[BANK + i])
                    take = max(min(charge * w[BANK + i], (w[FULL + i] - free) * fill), 0.0)
                    x = 2.0 * net / (1.0 + sqrt(max(1.0 + 4.0 * k * net, 0.0)))
                    held = min(max(x, -give), take)
                    gap = 0.0 if held == x else net - held - k * held * held
                    moved = min(held, kept * held)
                    now = (state + moved) * stay
                    hand = (free + drawn * moved) * stay if two else now
                    lack = max(-gap, 0.0) + (load - wanted)
                    w[LACKING + i] += lack
                    w[DARK + i] += 1.0 if lack > 1e-6 else 0.0
                    unmade = min(given, max(gap, 0.0))  # what finds no room is left unmade first
                    w[SPILLED + i] += max(gap, 0.0) - unmade
                    w[THROUGH + i] += max(held, 0.0)
                    w[LOWEST + i] = min(w[LOWEST + i], now)
                    w[TOP + i] = max(w[TOP + i], now)
                    opens = max(has if x < -left else 0.0, has if hand <= cut * OPENS else 0.0)
                    closes = 1.0 if hand >= w[BACK + i] * CLOSES else 0.0
                    w[ON + i] = 1.0 - opens if on > 0.5 else closes
                    w[STATE + i] = now
                    if two:
                        w[HAND + i] = hand
                    if spare:
                        runs, full = w[RUNS + i], w[FULL + i]
                        w[GIVEN + i] += given - unmade
                        w[RUNNING + i] += runs
                        ran = w[RAN + i] + 1.0 if runs > 0.5 else 0.0
                        goes_on = 1.0 if ran < least_h or hand < stops * full else 0.0
                        begins = 1.0 if x < -left or hand <= starts * full else 0.0
                        w[RUNS + i] = goes_on if runs > 0.5 else begins
                        w[RAN + i] = ran
                    if n_step:
                        before, level = w[LEVEL + i], w[LEVEL + i]
                        for step in range(n_step):
                            deep = hand <= shared[N_SHARED + 2 * step] * w[FULL + i] * OPENS
                            level = step + 1.0 if deep and level == step else level
                        after = level
                        for back in range(n_step):
                            step = n_step - 1 - back
                            high = hand >= shared[N_SHARED + 2 * step + 1] * w[FULL + i] * CLOSES
                            level = 1.0 * step if high and level == step + 1.0 else level
                        w[LEVEL + i] = after if after > before else level
                if hour % 24 == 23:
                    for i in range(LANES):
                        full = 1.0 if w[TOP + i] >= FULL_FRACTION / share * w[FULL + i] else 0.0
                        w[FILLED + i] += full
                        w[RUN + i] = 0.0 if full > 0.5 else w[RUN + i] + 1.0
                        w[LONGEST + i] = max(w[LONGEST + i], w[RUN + i])
                        w[TOP + i] = 0.0
                if (hour + 1) % HOURS_A_YEAR == 0:
                    year = hour // HOURS_A_YEAR
                    for i in range(LANES):
                        by_year[year, begin + i] = w[LACKING + i] - w[BEFORE + i]
                        w[BEFORE + i] = w[LACKING + i]
            for i in range(LANES):
                out[0, begin + i], out[1, begin + i], out[2, begin + i] = w[LACKING + i], w[DARK + i], w[SPILLED + i]
                out[3, begin + i], out[4, begin + i], out[5, begin + i] = w[LOWEST + i], w[STATE + i], w[FILLED + i]
                out[6, begin + i], out[7, begin + i] = w[LONGEST + i], w[THROUGH + i]
                out[8, begin + i], out[9, begin + i] = w[GIVEN + i], w[RUNNING + i]

    return blocks
