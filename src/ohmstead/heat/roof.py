"""Air under a roof by hour: from outdoor air, sun and covering, or from measured points; outdoor air from its ends."""

from collections.abc import Sequence
from math import exp

from ..tables.reader import numbers, words
from .iec import between

OUTSIDE_PEAK_C = 33.3  # of the day on which the peaks of table roof_spaces were measured
PEAK_SUN_W_PER_M2 = 1000.0  # of such a day, about; common practice
LAG_H = 1.0  # of the roof space behind the sun; common practice, 0 for sheet metal, 2 for heavy tiles


def roofs() -> list[str]:
    """The coverings that are known."""
    return words("roof_spaces", "roof")


def peak_rise_k(roof: str) -> float:
    """Rise of the air under a roof over that outside, at the peak of a hot clear day.

    Parameters
    ----------
    roof : str
        One of `roofs()`.

    Returns
    -------
    float
        In the middle of the space; just under the deck it is hotter, on the floor cooler, by some 5 K. [K]

    Source
    ------
    parker-sherwin-1998

    Examples
    --------
    >>> round(peak_rise_k("dark shingle"), 1)
    23.9
    """
    return numbers("roof_spaces", "peak_c")[roofs().index(roof)] - OUTSIDE_PEAK_C


def under_roof_c(
    outdoor_c: Sequence[float], sun_w_per_m2: Sequence[float], rise_k: float, lag_h: float = LAG_H
) -> tuple[float, ...]:
    """Air under a roof by hour of a day that repeats: outdoor air, and a rise that follows the sun with a lag.

    Parameters
    ----------
    outdoor_c : sequence of float
        By hour. [°C]
    sun_w_per_m2 : sequence of float
        On the level, by hour. [W/m²]
    rise_k : float
        Largest rise on a day whose sun peaks at 1000 W/m²; `peak_rise_k`, or measured. [K]
    lag_h : float
        Time constant of the rise. [h]

    Returns
    -------
    tuple of float
        By hour. [°C]

    Source
    ------
    parker-sherwin-1998 for the peak; the first-order lag is ours.

    Examples
    --------
    >>> sun = [0.0] * 6 + [150, 400, 600, 800, 940, 1000, 1000, 940, 800, 600, 400, 150] + [0.0] * 6
    >>> air = under_roof_c([30.0] * 24, sun, 22.0)
    >>> air.index(max(air)), round(max(air), 1), round(air[3], 1)
    (12, 52.0, 30.0)
    """
    share = 1.0 - exp(-1.0 / lag_h) if lag_h > 0.0 else 1.0
    driven = [x / PEAK_SUN_W_PER_M2 for x in sun_w_per_m2]
    level = sum(driven) / len(driven)
    for _ in range(int(12.0 * max(lag_h, 1.0)) // len(driven) + 2):  # until the days repeat
        lagged = []
        for x in driven:
            level += share * (x - level)
            lagged.append(level)
    peak, top = max(driven, default=0.0), max(lagged, default=0.0)
    scale = rise_k * peak / top if top > 0.0 else 0.0
    return tuple(air + scale * x for air, x in zip(outdoor_c, lagged, strict=True))


def from_points_c(outdoor_c: Sequence[float], points: Sequence[tuple[float, float]]) -> tuple[float, ...]:
    """Air under a roof from what was measured: pairs of outdoor air and air under the roof.

    Straight between the points. Beyond them the rise of the last point stays.

    Parameters
    ----------
    outdoor_c : sequence of float
        By hour. [°C]
    points : sequence of tuple of float
        Outdoor and under the roof, one or more. [°C]

    Returns
    -------
    tuple of float
        By hour. [°C]

    Source
    ------
    None needed: measured.

    Examples
    --------
    >>> [round(x, 1) for x in from_points_c([15.0, 30.0, 42.0], [(20.0, 24.0), (40.0, 62.0)])]
    [19.0, 43.0, 64.0]
    """
    ordered = sorted(points)
    outside, rises = [p[0] for p in ordered], [p[1] - p[0] for p in ordered]
    return tuple(air + between(air, outside, rises) for air in outdoor_c)


def day_air_c(lowest_c: float, highest_c: float) -> tuple[float, ...]:
    """Air of a day by hour from its two ends: coldest at 5, hottest at 14 and 15, by the sun.

    Parameters
    ----------
    lowest_c : float
        Of the day. [°C]
    highest_c : float
        Of the day. [°C]

    Returns
    -------
    tuple of float
        By hour. [°C]

    Source
    ------
    ashrae-fundamentals, fraction of the daily range.

    Examples
    --------
    >>> air = day_air_c(20.0, 40.0)
    >>> air[5], air[14], round(air[9], 1)
    (20.0, 40.0, 29.0)
    """
    return tuple(highest_c - share * (highest_c - lowest_c) for share in numbers("day_range", "fraction"))
