"""Is this weather possible? Each doubt ends in a refusal with its mend, or in a note."""

from dataclasses import dataclass

import numpy as np

from ..site.model import Site
from .calendar import zone_name
from .daylight import clear_w_per_m2, cos_zenith
from .hours import HOUR_S, FloatArray, IntArray
from .raw import Raw, when
from .shift import best_lag_s, bright_course
from .trouble import refuse
from .whole_years import Grid

REFUSED_LAG_S, TOLD_LAG_S = 45 * 60, 20 * 60  # common practice, no source; see docs/methods/weather.md
_FAR_DEG = 1.0
_HALVES = ((4, 5, 6, 7), (10, 11, 0, 1))  # May to August, November to February: one of them has summer time, if any
_LOWEST_YEAR, _HIGHEST_YEAR = 0.12, 0.85  # share of the sun above the air that a year can have on the level
_WRONG_HEIGHT_M = 400.0


@dataclass(frozen=True, slots=True)
class Sky:
    """The sun over the hours of a grid: cosine of the zenith angle, and the beam above the air [W/m²]."""

    high: FloatArray
    extra: FloatArray
    month: IntArray


def check_place(raw: Raw, site: Site) -> tuple[str, ...]:
    """The place in the file's header against that of the site."""
    about, notes = site.about, []
    solar = raw.longitude / 15.0
    zone = raw.offset_s / HOUR_S
    if abs((zone - solar + 12) % 24 - 12) > 3.5 and raw.offset_s:
        notes.append(f"{raw.file}: zone {zone_name(raw.offset_s)} is far from longitude {raw.longitude:g}°")
    if about.latitude is None or about.longitude is None:
        return tuple(notes)
    if about.latitude * raw.latitude < 0 and abs(about.latitude - raw.latitude) > 15:
        refuse(
            raw.file,
            raw.line(0) and 1,
            f"the file is for latitude {raw.latitude:g}°, the site lies at {about.latitude:g}°: summer is winter there",
            "a file from the same half of the world",
            "correct the sign of latitude in section site, or take another file",
        )
    if (
        abs(about.latitude - raw.latitude) > _FAR_DEG
        or abs((about.longitude - raw.longitude + 180) % 360 - 180) > 2 * _FAR_DEG
    ):
        notes.append(
            f"{raw.file} is for {_point(raw.latitude, raw.longitude)}, the site lies at "
            f"{_point(about.latitude, about.longitude)}; the sun is reckoned for the place of the file"
        )
    return tuple(notes)


def check_height(raw: Raw) -> tuple[str, ...]:
    """The elevation in the header against a coarse map of the world that pvlib carries."""
    from pvlib.location import lookup_altitude

    ground = float(lookup_altitude(raw.latitude, raw.longitude))
    if abs(ground - raw.elevation_m) > _WRONG_HEIGHT_M + 0.2 * abs(ground):
        return (
            f"{raw.file} says it lies {raw.elevation_m:g} m high, the map says some {ground:.0f} m; "
            "its header may be wrong",
        )
    return ()


def check_clock(raw: Raw, grid: Grid, ghi: FloatArray, sky: Sky) -> tuple[str, ...]:
    """The sun of the file against where the sun is: wrong zone, shifted stamps, summer time, half of the world."""
    course = bright_course(ghi, sky.month)
    if course.sum() <= 0:
        refuse(
            raw.file, 0, "there is no sun in the file", "sun on the level in W/m² by the hour", "check column and unit"
        )
    _check_half_of_world(raw, course, grid, sky)
    middle = _moments(grid, sky.month)
    lag = best_lag_s(course, middle, raw.latitude, raw.longitude)
    halves = []
    for months in _HALVES:
        part = np.where(np.isin(np.arange(12), months)[:, None], course, 0.0)
        if part.sum() > 0.02 * course.sum():
            halves.append(best_lag_s(part, middle, raw.latitude, raw.longitude))
    if len(halves) == 2 and 2700 <= abs(halves[0] - halves[1]) <= 4500:
        refuse(
            raw.file,
            0,
            f"the sun stands {_late(halves[0])} from May to August, {_late(halves[1])} from November to February: "
            "the clock is put forward in summer",
            "one zone all year, or a zone with its summer time",
            "name the zone, such as `timezone: Europe/London`, or export in UTC",
        )
    hours = lag / HOUR_S
    if abs(lag) >= REFUSED_LAG_S:
        stated = zone_name(raw.offset_s)
        likely = zone_name(round((raw.offset_s + lag) / 1800) * 1800)
        cures = [f"if the clock of the file is right, its zone is about {likely}"]
        if abs(abs(hours) - 1) < 0.35:
            cures.append("`stamps` may name the other end of the interval")
        refuse(
            raw.file,
            raw.line(0) and 1,
            f"the sun of the file stands {_late(lag)} for longitude {raw.longitude:g}° and {stated}",
            "sun and clock in step within 45 minutes",
            "; ".join(cures),
        )
    if abs(lag) >= TOLD_LAG_S:
        return (
            f"the sun of {raw.file} stands {_late(lag)}: zone or stamps may be off by half an hour, "
            "and shade with them",
        )
    return ()


def check_values(raw: Raw, grid: Grid, columns: dict[str, FloatArray], sky: Sky) -> tuple[str, ...]:
    """No hour beyond what can be: bounds of Long and Dutton for sun, of the earth's records for air and wind.

    Half an hour of the sun's path is granted on each side, since stamps and means are never so exact.
    """
    at = (grid.start_utc_s + np.array([[0], [HOUR_S // 2], [HOUR_S]])).ravel()
    highest = np.maximum(cos_zenith(at, raw.latitude, raw.longitude), 0.0).reshape(3, -1).max(axis=0)
    ceilings = {
        "ghi": 1.5 * sky.extra * highest**1.2 + 100,
        "dni": sky.extra,
        "dhi": 0.95 * sky.extra * highest**1.2 + 50,
    }
    for name, ceiling in ceilings.items():
        if name in columns:
            spoken = {"ghi": "sun on the level", "dni": "beam", "dhi": "sky"}[name]
            _beyond(raw, grid, columns[name], (np.full_like(ceiling, -10.0), ceiling), (spoken, "W/m²"))
    for name, (low, high), spoken, unit in (("air", (-90.0, 60.0), "air", "°C"), ("wind", (0.0, 110.0), "wind", "m/s")):
        if name in columns:
            bounds = (np.full_like(sky.high, low), np.full_like(sky.high, high))
            _beyond(raw, grid, columns[name], bounds, (spoken, unit))
    return _check_sum(raw, columns, sky)


def check_brightness(raw: Raw, ghi: FloatArray, sky: Sky) -> None:
    """A year has between an eighth and most of the sun above the air; else the unit is wrong."""
    share = float(ghi.sum() / (sky.extra * np.maximum(sky.high, 0)).sum())
    if not _LOWEST_YEAR < share < _HIGHEST_YEAR:
        years = ghi.size / 8760
        refuse(
            raw.file,
            0,
            f"a year has {ghi.sum() / years / 1000:.4g} kWh/m², {share * 100:.1f} % of the sun above the air",
            "25..75 %",
            "check column and unit of the sun",
        )


def _check_sum(raw: Raw, columns: dict[str, FloatArray], sky: Sky) -> tuple[str, ...]:
    """Level = beam · cos z + sky, where all three are given."""
    if not {"ghi", "dni", "dhi"} <= columns.keys():
        return ()
    day = sky.high > 0.2
    summed = columns["dni"] * sky.high + columns["dhi"]
    off = float(np.abs(summed - columns["ghi"])[day].sum() / max(columns["ghi"][day].sum(), 1.0))
    if off > 0.5:
        refuse(
            raw.file,
            0,
            f"beam and sky miss the sun on the level by {off * 100:.0f} %",
            "level = beam · cos z + sky",
            "the columns may have changed places, or beam stands for the beam on the level",
        )
    return (
        (f"beam and sky of {raw.file} miss its sun on the level by {off * 100:.0f} % in the mean hour",)
        if off > 0.1
        else ()
    )


def _beyond(
    raw: Raw, grid: Grid, values: FloatArray, bounds: tuple[FloatArray, FloatArray], words: tuple[str, str]
) -> None:
    low, high = bounds
    bad = np.flatnonzero((values < low) | (values > high))
    if not bad.size:
        return
    at = int(bad[np.argmax(np.maximum(low - values, values - high)[bad])])
    spoken, unit = words
    row = int(grid.row[at])
    more = f"; {bad.size} such hours" if bad.size > 1 else ""
    refuse(
        raw.file,
        raw.line(row) if row >= 0 else 0,
        f"{spoken} is {values[at]:.4g} {unit} at {when(int(grid.local_s[at]))}{more}",
        f"{low[at]:.4g}..{high[at]:.4g} {unit} in that hour",
        "correct the value or leave it empty: short gaps are filled; if there are many, check the unit",
    )


def _check_half_of_world(raw: Raw, course: FloatArray, grid: Grid, sky: Sky) -> None:
    if abs(raw.latitude) < 20:
        return
    moments = _moments(grid, sky.month)
    seen = course.sum(axis=1)
    alike = [
        float(
            np.corrcoef(seen, clear_w_per_m2(cos_zenith(moments, side * raw.latitude, raw.longitude)).sum(axis=1))[0, 1]
        )
        for side in (1, -1)
    ]
    if alike[0] < -0.3 and alike[1] > 0.6:
        refuse(
            raw.file,
            raw.line(0) and 1,
            f"the file is brightest when latitude {raw.latitude:g}° has winter",
            "bright months in the summer of the place",
            "correct the sign of the latitude, or take a file from the same half of the world",
        )


def _moments(grid: Grid, month: IntArray) -> IntArray:
    """Middle of each hour of one middle day a month, shape (12, 24)."""
    of_day = month.reshape(-1, 24)[:, 0][:365]
    days = [int(np.median(np.flatnonzero(of_day == m))) if (of_day == m).any() else 0 for m in range(12)]
    found: IntArray = grid.start_utc_s.reshape(-1, 24)[days] + HOUR_S // 2
    return found


def _late(lag_s: float) -> str:
    minutes = round(abs(lag_s) / 60)
    size = f"{minutes} min" if minutes < 60 else f"{minutes / 60:.3g} h"
    return f"{size} too {'late' if lag_s > 0 else 'early'}" if minutes >= 5 else "where it should"


def _point(latitude: float, longitude: float) -> str:
    return (
        f"{abs(latitude):.1f}° {'N' if latitude >= 0 else 'S'} {abs(longitude):.1f}° {'E' if longitude >= 0 else 'W'}"
    )
