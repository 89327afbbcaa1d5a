"""Air of every hour from twelve monthly means: a smooth year, and a daily swing that is wide on clear days."""

import numpy as np

from .clearness import MONTH_DAYS, day_months
from .hours import FloatArray

WARMEST_H = 15.0  # by the sun; common practice, no source
# Clearness = k · √(swing): Hargreaves' k is 0.16 inland and 0.19 by the sea (FAO-56, equation 50);
# a middle one is taken.
HARGREAVES = 0.175
_WIDEST_K = 20.0


def smooth_year(months: FloatArray) -> FloatArray:
    """Twelve monthly means as a line over 365 days whose means by month are the twelve again, shape (365,).

    Straight lines between the middles of the months; the heights of the twelve knots are solved for.
    """
    ends = np.cumsum(MONTH_DAYS)
    middles = ends - np.array(MONTH_DAYS) / 2
    day = np.arange(365) + 0.5
    weights = np.array([np.interp(day, middles, row, period=365) for row in np.eye(12)])
    of_month = day_months()
    means = np.array([weights[:, of_month == month].mean(axis=1) for month in range(12)])
    found: FloatArray = np.linalg.solve(means, months) @ weights
    return found


def draw_air(months: FloatArray, clearness: FloatArray, solar: FloatArray) -> FloatArray:
    """Air of each hour, shape (n_day, 24), for clearness by day, shape (n_day,), and solar time of the hours.

    The mean of a day lies on the smooth year; its swing is (clearness / k)², at most 20 K. No cold or hot spells
    are drawn: the coldest air of a zone has to be stated by the builder.
    """
    n_year = clearness.size // 365
    mean = np.tile(smooth_year(months), n_year)[:, None]
    swing = np.minimum((clearness / HARGREAVES) ** 2, _WIDEST_K)[:, None]
    found: FloatArray = mean + swing / 2 * np.cos(2 * np.pi * (solar - WARMEST_H) / 24.0)
    return found
