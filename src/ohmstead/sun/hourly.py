"""From the clearness of a day to its hours: a mean course by the height of the sun, and a wander around it.

The time-dependent autoregressive Gaussian model of Aguiar and Collares-Pereira (1992). Afterwards every day is
brought to its own sum, so that what the daily chain drew is what the hours add up to.
"""

import numpy as np
from numpy.random import Generator

from .hours import FloatArray

_REDRAWS = 8  # after that the few values still outside are put on the bound


def draw_hours(days: FloatArray, high: FloatArray, solar: FloatArray, dice: Generator) -> FloatArray:
    """Clearness of each hour, shape (n_day, 24), for the clearness of the days, shape (n_day,).

    high: cosine of the zenith angle, shape (n_day, 24); solar: solar time of the same hours. The wander of an
    hour hangs on the one before; values below zero or above a clear sky are drawn again.
    """
    order = np.argsort(solar, axis=1)  # by the sun's own clock, whatever hour the weather's clock begins with
    up = np.take_along_axis(high, order, 1).T
    day = days[None, :]
    mean, spread, keep = _course(day, np.maximum(up, 1e-3))
    top = np.maximum(np.take_along_axis(clear_share(solar), order, 1).T, day)
    drawn = np.zeros_like(mean)
    wander = _noise(dice, days.size)
    fresh = np.sqrt(1.0 - keep**2)
    for hour in np.flatnonzero((up > 0.0).any(axis=1)):
        wander = _next(wander, (mean[hour], spread[hour], top[hour]), (keep, fresh), dice)
        drawn[hour] = np.clip(mean[hour] + spread[hour] * wander, 0.0, top[hour])
    found = np.empty_like(high)
    np.put_along_axis(found, order, drawn.T, 1)
    return found


def _next(
    wander: FloatArray,
    course: tuple[FloatArray, FloatArray, FloatArray],
    shares: tuple[FloatArray, FloatArray],
    dice: Generator,
) -> FloatArray:
    """The wander one hour later; drawn again where clearness would leave its bounds."""
    mean, spread, top = course
    keep, fresh = shares
    carried = keep * wander
    new = carried + fresh * _noise(dice, wander.size)
    lowest, highest = -mean / np.maximum(spread, 1e-9), (top - mean) / np.maximum(spread, 1e-9)
    outside = np.flatnonzero((new < lowest) | (new > highest))
    for _ in range(_REDRAWS):
        if not outside.size:
            break
        again = carried[outside] + fresh[outside] * _noise(dice, outside.size)
        new[outside] = again
        outside = outside[(again < lowest[outside]) | (again > highest[outside])]
    return new


def meet_days(hours: FloatArray, days: FloatArray, outside: FloatArray, solar: FloatArray) -> FloatArray:
    """The hours brought to the sum of their day; `outside` is the sun on the level above the air, shape (n_day, 24).

    A day that came out too bright is scaled down. One that came out too dark is moved towards a clear sky by the
    share that is missing, so that no hour ends above it.
    """
    top = np.maximum(clear_share(solar), days[:, None])
    whole = outside.sum(axis=1)
    goal, has = days * whole, (hours * outside).sum(axis=1)
    room = np.maximum(((top - hours) * outside).sum(axis=1), 1e-12)
    down = np.where(has > goal, goal / np.maximum(has, 1e-12), 1.0)[:, None]
    lift = np.clip(np.where(has < goal, (goal - has) / room, 0.0), 0.0, 1.0)[:, None]
    found: FloatArray = hours * down + lift * (top - hours)
    return found


def clear_share(solar: FloatArray) -> FloatArray:
    """Clearness of an hour under a clear sky, 0.88 · cos(π (t - 12) / 30) with t the middle of the hour by the sun."""
    found: FloatArray = 0.88 * np.cos(np.pi * (solar - 12.0) / 30.0)
    return found


def _course(day: FloatArray, up: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Mean clearness, its spread, and how much of the wander is kept from one hour to the next."""
    level = -0.19 + 1.12 * day + 0.24 * np.exp(-8.0 * day)
    rise = 0.32 - 1.6 * (day - 0.5) ** 2
    bend = 0.19 + 2.27 * day**2 - 2.51 * day**3
    mean = level + rise * np.exp(-bend / up)
    spread = 0.14 * np.exp(-20.0 * (day - 0.35) ** 2) * np.exp((3.0 * (day - 0.45) ** 2 + 16.0 * day**5) * (1.0 - up))
    keep = 0.38 + 0.06 * np.cos(7.4 * day[0] - 2.5)
    return mean, spread, keep


def _noise(dice: Generator, size: int) -> FloatArray:
    """Normal draws by the closed form that goes with the model."""
    even = dice.random(size)
    found: FloatArray = (even**0.135 - (1.0 - even) ** 0.135) / 0.1975
    return found
