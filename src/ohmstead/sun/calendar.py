"""Clock of whole years without leap days, in the standard time of the weather."""

from functools import lru_cache

import numpy as np

from .hours import HOUR_S, HOURS_A_YEAR, IntArray

TYPICAL_YEAR = 2001  # begins with a Monday, no leap day: a year made of months of many years stands here
_LEAP_HOUR = (31 + 28) * 24  # first hour of 29 February


def year_begin_s(year: int) -> int:
    """First second of a calendar year, as if its standard time were UTC.

    Parameters
    ----------
    year : int
        Calendar year.

    Returns
    -------
    int
        Since 1970. [s]

    Source
    ------
    The calendar.

    Examples
    --------
    >>> year_begin_s(1971) // 86400
    365
    """
    return int((np.datetime64(f"{year:04d}-01-01", "s") - np.datetime64("1970-01-01", "s")).astype(np.int64))


@lru_cache(maxsize=8)
def clock(first: int, n_year: int, offset_s: int) -> tuple[IntArray, IntArray]:
    """Start of each hour and the year it belongs to, both of shape (n_year · 8760,).

    Parameters
    ----------
    first : int
        First calendar year.
    n_year : int
        How many.
    offset_s : int
        Standard time minus UTC. [s]

    Returns
    -------
    tuple of arrays, shape (n_hour,)
        Seconds since 1970 UTC, and calendar years.

    Source
    ------
    The calendar; 29 February is left out.

    Examples
    --------
    >>> start, year = clock(2004, 1, 0)
    >>> start.size, int(start[1416] - start[1415]) // 3600  # from 28 February to 1 March
    (8760, 25)
    """
    hour = np.arange(HOURS_A_YEAR)
    after = hour + 24 * (hour >= _LEAP_HOUR)
    starts, years = [], []
    for year in range(first, first + n_year):
        chosen = after if year % 4 == 0 and (year % 100 != 0 or year % 400 == 0) else hour
        starts.append(year_begin_s(year) - offset_s + chosen * HOUR_S)
        years.append(np.full(HOURS_A_YEAR, year))
    start, of_year = np.concatenate(starts).astype(np.int64), np.concatenate(years).astype(np.int64)
    start.flags.writeable = of_year.flags.writeable = False
    return start, of_year


def zone_name(offset_s: int) -> str:
    """A fixed zone by its name: "UTC", "UTC-5", "UTC+5:30".

    Parameters
    ----------
    offset_s : int
        Standard time minus UTC. [s]

    Returns
    -------
    str
        The name.

    Source
    ------
    None needed.

    Examples
    --------
    >>> zone_name(0), zone_name(-18000), zone_name(19800)
    ('UTC', 'UTC-5', 'UTC+5:30')
    """
    if offset_s == 0:
        return "UTC"
    hours, minutes = divmod(abs(offset_s) // 60, 60)
    return f"UTC{'+' if offset_s > 0 else '-'}{hours}" + (f":{minutes:02d}" if minutes else "")


def offset_of(zone: str) -> int:
    """Offset in seconds of a fixed zone by its name, as `zone_name` writes it."""
    if zone == "UTC":
        return 0
    hours, _, minutes = zone[4:].partition(":")
    size = int(hours) * 3600 + int(minutes or 0) * 60
    return size if zone[3] == "+" else -size
