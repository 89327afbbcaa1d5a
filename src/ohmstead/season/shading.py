"""What stands in the light: what each tree, pole, wall and the skyline cost, by month and by hour of the day."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from ..site.model import Site
from ..sun.harvest import harvest_w, month_of, monthly_wh, obstacle_costs
from ..sun.hours import FloatArray, Hours
from .year import MONTHS

if TYPE_CHECKING:
    from pandas import DataFrame

DAYS = np.array([31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])


@dataclass(frozen=True, slots=True)
class Shading:
    """Harvest at the controllers with and without shade.

    open, shaded: by array, energy of each month in a mean year, shape (12,). costs: by obstacle ("horizon": the
    skyline), the same for what would be won without it. open_day, shaded_day: by array, mean power in each hour of the
    day of each month, (12, 24), in the standard time of the weather.
    """

    open_wh: Mapping[str, FloatArray]
    shaded_wh: Mapping[str, FloatArray]
    costs_wh: Mapping[str, FloatArray]
    open_day_w: Mapping[str, FloatArray]
    shaded_day_w: Mapping[str, FloatArray]
    clock: str
    n_year: int

    @property
    def all_open_wh(self) -> FloatArray:
        """All arrays on an open place."""
        found: FloatArray = np.sum(list(self.open_wh.values()), axis=0)
        return found

    @property
    def lost_wh(self) -> FloatArray:
        """What all that shades costs together."""
        found: FloatArray = self.all_open_wh - np.sum(list(self.shaded_wh.values()), axis=0)
        return found

    def share(self, cost_wh: FloatArray) -> FloatArray:
        """A cost over the open harvest of its month."""
        found: FloatArray = cost_wh / np.maximum(self.all_open_wh, 1e-9)
        return found

    def table(self) -> "DataFrame":
        """Months down, open harvest and costs across, Wh a day."""
        from pandas import DataFrame, Index

        columns = {"open": self.all_open_wh, **self.costs_wh, "together": self.lost_wh}
        return DataFrame({name: values / DAYS for name, values in columns.items()}, Index(MONTHS, name="month"))

    def whole_year(self) -> dict[str, tuple[float, float]]:
        """The columns of `table` for the year: Wh on a mean day, and the share of the open harvest."""
        open_wh = max(float(self.all_open_wh.sum()), 1e-9)
        columns = {"open": self.all_open_wh, **self.costs_wh, "together": self.lost_wh}
        return {name: (float(values.sum()) / 365.0, float(values.sum()) / open_wh) for name, values in columns.items()}

    def day_table(self, array: str) -> "DataFrame":
        """One array: a line for each month and hour, mean power open and shaded."""
        from pandas import DataFrame, MultiIndex

        index = MultiIndex.from_product([MONTHS, range(24)], names=["month", "hour"])
        columns = {"open_w": self.open_day_w[array].ravel(), "shaded_w": self.shaded_day_w[array].ravel()}
        return DataFrame(columns, index)


def shading_of(site: Site, hours: Hours) -> Shading:
    """All of it, for a site in some hours of weather."""
    harvest = harvest_w(site, hours)
    costs = {name: np.maximum(cost, 0.0) for name, cost in obstacle_costs(site, hours).items()}
    return Shading(
        open_wh=_months(harvest.unshaded_w, hours),
        shaded_wh=_months(harvest.by_array_w, hours),
        costs_wh=costs,
        open_day_w=_days(harvest.unshaded_w, hours),
        shaded_day_w=_days(harvest.by_array_w, hours),
        clock=hours.timezone,
        n_year=hours.n_year,
    )


def only(site: Site, array: str) -> Site:
    """The site with one of its arrays and what shades it."""
    mine = {name: one for name, one in site.obstacles.items() if one.shades in ("", array)}
    return replace(site, arrays={array: site.arrays[array]}, obstacles=mine)


def _months(power: Mapping[str, FloatArray], hours: Hours) -> dict[str, FloatArray]:
    return {name: monthly_wh(values, hours) for name, values in power.items()}


def _days(power: Mapping[str, FloatArray], hours: Hours) -> dict[str, FloatArray]:
    """Mean power by month and hour of the day."""
    place = month_of(hours) * 24 + np.resize(np.arange(24), hours.n_hour)
    count = np.maximum(np.bincount(place, minlength=288), 1)
    return {
        name: (np.bincount(place, weights=values, minlength=288) / count).reshape(12, 24)
        for name, values in power.items()
    }
