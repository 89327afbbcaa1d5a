"""Which tilt serves the worst month best: harvest over load is highest in the month in which it is lowest."""

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from ..sun.harvest import month_of
from ..sun.hours import HOURS_A_YEAR, FloatArray
from .scene import Scene, harvest_at
from .trouble import refuse
from .year import MONTHS

if TYPE_CHECKING:
    from pandas import DataFrame

STEP_DEG = 5.0
MOST_YEARS = 10  # of the years, so many are looked at: the mean of a month hardly changes with more


@dataclass(frozen=True, slots=True)
class Tilts:
    """Harvest at the battery and load by month, for one azimuth and many tilts, shade included.

    harvest_wh_a_day: (n_tilt, 12). load_wh_a_day: (12,).
    """

    azimuth_deg: float
    tilts_deg: FloatArray
    harvest_wh_a_day: FloatArray
    load_wh_a_day: FloatArray

    @property
    def cover(self) -> FloatArray:
        """Harvest over load, shape (n_tilt, 12): the ratio of array to load."""
        found: FloatArray = self.harvest_wh_a_day / np.maximum(self.load_wh_a_day, 1e-9)
        return found

    @property
    def best(self) -> int:
        """Place of the tilt that is best for its worst month."""
        return int(self.cover.min(axis=1).argmax())

    @property
    def best_of_year(self) -> int:
        """Place of the tilt that gives most in a year."""
        return int(self.year_wh.argmax())

    @property
    def year_wh(self) -> FloatArray:
        """Harvest of a year at each tilt."""
        days = np.array([31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])
        found: FloatArray = self.harvest_wh_a_day @ days
        return found

    def nearest(self, tilt_deg: float) -> int:
        """Place of the tilt nearest to one."""
        return int(np.abs(self.tilts_deg - tilt_deg).argmin())

    def worst_month(self, place: int) -> int:
        """The month, 0 for January, in which a tilt covers least of the load."""
        return int(self.cover[place].argmin())

    def table(self) -> "DataFrame":
        """Harvest by tilt and month as a pandas table, Wh a day."""
        from pandas import DataFrame, Index

        return DataFrame(self.harvest_wh_a_day, Index(self.tilts_deg, name="tilt_deg"), list(MONTHS))


def tilts_of(scene: Scene, azimuth_deg: float | None = None, step_deg: float = STEP_DEG) -> Tilts:
    """Every tilt from level to upright, the array that turns facing one azimuth (left out: as on the site)."""
    if not scene.turned:
        refuse(scene.site, "no array can be turned", "one array, or the name of one", "say which array turns")
    azimuth = scene.facing[1] if azimuth_deg is None else azimuth_deg
    few = fewer(scene)
    tilts = np.arange(0.0, 90.0 + step_deg / 2, step_deg)
    harvest = np.array([by_month_wh(few, harvest_at(few, (float(tilt), azimuth))) for tilt in tilts])
    return Tilts(azimuth, tilts, harvest, by_month_wh(few, few.drive.load_w[1]))


def by_month_wh(scene: Scene, power_w: FloatArray) -> FloatArray:
    """Energy of a mean day of each month, shape (12,). [Wh]"""
    month = month_of(scene.hours)
    sums = np.bincount(month, weights=power_w, minlength=12)
    found: FloatArray = sums / (np.bincount(month, minlength=12) / 24.0)
    return found


def fewer(scene: Scene) -> Scene:
    """The scene in its first years only."""
    n_hour = min(scene.hours.n_hour, MOST_YEARS * HOURS_A_YEAR)
    if n_hour == scene.hours.n_hour:
        return scene
    hours, drive, harvest = scene.hours, scene.drive, scene.as_is
    cut = slice(0, n_hour)
    wind = None if hours.wind_m_per_s is None else hours.wind_m_per_s[cut]
    hours = replace(hours, start_utc_s=hours.start_utc_s[cut], ghi_w_per_m2=hours.ghi_w_per_m2[cut],
                    dni_w_per_m2=hours.dni_w_per_m2[cut], dhi_w_per_m2=hours.dhi_w_per_m2[cut],
                    air_c=hours.air_c[cut], wind_m_per_s=wind, year=hours.year[cut])  # fmt: skip
    drive = replace(drive, harvest_w=drive.harvest_w[cut], load_w=np.ascontiguousarray(drive.load_w[:, cut]),
                    passing_w=drive.passing_w[cut], loss_per_w=drive.loss_per_w[cut],
                    charge_most_w=drive.charge_most_w[cut],
                    least_wh=None if drive.least_wh is None else drive.least_wh[cut])  # fmt: skip
    arrays_w = {name: power[cut] for name, power in harvest.by_array_w.items()}
    arrays_a = {name: current[cut] for name, current in harvest.by_array_a.items()}
    harvest = replace(harvest, by_array_w=arrays_w, by_array_a=arrays_a, unshaded_w={}, light_w_per_m2={})
    return replace(scene, hours=hours, drive=drive, as_is=harvest, cells_c=scene.cells_c[cut])
