"""What came of a sweep: one line a design, judged by the goal of the site."""

from dataclasses import dataclass
from math import sqrt
from typing import TYPE_CHECKING

import numpy as np

from ..site.sky import Goal
from ..sun.hours import FloatArray, IntArray
from .designs import Mixes, Offer
from .lanes import (
    BACKUP_H,
    BACKUP_WH,
    DARK_H,
    FULL_DAYS,
    LOWEST_WH,
    N_SUM,
    NOT_FULL_DAYS,
    SPILLED_WH,
    THROUGH_WH,
    UNSERVED_WH,
)
from .scene import Scene
from .sure import student

if TYPE_CHECKING:
    from pandas import DataFrame

HARVEST_WH = N_SUM  # row of the harvest
MISSED, OPEN, MET = range(3)
VERDICTS = ("missed", "open", "met")
LEAST_YEARS = 4  # below that nothing can be said of other years


@dataclass(frozen=True, slots=True)
class Swept:
    """A finished sweep. rows: (11 + n_year, n_design): sums as `lanes` names them, harvest, unserved of each year."""

    scene: Scene
    offer: Offer
    mixes: Mixes
    rows: FloatArray

    @property
    def n_year(self) -> int:
        """How many years each design went through."""
        return self.scene.hours.n_year

    @property
    def array_w(self) -> FloatArray:
        """Power of all arrays of each design."""
        found: FloatArray = np.asarray(self.offer.arrays)[self.mixes.array] * self.scene.rated_w
        return found

    @property
    def battery_wh(self) -> FloatArray:
        """What the battery of each design holds."""
        found: FloatArray = np.asarray(self.offer.banks)[self.mixes.bank] * self.scene.bank.full_wh
        return found

    @property
    def battery_ah(self) -> FloatArray:
        """The same as a charge."""
        found: FloatArray = np.asarray(self.offer.banks)[self.mixes.bank] * self.scene.bank.capacity_ah
        return found

    @property
    def facing_deg(self) -> FloatArray:
        """Tilt and azimuth of the array that turns, shape (n_design, 2)."""
        found: FloatArray = np.asarray(self.offer.facings, dtype=np.float64)[self.mixes.facing]
        return found

    @property
    def cut_v(self) -> FloatArray:
        """Voltages at which the disconnect opens and closes, shape (n_design, 2); 0 where there is none."""
        own = (self.scene.loads.off_v, self.scene.loads.on_v)
        cuts = [own if cut == (0.0, 0.0) else cut for cut in self.offer.cuts]
        found: FloatArray = np.asarray(cuts)[self.mixes.cut]
        return found

    @property
    def unserved_fraction(self) -> FloatArray:
        """Unserved over asked energy, all years: the loss-of-load probability by energy."""
        found: FloatArray = self.rows[UNSERVED_WH] / max(self.scene.asked_wh, 1e-12)
        return found

    @property
    def by_year_fraction(self) -> FloatArray:
        """The same year by year, shape (n_year, n_design)."""
        asked = self.scene.drive.load_w[1].reshape(self.n_year, -1).sum(axis=1)
        found: FloatArray = self.rows[HARVEST_WH + 1 :] / np.maximum(asked, 1e-12)[:, None]
        return found

    def most_unserved_fraction(self, confidence_fraction: float) -> FloatArray:
        """What the true mean of such years does not pass, with that confidence; infinite with fewer than four years."""
        if self.n_year < LEAST_YEARS:
            return np.full(self.offer.n_design, np.inf)
        years = self.by_year_fraction
        spread = years.std(axis=0, ddof=1) / sqrt(self.n_year)
        found: FloatArray = years.mean(axis=0) + student(self.n_year - 1, confidence_fraction) * spread
        return found

    def verdict(self, goal: Goal) -> IntArray:
        """MISSED, OPEN (kept in the mean, but not as surely as asked) or MET for each design."""
        kept = self.unserved_fraction <= goal.unserved_fraction
        sure = self.most_unserved_fraction(goal.confidence_fraction) <= goal.unserved_fraction
        found: IntArray = np.where(kept & sure, MET, np.where(kept, OPEN, MISSED)).astype(np.int64)
        return found

    @property
    def spilled_fraction(self) -> FloatArray:
        """Spilled over harvest of each design."""
        found: FloatArray = self.rows[SPILLED_WH] / np.maximum(self.rows[HARVEST_WH], 1e-12)
        return found

    def table(self) -> "DataFrame":
        """One line a design, as a pandas table."""
        from pandas import DataFrame

        goal = self.scene.site.goal or Goal()
        full = np.maximum(self.battery_wh, 1e-12)
        facing, cut = self.facing_deg, self.cut_v
        return DataFrame(
            {
                "array_w": self.array_w,
                "tilt_deg": facing[:, 0],
                "azimuth_deg": facing[:, 1],
                "battery_ah": self.battery_ah,
                "battery_wh": self.battery_wh,
                "off_v": cut[:, 0],
                "on_v": cut[:, 1],
                "unserved_fraction": self.unserved_fraction,
                "most_unserved_fraction": self.most_unserved_fraction(goal.confidence_fraction),
                "verdict": np.array(VERDICTS)[self.verdict(goal)],
                "unserved_wh_a_year": self.rows[UNSERVED_WH] / self.n_year,
                "dark_h_a_year": self.rows[DARK_H] / self.n_year,
                "lowest_fraction": self.rows[LOWEST_WH] / full,
                "harvest_wh_a_year": self.rows[HARVEST_WH] / self.n_year,
                "spilled_wh_a_year": self.rows[SPILLED_WH] / self.n_year,
                "full_days_a_year": self.rows[FULL_DAYS] / self.n_year,
                "longest_not_full_days": self.rows[NOT_FULL_DAYS].astype(np.int64),
                "backup_wh_a_year": self.rows[BACKUP_WH] / self.n_year,
                "backup_h_a_year": self.rows[BACKUP_H] / self.n_year,
                "cycles_a_year": self.rows[THROUGH_WH] / full / self.n_year,
            }
        )
