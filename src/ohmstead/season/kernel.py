"""The recursion from hour to hour: what is served, spilled, lost, and what is left in the battery.

State is the energy in the cells. Power x inside the cells gives x - k·x² at the terminals and takes x + k·x² from
them, k = R/V². `flow.py` is the pass over the hours; `twin.py` says the same in plain words and is its oracle.
"""

import sys
from dataclasses import dataclass

import numpy as np

from ..sun.hours import FloatArray
from .flow import flow

N_GRID = 65  # points of the state at which the place between the voltages of the load's table is kept
FEW_HOURS = 10 * 8760  # up to these, importing the compiler takes longer than doing without
COMPILED = f"{__package__}.compiled"
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
    arrays = (series, np.ascontiguousarray(drive.load_w), np.ascontiguousarray(drive.place), rules.numbers(), out)
    if n_hour > FEW_HOURS or COMPILED in sys.modules:
        from .compiled import fast

        fast(*arrays)
    elif n_hour:
        flow(*(array.data for array in arrays))
    return out
