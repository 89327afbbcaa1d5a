"""Where the sun stands in every hour: once for a place and a clock, then remembered.

About 0.01° between 1950 and 2050, ten times finer than a shadow on a panel can be told, at a thirtieth of the time
of the full planetary series; a year of hours costs two or three milliseconds, so nothing is kept on disk.
"""

from dataclasses import dataclass
from zlib import crc32

import numpy as np

from .daylight import extra_w_per_m2
from .hours import FloatArray, Hours, IntArray

_J2000_S = 946_728_000  # noon of 1 January 2000 UTC
_CENTURY_S = 36525.0 * 86400.0
_EARTH_LAG_S = 69.0  # terrestrial time ahead of the clock in the 2020s; a minute moves the sun by 0.0007°
_PARALLAX_DEG = 8.794 / 3600.0
_MOST_KEPT = 8


@dataclass(frozen=True, slots=True)
class SunPath:
    """The sun over the hours of one clock; arrays of shape (n_hour,).

    zenith is as seen, bent by the air; azimuth from north over east; extra is the sun across the beam outside the air.
    The hour angle is 0 when the sun stands in the meridian and positive in the afternoon.
    """

    zenith_deg: FloatArray
    azimuth_deg: FloatArray
    extra_w_per_m2: FloatArray
    declination_deg: FloatArray
    hour_angle_deg: FloatArray
    latitude: float

    @property
    def elevation_deg(self) -> FloatArray:
        """Height above the level, as seen."""
        found: FloatArray = 90.0 - self.zenith_deg
        return found


_kept: dict[tuple[float, float, float, int, int], SunPath] = {}


def sun_path(hours: Hours) -> SunPath:
    """The sun in the middle of every hour; taken from memory when place and clock were met before."""
    middle = hours.middle_utc_s
    key = (hours.latitude, hours.longitude, hours.elevation_m, middle.size, crc32(middle.tobytes()))
    found = _kept.get(key)
    if found is None:
        while len(_kept) >= _MOST_KEPT:
            del _kept[next(iter(_kept))]
        found = _kept[key] = sun_at(middle, hours.latitude, hours.longitude, hours.elevation_m)
    return found


def sun_at(moment_utc_s: IntArray, latitude: float, longitude: float, elevation_m: float = 0.0) -> SunPath:
    """Where the sun stands at moments of the clock, seen through air of usual density at 12 °C.

    Parameters
    ----------
    moment_utc_s : array, shape (n_hour,)
        Moments since 1970 UTC. [s]
    latitude : float
        North positive. [°]
    longitude : float
        East positive. [°]
    elevation_m : float
        Above the sea. [m]

    Returns
    -------
    SunPath
        The sun at each moment.

    Source
    ------
    meeus-1998, chapters 12, 16, 22 and 25.

    Examples
    --------
    >>> sun = sun_at(np.array([1_066_419_030]), 39.742476, -105.1786, 1830.14)  # NREL's example: 50.11, 194.34
    >>> sun.zenith_deg.round(2).tolist(), sun.azimuth_deg.round(2).tolist()
    ([50.11], [194.33])
    """
    declination, angle = _equatorial(moment_utc_s, longitude)
    high = np.radians(latitude)
    up, south, west = _level(np.radians(declination), np.radians(angle), high)
    height = np.degrees(np.arcsin(np.clip(up, -1.0, 1.0)))
    height = height - _PARALLAX_DEG * np.sqrt(np.maximum(0.0, 1.0 - up**2))
    azimuth = (np.degrees(np.arctan2(west, south)) + 180.0) % 360.0
    pressure = (1.0 - 2.25577e-5 * elevation_m) ** 5.25588  # share of that at the sea, standard atmosphere
    seen = height + bent_deg(height, pressure)
    return SunPath(90.0 - seen, azimuth, extra_w_per_m2(moment_utc_s), declination, angle, latitude)


def bent_deg(height_deg: FloatArray, pressure_fraction: float) -> FloatArray:
    """How much higher the sun seems than it stands, because the air bends its light.

    Parameters
    ----------
    height_deg : array
        True height above the level. [°]
    pressure_fraction : float
        Pressure of the air over that at the sea. [1]

    Returns
    -------
    array
        To be added to the height; nothing once the whole sun is down. [°]

    Source
    ------
    meeus-1998, chapter 16 (Saemundsson's formula), air at 12 °C.

    Examples
    --------
    >>> bent_deg(np.array([0.0, 10.0, 45.0]), 1.0).round(3).tolist()
    [0.48, 0.089, 0.017]
    """
    arc = np.tan(np.radians(height_deg + 10.3 / (height_deg + 5.11)))
    bent = pressure_fraction * (283.0 / 285.0) * 1.02 / (60.0 * arc)
    found: FloatArray = np.where(height_deg > -0.8333, bent, 0.0)
    return found


def _equatorial(moment_utc_s: IntArray, longitude: float) -> tuple[FloatArray, FloatArray]:
    """Declination and local hour angle [°], from Meeus, Astronomical Algorithms (1998), chapters 12, 22 and 25."""
    ut_s = (moment_utc_s - _J2000_S).astype(np.float64)
    t = (ut_s + _EARTH_LAG_S) / _CENTURY_S
    mean = 280.46646 + 36000.76983 * t + 0.0003032 * t**2
    anomaly = np.radians(357.52911 + 35999.05029 * t - 0.0001537 * t**2)
    centre = (
        (1.914602 - 0.004817 * t) * np.sin(anomaly)
        + (0.019993 - 0.000101 * t) * np.sin(2 * anomaly)
        + 0.000289 * np.sin(3 * anomaly)
    )
    node = np.radians(125.04 - 1934.136 * t)
    seen = np.radians(mean + centre - 0.00569 - 0.00478 * np.sin(node))
    tilt = np.radians(23.4392911 - 0.0130042 * t + 0.00256 * np.cos(node))
    sine = np.sin(seen)
    ascension = np.degrees(np.arctan2(np.cos(tilt) * sine, np.cos(seen)))
    declination: FloatArray = np.degrees(np.arcsin(np.sin(tilt) * sine))
    day = ut_s / 86400.0
    sidereal = 280.46061837 + 360.98564736629 * day - 0.00478 * np.sin(node) * np.cos(tilt)
    angle: FloatArray = (sidereal + longitude - ascension + 180.0) % 360.0 - 180.0
    return declination, angle


def _level(declination: FloatArray, angle: FloatArray, latitude: float) -> tuple[FloatArray, FloatArray, FloatArray]:
    """The direction of the sun as parts up, south and west; everything in radians."""
    cosine = np.cos(declination)
    up = np.sin(latitude) * np.sin(declination) + np.cos(latitude) * cosine * np.cos(angle)
    south = np.sin(latitude) * cosine * np.cos(angle) - np.cos(latitude) * np.sin(declination)
    return up, south, cosine * np.sin(angle)


def rays(path: SunPath, hours: IntArray, later_deg: float) -> FloatArray:
    """Directions to the sun in some hours, the sky turned on by an angle.

    The sky turns 15° an hour; so the sun within an hour is known from its middle without reckoning it anew.

    Parameters
    ----------
    path : SunPath
        The sun in the middle of every hour.
    hours : array, shape (n,)
        Which hours.
    later_deg : float
        How far the sky has turned on since the middle of the hour; below zero for before. [°]

    Returns
    -------
    array, shape (n, 3)
        Unit vectors east, north and up, bent by the air as in the middle of the hour.

    Source
    ------
    duffie-beckman, equations 1.6.5 and 1.6.6.

    Examples
    --------
    >>> noon = SunPath(*(np.array([x]) for x in (40.0, 180.0, 1361.0, 0.0, 0.0)), latitude=40.0)
    >>> rays(noon, np.array([0]), 90.0).round(3).tolist()  # an equinox: six hours later it sets in the west
    [[-1.0, -0.0, 0.0]]
    """
    declination = np.radians(path.declination_deg[hours])
    angle = np.radians(path.hour_angle_deg[hours] + later_deg)
    up, south, west = _level(declination, angle, float(np.radians(path.latitude)))
    lift = np.radians(path.elevation_deg[hours]) - np.arcsin(
        np.clip(
            np.sin(np.radians(path.latitude)) * np.sin(declination)
            + np.cos(np.radians(path.latitude)) * np.cos(declination) * np.cos(np.radians(path.hour_angle_deg[hours])),
            -1.0,
            1.0,
        )
    )
    height = np.arcsin(np.clip(up, -1.0, 1.0)) + lift
    flat = np.hypot(south, west)
    scale = np.cos(height) / np.where(flat > 0, flat, 1.0)
    found: FloatArray = np.stack([-west * scale, -south * scale, np.sin(height)], axis=-1)
    return found
