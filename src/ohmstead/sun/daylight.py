"""Where the sun stands, quickly: what weather is checked against and drawn with.

Good to 0.02° between 1950 and 2050 and made of plain array arithmetic, so a year of hours costs a millisecond.
"""

import numpy as np

from .hours import FloatArray, IntArray

SOLAR_CONSTANT = 1366.1  # W/m², mean sun outside the air; as the diffuse split of Erbs is reckoned in pvlib
_J2000_S = 946_728_000  # noon of 1 January 2000 UTC


def cos_zenith(middle_utc_s: IntArray, latitude: float, longitude: float) -> FloatArray:
    """Height of the sun as the cosine of its distance from straight up; negative below the horizon.

    The low-precision formulae of the Astronomical Almanac: ecliptic longitude, then declination and hour angle.
    No refraction.

    Parameters
    ----------
    middle_utc_s : array, shape (n_hour,)
        Moments since 1970 UTC. [s]
    latitude : float
        North positive. [°]
    longitude : float
        East positive. [°]

    Returns
    -------
    array, shape (n_hour,)
        Cosine of the zenith angle.

    Source
    ------
    michalsky-1988, the Almanac's formulae.

    Examples
    --------
    >>> noon = np.array([1_066_419_030])  # 17 October 2003, 12:30:30 in Colorado
    >>> round(float(np.degrees(np.arccos(cos_zenith(noon, 39.742476, -105.1786))[0])), 1)
    50.1
    """
    day = (middle_utc_s - _J2000_S) / 86400.0
    anomaly = np.radians(357.528 + 0.9856003 * day)
    ecliptic = np.radians(280.460 + 0.9856474 * day + 1.915 * np.sin(anomaly) + 0.020 * np.sin(2 * anomaly))
    tilt = np.radians(23.439 - 4e-7 * day)
    sine = np.sin(ecliptic)
    ascension = np.arctan2(np.cos(tilt) * sine, np.cos(ecliptic))
    sin_declination = np.sin(tilt) * sine
    cos_declination = np.sqrt(1.0 - sin_declination**2)
    clock_h = (middle_utc_s % 86400) / 3600.0
    sidereal_h = 6.697375 + 0.0657098242 * day + clock_h
    angle = np.radians(15.0 * sidereal_h + longitude) - ascension
    high = np.radians(latitude)
    found: FloatArray = np.sin(high) * sin_declination + np.cos(high) * cos_declination * np.cos(angle)
    return found


def extra_w_per_m2(middle_utc_s: IntArray) -> FloatArray:
    """Sun across the beam outside the air; it varies 3.4 % with the distance of the sun.

    Parameters
    ----------
    middle_utc_s : array, shape (n_hour,)
        Moments since 1970 UTC. [s]

    Returns
    -------
    array, shape (n_hour,)
        Mean sun across the beam. [W/m²]

    Source
    ------
    michalsky-1988, distance of the sun.

    Examples
    --------
    >>> [round(float(v)) for v in extra_w_per_m2(np.array([1_041_638_400, 1_057_276_800]))]  # January, July
    [1413, 1322]
    """
    anomaly = np.radians(357.528 + 0.9856003 * ((middle_utc_s - _J2000_S) / 86400.0))
    distance = 1.00014 - 0.01671 * np.cos(anomaly) - 0.00014 * np.cos(2 * anomaly)
    found: FloatArray = SOLAR_CONSTANT / distance**2
    return found


def solar_hour(middle_utc_s: IntArray, longitude: float) -> FloatArray:
    """Hour of the day by the sun, 12 when it stands highest; the equation of time by Spencer's series.

    Parameters
    ----------
    middle_utc_s : array, shape (n_hour,)
        Moments since 1970 UTC. [s]
    longitude : float
        East positive. [°]

    Returns
    -------
    array, shape (n_hour,)
        Solar time, 0..24. [h]

    Source
    ------
    spencer-1971, equation of time.

    Examples
    --------
    >>> moment = np.array([1_075_825_800])  # 3 February, 10:30 in Madison: the sun says 10:19
    >>> round(float(solar_hour(moment, -89.4)[0]), 1)
    10.3
    """
    round_year = 2 * np.pi * (((middle_utc_s - _J2000_S) / 86400.0) % 365.2425) / 365.2425
    minutes = 229.18 * (
        0.000075
        + 0.001868 * np.cos(round_year)
        - 0.032077 * np.sin(round_year)
        - 0.014615 * np.cos(2 * round_year)
        - 0.040849 * np.sin(2 * round_year)
    )
    found: FloatArray = ((middle_utc_s % 86400) / 3600.0 + longitude / 15.0 + minutes / 60.0) % 24.0
    return found


def clear_w_per_m2(high: FloatArray) -> FloatArray:
    """Sun on the level under a plainly clear sky, for comparison only: 1098 · cos z · exp(-0.059 / cos z).

    Parameters
    ----------
    high : array
        Cosine of the zenith angle.

    Returns
    -------
    array
        Sun on the level; nothing when the sun is down. [W/m²]

    Source
    ------
    haurwitz-1945.

    Examples
    --------
    >>> clear_w_per_m2(np.array([1.0, 0.5, -0.1])).round().tolist()
    [1035.0, 488.0, 0.0]
    """
    up = np.maximum(high, 1e-6)
    found: FloatArray = np.where(high > 0, 1098.0 * up * np.exp(-0.059 / up), 0.0)
    return found
