"""Years of hours drawn from twelve monthly means, or of a clear sky.

Monthly clearness -> daily chain -> hourly model -> each day brought to its sum -> sky and beam. The daily values are
bent so that every month, over all years drawn, has the stated mean; hours keep the sum of their day. So the
means are met by construction, while single years differ as years do.
"""

from dataclasses import dataclass

import numpy as np

from .air import draw_air
from .calendar import TYPICAL_YEAR, clock, zone_name
from .clearness import LEAST_MEAN, MOST_MEAN, day_months, draw_days, meet_means
from .daylight import cos_zenith, extra_w_per_m2, solar_hour
from .hourly import draw_hours, meet_days
from .hours import HOUR_S, FloatArray, Hours, IntArray
from .split import LOWEST_SUN, SPLIT, split

DARK_WH = 100.0  # a month with less sun than this above the air is taken as dark; Wh/m² a day
_NO_WIND = "no wind is known"
_AIR = "air is smoothed from monthly means with a swing by clearness (Hargreaves); cold and hot spells are not drawn"


@dataclass(frozen=True, slots=True)
class Spot:
    """Where years are drawn for: a point on the map and the standard time in which its days are counted."""

    latitude: float
    longitude: float
    elevation_m: float
    offset_s: int


def outside_by_month(spot: Spot) -> FloatArray:
    """Sun on the level above the air, mean of each month. [Wh/m² a day]"""
    _, high, extra, _ = _sky(spot, TYPICAL_YEAR, 1)
    return _by_month((np.maximum(high, 0) * extra).sum(axis=1))


def month_clearness(spot: Spot, sun: FloatArray) -> FloatArray:
    """Monthly means, Wh/m² a day, as clearness; nan for a dark month."""
    return _clearness(outside_by_month(spot), sun)


def impossible_months(spot: Spot, sun: FloatArray) -> IntArray:
    """Months, 0..11, whose mean no weather gives: darker than 0.04 or brighter than 0.82 of the sun above the air."""
    clearness = month_clearness(spot, sun)
    dark = np.isnan(clearness)
    wrong = np.where(dark, sun > DARK_WH, (clearness < LEAST_MEAN) | (clearness > MOST_MEAN))
    return np.flatnonzero(wrong).astype(np.int64)


def drawn_weather(spot: Spot, sun_wh_per_m2: FloatArray, air_c: FloatArray, n_year: int, seed: int) -> Hours:
    """Years drawn from twelve monthly means of sun on the level and of air; the same seed draws the same years.

    Parameters
    ----------
    spot : Spot
        Where.
    sun_wh_per_m2 : array, shape (12,)
        Mean sun on the level a day. [Wh/m²]
    air_c : array, shape (12,)
        Mean air by day and night. [°C]
    n_year : int
        How many years; they follow one another without a break.
    seed : int
        Which years.

    Returns
    -------
    Hours
        `n_year` · 8760 hours.

    Source
    ------
    aguiar-1988 for days, aguiar-1992 for hours, erbs-1982 for the sky.

    Examples
    --------
    >>> spot = Spot(-34.8, 150.0, 0.0, 36000)
    >>> made = drawn_weather(spot, np.full(12, 0.5) * outside_by_month(spot), np.full(12, 18.0), 2, seed=1)
    >>> made.n_year, round(float(made.air_c.mean()), 1)
    (2, 18.0)
    """
    dice = np.random.default_rng(seed)
    start, high, extra, solar = _sky(spot, TYPICAL_YEAR, n_year)
    outside = np.maximum(high, 0.0) * extra
    daily_outside = outside.sum(axis=1)
    weights = daily_outside.reshape(n_year, 365).mean(axis=0)
    means = _clearness(_by_month(weights), sun_wh_per_m2)
    dark = np.isnan(means)
    means = np.where(dark, LEAST_MEAN, np.clip(means, LEAST_MEAN, MOST_MEAN))
    days = meet_means(draw_days(means, n_year, dice), means, weights)
    days = (days * np.where(dark, 0.0, 1.0)[day_months()]).ravel()
    hours = meet_days(draw_hours(days, high, solar, dice), days, outside, solar)
    ghi = (hours * outside).ravel()
    beam, sky = split(ghi, high.ravel(), extra.ravel())
    notes = [
        f"{n_year} {'year' if n_year == 1 else 'years'} drawn with seed {seed} from twelve monthly means: "
        "days by the chain of Aguiar, Collares-Pereira and Conde (1988), hours by Aguiar and Collares-Pereira (1992), "
        f"sky by {SPLIT}",
        "over all years each month has the stated mean; single years differ",
    ]
    if n_year == 1:
        notes[1] = "the one year has the stated mean in every month, so it is no dark year: draw more to see those"
    if dark.any():
        notes.append(f"{int(dark.sum())} months have no sun to speak of at this latitude")
    return _hours(spot, start, (ghi, beam, sky), draw_air(air_c, days, solar).ravel(), (*notes, _AIR, _NO_WIND))


def clear_year(spot: Spot, air_c: FloatArray) -> Hours:
    """One year without a cloud: optimistic, and said so.

    Parameters
    ----------
    spot : Spot
        Where.
    air_c : array, shape (12,)
        Mean air by day and night. [°C]

    Returns
    -------
    Hours
        8760 hours.

    Source
    ------
    ineichen-2002, with the turbidity of the air by month from the map that pvlib carries.

    Examples
    --------
    >>> clear_year(Spot(57.6, -7.5, 12.0, 0), np.full(12, 9.0)).notes[0][:10]
    'optimistic'
    """
    from pandas import DatetimeIndex
    from pvlib import atmosphere, clearsky

    start, high, extra, solar = _sky(spot, TYPICAL_YEAR, 1)
    zenith = np.degrees(np.arccos(np.clip(high.ravel(), -1, 1)))
    times = DatetimeIndex((start + HOUR_S // 2).astype("datetime64[s]"), tz="UTC")
    haze = clearsky.lookup_linke_turbidity(times, spot.latitude, spot.longitude).to_numpy()
    pressure = atmosphere.alt2pres(spot.elevation_m)
    mass = atmosphere.get_absolute_airmass(atmosphere.get_relative_airmass(zenith), pressure)
    with np.errstate(divide="ignore", invalid="ignore"):
        made = clearsky.ineichen(zenith, mass, haze, spot.elevation_m, extra.ravel())
    ghi = np.nan_to_num(np.asarray(made["ghi"]))
    low = high.ravel() < LOWEST_SUN
    beam = np.where(low, 0.0, np.nan_to_num(np.asarray(made["dni"])))
    sky = np.where(low, ghi, np.maximum(ghi - beam * np.maximum(high.ravel(), 0), 0.0))
    outside = np.maximum((np.maximum(high, 0) * extra).sum(axis=1), 1.0)
    days = np.clip(ghi.reshape(365, 24).sum(axis=1) / outside, 0.0, 1.0)
    notes = (
        "optimistic: a sky without a single cloud (Ineichen and Perez 2002, haze by month from a world map); "
        "real harvest is lower, and no dark days are in it",
        _AIR,
        _NO_WIND,
    )
    return _hours(spot, start, (ghi, beam, sky), draw_air(air_c, days, solar).ravel(), notes)


def _hours(
    spot: Spot, start: IntArray, sun: tuple[FloatArray, FloatArray, FloatArray], air: FloatArray, notes: tuple[str, ...]
) -> Hours:
    _, year = clock(TYPICAL_YEAR, start.size // 8760, spot.offset_s)
    return Hours(
        start, *sun, air, None, year, spot.latitude, spot.longitude, spot.elevation_m, zone_name(spot.offset_s), notes
    )


def _sky(spot: Spot, first: int, n_year: int) -> tuple[IntArray, FloatArray, FloatArray, FloatArray]:
    """Clock, height of the sun, sun above the air and solar time; the last three of shape (n_day, 24)."""
    start, _ = clock(first, n_year, spot.offset_s)
    middle = start + HOUR_S // 2
    shape = (-1, 24)
    return (
        start,
        cos_zenith(middle, spot.latitude, spot.longitude).reshape(shape),
        extra_w_per_m2(middle).reshape(shape),
        solar_hour(middle, spot.longitude).reshape(shape),
    )


def _clearness(outside: FloatArray, sun: FloatArray) -> FloatArray:
    found: FloatArray = np.where(outside > DARK_WH, sun / np.maximum(outside, DARK_WH), np.nan)
    return found


def _by_month(days: FloatArray) -> FloatArray:
    of_month = day_months()
    return np.array([days[of_month == month].mean() for month in range(12)])
