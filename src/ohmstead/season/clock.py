"""What the clock on the wall and the sun say in every hour: whose share of it lies in a window, or in the dark."""

from dataclasses import dataclass
from datetime import datetime, timedelta, timezone, tzinfo

import numpy as np

from ..site.model import Site
from ..sun.daylight import cos_zenith
from ..sun.hours import HOUR_S, FloatArray, Hours, IntArray

DOWN_DEG = 90.833  # the sun is down when its upper edge is, bent by the air: the usual figure of almanacs
DAY_S = 86400
THURSDAY = 3  # 1 January 1970


@dataclass(frozen=True, slots=True)
class Wall:
    """Clock and calendar on the wall at the start of each hour: hour 0..24, days since 1970."""

    hour: FloatArray
    day: IntArray

    def holds(self, days: tuple[int, ...], months: tuple[int, ...]) -> FloatArray:
        """1 in hours of these days of the week (0 is Monday) and months (1 is January), else 0; () stands for all."""
        found = np.ones(self.day.shape)
        if days:
            found *= np.isin((self.day + THURSDAY) % 7, days)
        if months:
            of_year = self.day.astype("datetime64[D]").astype("datetime64[M]").astype(np.int64)
            found *= np.isin(of_year % 12 + 1, months)
        return found

    def yesterday(self) -> "Wall":
        """The same clock a day earlier."""
        return Wall(self.hour, self.day - 1)


def wall_of(site: Site, hours: Hours) -> tuple[Wall, str]:
    """The clock on the wall, and a note on the zone that was taken."""
    name = site.about.timezone
    stated = site.about.origin.get("timezone")
    if stated is None or stated.how != "stated":
        offset_s = round(hours.longitude / 15.0) * 3600
        note = "no time zone stated: the clock of the duty follows the longitude, without summer time"
        return _wall(hours.start_utc_s + offset_s), note
    return _wall(hours.start_utc_s + _offsets_s(_zone(name), hours).astype(np.int64)), ""


def _wall(local_s: IntArray) -> Wall:
    return Wall((local_s % DAY_S) / 3600.0, local_s // DAY_S)


def _zone(name: str) -> tzinfo:
    """The zone of that name: of the zone table, or a fixed one such as UTC+2."""
    from zoneinfo import ZoneInfo

    if name.upper().startswith("UTC") and len(name) > 3:
        sign, rest = (-1 if name[3] == "-" else 1), name[4:]
        whole, _, minutes = rest.partition(":")
        return timezone(sign * timedelta(hours=int(whole), minutes=int(minutes or 0)))
    return ZoneInfo(name)


def _offsets_s(zone: tzinfo, hours: Hours) -> FloatArray:
    """Clock of a zone minus UTC in each hour. Looked up at midnight; days on which it changes, hour by hour. [s]"""
    days = hours.start_utc_s // DAY_S
    known, place = np.unique(days, return_inverse=True)
    known = np.append(known, known[-1] + 1)
    begin = np.array([_offset_s(zone, int(day) * DAY_S) for day in known])
    found = begin[place].astype(np.float64)
    for index in np.flatnonzero((begin[1:] != begin[:-1])[place]):
        found[index] = _offset_s(zone, int(hours.start_utc_s[index]))
    return found


def _offset_s(zone: tzinfo, moment_s: int) -> float:
    found = datetime.fromtimestamp(moment_s, zone).utcoffset()
    return found.total_seconds() if found else 0.0


def window_share(wall: FloatArray, start_h: float, end_h: float) -> FloatArray:
    """Share of each hour inside a window of the clock, which may go over midnight; equal ends are the whole day."""
    start, length = start_h % 24.0, (end_h - start_h) % 24.0 or 24.0
    into = (wall - start) % 24.0
    first = np.clip(length - into, 0.0, 1.0)
    again = np.clip(into + 1.0 - 24.0, 0.0, length)
    found: FloatArray = np.minimum(first + again, 1.0)
    return found


def dark_share(hours: Hours) -> FloatArray:
    """Share of each hour with the sun down, flat horizon."""
    edge = np.cos(np.radians(DOWN_DEG))
    begin = cos_zenith(hours.start_utc_s, hours.latitude, hours.longitude) - edge
    if bool((np.diff(hours.start_utc_s) == HOUR_S).all()):
        last = cos_zenith(hours.start_utc_s[-1:] + HOUR_S, hours.latitude, hours.longitude) - edge
        end = np.concatenate((begin[1:], last))
    else:
        end = cos_zenith(hours.start_utc_s + HOUR_S, hours.latitude, hours.longitude) - edge
    slope = end - begin
    crossing = np.clip(-begin / np.where(slope == 0.0, 1.0, slope), 0.0, 1.0)
    up = np.where((begin > 0) & (end > 0), 1.0, 0.0)
    up = np.where((begin <= 0) & (end > 0), 1.0 - crossing, up)
    up = np.where((begin > 0) & (end <= 0), crossing, up)
    found: FloatArray = 1.0 - up
    return found
