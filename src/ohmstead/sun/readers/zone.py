"""A stated time zone: UTC, UTC+2, UTC-9:30, or a name such as Europe/London. It is never guessed."""

import re
from typing import Any

_FIXED = re.compile(r"(?:UTC|GMT)\s*(?:([+-])\s*(\d{1,2})(?::?(\d{2}))?)?", re.I)


def fixed_offset_s(zone: str) -> int | None:
    """Offset of UTC, UTC+2, UTC+5:30; None for a name, whose offset may change with the season.

    Parameters
    ----------
    zone : str
        As stated.

    Returns
    -------
    int or None
        Zone minus UTC. [s]

    Source
    ------
    None needed.

    Examples
    --------
    >>> fixed_offset_s("UTC+5:30"), fixed_offset_s("UTC-4"), fixed_offset_s("Europe/London")
    (19800, -14400, None)
    """
    found = _FIXED.fullmatch(zone.strip())
    if found is None:
        return None
    seconds = int(found[2] or 0) * 3600 + int(found[3] or 0) * 60
    return -seconds if found[1] == "-" else seconds


def zone_info(zone: str) -> Any:
    """The rules of a named zone, or None when there is no zone of this name."""
    from zoneinfo import ZoneInfo

    try:
        return ZoneInfo(zone.strip())
    except (KeyError, ValueError, OSError):
        return None


def standard_offset_s(zone: str, year: int) -> int | None:
    """Offset of a zone's standard time in a year, summer time left out; None for no zone.

    Parameters
    ----------
    zone : str
        As stated.
    year : int
        Calendar year.

    Returns
    -------
    int or None
        Standard time minus UTC. [s]

    Source
    ------
    The time zone data of the machine.

    Examples
    --------
    >>> standard_offset_s("Europe/London", 2001), standard_offset_s("UTC-4", 2001)
    (0, -14400)
    """
    fixed = fixed_offset_s(zone)
    if fixed is not None:
        return fixed if abs(fixed) <= 14 * 3600 else None
    from datetime import datetime

    rules = zone_info(zone)
    if rules is None:
        return None
    offsets = [datetime(year, month, 15, 12, tzinfo=rules).utcoffset() for month in (1, 7)]
    return min(round(offset.total_seconds()) for offset in offsets if offset is not None)
