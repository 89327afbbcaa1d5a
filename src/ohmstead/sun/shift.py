"""Does the sun of a file stand where the sun stands? The brightest days of each month are laid over a clear sky."""

import numpy as np

from .daylight import clear_w_per_m2, cos_zenith
from .hours import FloatArray, IntArray

_COARSE_S, _FINE_S = 1800, 300
_BRIGHT = 85  # percentile over the days of a month: bright days, yet no single odd value


def bright_course(ghi: FloatArray, month: IntArray) -> FloatArray:
    """Sun on the level by month and hour of the day on bright days, shape (12, 24)."""
    by_day, of_day = ghi.reshape(-1, 24), month.reshape(-1, 24)[:, 0]
    return np.array(
        [
            np.percentile(by_day[of_day == m], _BRIGHT, axis=0) if (of_day == m).any() else np.zeros(24)
            for m in range(12)
        ]
    )


def best_lag_s(course: FloatArray, middle_utc_s: IntArray, latitude: float, longitude: float) -> int:
    """How much later the sun of a file stands than it should.

    The lag at which a clear sky, scaled month by month, explains most of the bright course.

    Parameters
    ----------
    course : array, shape (12, 24)
        See `bright_course`.
    middle_utc_s : array, shape (12, 24)
        Moments of the same hours, in the middle of each month. [s]
    latitude : float
        North positive. [°]
    longitude : float
        East positive. [°]

    Returns
    -------
    int
        Positive when the file is late; -12 h..12 h. [s]

    Source
    ------
    haurwitz-1945 for the clear sky.

    Examples
    --------
    >>> moments = (np.arange(12) * 30 + 15)[:, None] * 86400 + np.arange(24) * 3600 + 1800
    >>> course = clear_w_per_m2(cos_zenith(moments - 7200, 40.0, 0.0))
    >>> best_lag_s(course, moments, 40.0, 0.0)
    7200
    """
    coarse = np.arange(-12 * 3600, 12 * 3600, _COARSE_S)
    best = int(coarse[np.argmax(_explained(course, middle_utc_s, (latitude, longitude), coarse))])
    fine = best + np.arange(-_COARSE_S, _COARSE_S + 1, _FINE_S)
    return int(fine[np.argmax(_explained(course, middle_utc_s, (latitude, longitude), fine))])


def _explained(course: FloatArray, middle: IntArray, spot: tuple[float, float], lags: IntArray) -> FloatArray:
    """Sum of squares that the shifted clear sky explains, one figure for each lag."""
    moved = middle[None] - lags[:, None, None]
    clear = clear_w_per_m2(cos_zenith(moved, *spot))
    both = (clear * course).sum(axis=2)
    own = np.maximum((clear**2).sum(axis=2), 1.0)
    found: FloatArray = (both**2 / own).sum(axis=1)
    return found
