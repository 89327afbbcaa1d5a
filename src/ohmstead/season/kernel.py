"""The recursion from hour to hour: what is served, spilled, lost, and what is left in the battery.

State is the energy in the cells. Power x inside the cells gives x - k·x² at the terminals and takes x + k·x² from
them, k = R/V². `flow.py` is the pass over the hours; `twin.py` says the same in plain words and is its oracle.

A lead battery holds that energy in two wells (`storage/kinetic.py`); its voltage, and so every threshold, follows the
level of the well at hand. A battery with one well is the case in which that well holds all.
"""

import sys
from dataclasses import dataclass

import numpy as np

from ..storage.kinetic import hour_shares
from ..sun.hours import FloatArray
from .flow import flow

N_GRID = 65  # points of the state at which the place between the voltages of the load's table is kept
FEW_HOURS = 10 * 8760  # up to these, importing the compiler takes longer than doing without
COMPILED = f"{__package__}.compiled"
SERVED, UNSERVED, SPILLED, LOST, STATE, CONNECTED, AVAILABLE, LEVEL, BACKUP, RUNNING = range(10)


@dataclass(frozen=True, slots=True)
class Starts:
    """When a back-up source runs: it starts at the end of an hour that leaves the battery at `start_wh` or empty, and
    stops at the end of one that finds it at `stop_wh` after `least_h` whole hours or more. power_w: at the battery.
    """

    power_w: float
    start_wh: float
    stop_wh: float
    least_h: float = 1.0


@dataclass(frozen=True, slots=True)
class Rules:
    """How the bank and what cuts it off behave. Energies in Wh, power in W, an hour a step.

    floor: the board's own end of discharge; cut and back: states at which the disconnect opens and closes again
    (no disconnect: both equal the floor). accepted: share of the room left that one hour at the charging voltage can
    fill. passed: share of what enters that is lost. rested: share of the state lost in an hour. available, exchange:
    share of the well at hand and rate at which the other follows; a battery with one well has all of it at hand.
    sheds: states at which the load is cut down by one more step and at which it comes back, the first to go first.
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
    available_fraction: float = 1.0
    exchange_per_h: float = 0.0
    sheds: tuple[tuple[float, float], ...] = ()
    backup: Starts | None = None

    def numbers(self) -> FloatArray:
        """As the compiled form takes them."""
        backup = self.backup or Starts(0.0, -1.0, 0.0)
        return np.array([self.full_wh, self.floor_wh, self.cut_wh, self.back_wh, self.accepted_fraction,
                         self.passed_fraction, self.rested_fraction, self.discharge_w, self.start_wh,
                         self.available_fraction,
                         *hour_shares(self.available_fraction, self.exchange_per_h),
                         backup.power_w, backup.start_wh, backup.stop_wh, backup.least_h,
                         *(state for pair in self.sheds for state in pair)])  # fmt: skip


@dataclass(frozen=True, slots=True)
class Drive:
    """What drives the recursion, shape (n_hour,) each; load_w (3, n_hour) at low, nominal and full battery.

    harvest_w: at the battery, after controllers and wire. passing_w: what is drawn even with the load cut off.
    loss_per_w: k. charge_most_w: most that may enter the cells. place: 0..2 over the state, N_GRID points, where
    between low, nominal and full voltage the bank stands. least_wh: state that the cold keeps from being drawn; none if
    None. thick: factor on loss_per_w over the state, N_GRID points; one if None.
    reduced_w: load_w once more after each step of shedding, shape (n_step, 3, n_hour); as many as the rules have.
    """

    harvest_w: FloatArray
    load_w: FloatArray
    passing_w: FloatArray
    loss_per_w: FloatArray
    charge_most_w: FloatArray
    place: FloatArray
    least_wh: FloatArray | None = None
    thick: FloatArray | None = None
    reduced_w: FloatArray | None = None


def run(drive: Drive, rules: Rules) -> FloatArray:
    """The hours, shape (10, n_hour): served, unserved, spilled, lost [Wh], state at the end [Wh], connected (1 or 0),
    of that state what the well at hand holds [Wh], steps of shedding, given by the back-up [Wh], it runs (1 or 0).
    """
    n_hour = drive.harvest_w.size
    out = np.empty((10, n_hour))
    series = np.empty((5, n_hour))
    series[0], series[1], series[2] = drive.harvest_w, drive.passing_w, drive.loss_per_w
    series[3] = drive.charge_most_w
    series[4] = 0.0 if drive.least_wh is None else drive.least_wh
    by_state = np.concatenate((drive.place, np.ones_like(drive.place) if drive.thick is None else drive.thick))
    load_w = drive.load_w if not rules.sheds else np.concatenate((drive.load_w[None], _reduced(drive, rules)))
    arrays = (series, np.ascontiguousarray(load_w).reshape(-1, n_hour), by_state, rules.numbers(), out)
    if n_hour > FEW_HOURS or COMPILED in sys.modules:
        from .compiled import fast

        fast(*arrays)
    elif n_hour:
        flow(*(array.data for array in arrays))
    return out


def _reduced(drive: Drive, rules: Rules) -> FloatArray:
    if drive.reduced_w is None or len(drive.reduced_w) != len(rules.sheds):
        raise ValueError(f"{len(rules.sheds)} steps of shedding need as many reduced loads")
    return drive.reduced_w
