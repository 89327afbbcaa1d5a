"""Damp: vapour, dew point, and what a box condenses."""

from math import exp, log

from .kernel import KELVIN

# Magnus' formula over water as the WMO gives it: 6.112 hPa, 17.62, 243.12 °C; wmo-8, annex 4.B.
AT_ZERO_PA, SLOPE, SHIFT_C = 611.2, 17.62, 243.12
GAS_OF_WATER = 461.5  # J/(kg·K)


def saturation_pa(temperature_c: float) -> float:
    """Pressure of water vapour in saturated air, over water.

    e = 611.2 · exp(17.62 · T / (243.12 + T))

    Parameters
    ----------
    temperature_c : float
        Of the air, -45 to 60. [°C]

    Returns
    -------
    float
        Pressure of the vapour. [Pa]

    Source
    ------
    wmo-8, annex 4.B

    Examples
    --------
    >>> round(saturation_pa(20.0))
    2333
    """
    return AT_ZERO_PA * exp(SLOPE * temperature_c / (SHIFT_C + temperature_c))


def dew_point_c(temperature_c: float, humidity_fraction: float) -> float:
    """Temperature at which air begins to condense.

    Parameters
    ----------
    temperature_c : float
        Of the air. [°C]
    humidity_fraction : float
        Relative humidity, above 0. [1]

    Returns
    -------
    float
        Dew point. [°C]

    Source
    ------
    wmo-8, annex 4.B

    Examples
    --------
    >>> round(dew_point_c(25.0, 0.5), 2)
    13.85
    """
    g = log(humidity_fraction) + SLOPE * temperature_c / (SHIFT_C + temperature_c)
    return SHIFT_C * g / (SLOPE - g)


def humidity_fraction(temperature_c: float, dew_point_c: float) -> float:
    """Relative humidity of air of a known dew point, such as inside a box that is warmer than the air around.

    Parameters
    ----------
    temperature_c : float
        Of the air. [°C]
    dew_point_c : float
        Of the same air, wherever it was measured. [°C]

    Returns
    -------
    float
        Relative humidity. [1]

    Source
    ------
    wmo-8, annex 4.B

    Examples
    --------
    >>> round(humidity_fraction(25.0, dew_point_c(20.0, 0.8)), 2)
    0.59
    """
    return saturation_pa(dew_point_c) / saturation_pa(temperature_c)


def vapour_g_per_m3(temperature_c: float, humidity_fraction: float) -> float:
    """Water in a cubic metre of air.

    Parameters
    ----------
    temperature_c : float
        Of the air. [°C]
    humidity_fraction : float
        Relative humidity. [1]

    Returns
    -------
    float
        Absolute humidity. [g/m³]

    Source
    ------
    wmo-8; equation of state of water vapour.

    Examples
    --------
    >>> round(vapour_g_per_m3(30.0, 1.0), 1)
    30.3
    """
    return 1000.0 * humidity_fraction * saturation_pa(temperature_c) / (GAS_OF_WATER * (temperature_c + KELVIN))


def condensed_g(volume_m3: float, closed_c: float, humidity_fraction: float, cold_c: float) -> float:
    """Water that a closed box drops when it cools.

    Parameters
    ----------
    volume_m3 : float
        Of the air in it. [m³]
    closed_c : float
        Air when it was closed. [°C]
    humidity_fraction : float
        Relative humidity then. [1]
    cold_c : float
        Its coldest wall later. [°C]

    Returns
    -------
    float
        Water, 0 when none condenses. [g]

    Source
    ------
    wmo-8; equation of state of water vapour, the air's own contraction counted.

    Examples
    --------
    >>> round(condensed_g(0.09, 30.0, 0.7, 10.0), 2)
    1.06
    """
    had = vapour_g_per_m3(closed_c, humidity_fraction)
    return max(0.0, volume_m3 * (had - vapour_g_per_m3(cold_c, 1.0)))
