"""Weather at a glance: sun and air by month, and how long it stays dim."""

from dataclasses import dataclass

import numpy as np

from .calendar import offset_of
from .daylight import cos_zenith, extra_w_per_m2
from .hours import HOURS_A_YEAR, FloatArray, Hours, IntArray

DIM = 0.3  # clearness of a day; the heavily overcast class of Aguiar's chain ends there
_LEAST_OUTSIDE = 200.0  # Wh/m² a day above the air: in polar night every day is dim, and none is counted


@dataclass(frozen=True, slots=True)
class Month:
    """One calendar month over all years. Sun by the day on the level; spread is over the months of single years."""

    number: int
    sun_wh_per_m2: float
    dimmest_wh_per_m2: float
    brightest_wh_per_m2: float
    air_c: float
    coldest_c: float
    hottest_c: float
    n_dim: int  # longest run of days below a clearness of 0.3 that ends in this month


def months_of(hours: Hours) -> tuple[Month, ...]:
    """The twelve months of the hours, January first."""
    of_month = _calendar_months(hours)
    sun = hours.ghi_w_per_m2.reshape(hours.n_year, 365, 24).sum(axis=2)
    air = hours.air_c.reshape(hours.n_year, 365, 24)
    runs = dim_runs(hours).reshape(hours.n_year, 365)
    found = []
    for number in range(12):
        chosen = of_month == number
        by_year = sun[:, chosen].mean(axis=1)
        part = air[:, chosen]
        found.append(
            Month(
                number + 1,
                float(by_year.mean()),
                float(by_year.min()),
                float(by_year.max()),
                float(part.mean()),
                float(part.min()),
                float(part.max()),
                int(runs[:, chosen].max()),
            )
        )
    return tuple(found)


def years_of(hours: Hours) -> tuple[tuple[int, FloatArray], ...]:
    """Each year with its sun on the level by the month, Wh/m² a day, shape (12,)."""
    of_month = _calendar_months(hours)
    sun = hours.ghi_w_per_m2.reshape(hours.n_year, 365, 24).sum(axis=2)
    labels = hours.year.reshape(hours.n_year, -1)[:, 0]
    return tuple(
        (int(label), np.array([days[of_month == month].mean() for month in range(12)]))
        for label, days in zip(labels, sun, strict=True)
    )


def dim_runs(hours: Hours) -> FloatArray:
    """How many dim days in a row end with each day, shape (n_day,)."""
    middle = hours.middle_utc_s
    outside = np.maximum(cos_zenith(middle, hours.latitude, hours.longitude), 0.0) * extra_w_per_m2(middle)
    by_day = outside.reshape(-1, 24).sum(axis=1)
    dim = (hours.ghi_w_per_m2.reshape(-1, 24).sum(axis=1) < DIM * by_day) & (by_day > _LEAST_OUTSIDE)
    number = np.arange(1, dim.size + 1)
    last_bright = np.maximum.accumulate(np.where(dim, 0, number))
    found: FloatArray = (number - last_bright).astype(np.float64)
    return found


def _calendar_months(hours: Hours) -> IntArray:
    """Month 0..11 of each of the 365 days, whatever day the years begin with: the month in which a day's noon lies."""
    noon = hours.start_utc_s[:HOURS_A_YEAR].reshape(365, 24)[:, 12] + offset_of(hours.timezone)
    found: IntArray = noon.astype("datetime64[s]").astype("datetime64[M]").astype(np.int64) % 12
    return found
