"""The ledger: every hour's energy, where it came from and where it went."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from ..sun.hours import FloatArray, Hours
from .bank import Bank
from .kernel import AVAILABLE, BACKUP, CONNECTED, LEVEL, LOST, RUNNING, SERVED, SPILLED, STATE, UNSERVED, Rules
from .loads import Loads

if TYPE_CHECKING:
    from pandas import DataFrame


@dataclass(frozen=True, slots=True)
class Ledger:
    """A season reckoned; arrays of shape (n_hour,), an hour a step, so W and Wh are the same figure.

    array_w: at the controllers' terminals. harvest_w: what controllers and wire would bring to the battery, were there
    always room. cells_c: of the battery. served, unserved: what the load got and lacked, at the battery. spilled:
    harvest that found no room. lost: inside the battery. state_wh: in the cells at the end of the hour.
    """

    hours: Hours
    bank: Bank
    loads: Loads
    rules: Rules
    array_w: FloatArray
    harvest_w: FloatArray
    rows: FloatArray
    cells_c: FloatArray
    notes: tuple[str, ...] = ()

    @property
    def served_w(self) -> FloatArray:
        """What the load got."""
        return self._row(SERVED)

    @property
    def unserved_w(self) -> FloatArray:
        """What the load asked for and did not get."""
        return self._row(UNSERVED)

    @property
    def asked_w(self) -> FloatArray:
        """What the load asked for."""
        return self.served_w + self.unserved_w

    @property
    def spilled_w(self) -> FloatArray:
        """Harvest that found neither load nor room."""
        return self._row(SPILLED)

    @property
    def lost_w(self) -> FloatArray:
        """Lost inside the battery: resistance, gassing, self-discharge."""
        return self._row(LOST)

    @property
    def state_wh(self) -> FloatArray:
        """Energy in the cells at the end of each hour."""
        return self._row(STATE)

    @property
    def available_wh(self) -> FloatArray:
        """What of it is at hand; the rest of a lead battery's seeps after it."""
        return self._row(AVAILABLE)

    @property
    def state_fraction(self) -> FloatArray:
        """The same as a share of full."""
        return self.state_wh / self.bank.full_wh if self.bank.full_wh > 0.0 else np.zeros(self.hours.n_hour)

    @property
    def connected(self) -> FloatArray:
        """1 in hours that begin with the load connected, else 0."""
        return self._row(CONNECTED)

    @property
    def backup_w(self) -> FloatArray:
        """What the back-up source gave at the battery."""
        return self._row(BACKUP)

    @property
    def running(self) -> FloatArray:
        """1 in hours in which the back-up source runs, else 0."""
        return self._row(RUNNING)

    @property
    def steps_shed(self) -> FloatArray:
        """How many of the thresholds of shedding are passed in each hour."""
        return self._row(LEVEL)

    def imbalance(self) -> float:
        """Largest hourly gap between what came in and what went out or was kept, over what the hour moved."""
        change = np.diff(self.state_wh, prepend=self.rules.start_wh)
        gap = self.harvest_w + self.backup_w - self.served_w - self.spilled_w - self.lost_w - change
        moved = np.maximum.reduce([self.harvest_w, self.served_w, np.abs(change), self.state_wh * 1e-3])
        return float(np.max(np.abs(gap) / np.maximum(moved, 1e-9)))

    def table(self) -> "DataFrame":
        """Every hour as a pandas table; the index is the start of the hour, UTC."""
        from pandas import DataFrame, DatetimeIndex

        index = DatetimeIndex(self.hours.start_utc_s.astype("datetime64[s]"), tz="UTC", name="start")
        columns = {
            "year": self.hours.year,
            "ghi_w_per_m2": self.hours.ghi_w_per_m2,
            "air_c": self.hours.air_c,
            "array_w": self.array_w,
            "harvest_w": self.harvest_w,
            "served_w": self.served_w,
            "unserved_w": self.unserved_w,
            "spilled_w": self.spilled_w,
            "lost_w": self.lost_w,
            "state_wh": self.state_wh,
            "available_wh": self.available_wh,
            "state_fraction": self.state_fraction,
            "backup_w": self.backup_w,
            "steps_shed": self.steps_shed.astype(np.int64),
            "connected": self.connected.astype(np.int64),
        }
        return DataFrame(columns, index=index)

    def _row(self, which: int) -> FloatArray:
        found: FloatArray = self.rows[which]
        return found
