"""What modules make of light: their temperature, and the power at their best point."""

import numpy as np

from ..site.sky import Array
from ..wiring.conductor import wire_loop_ohm
from .hours import FloatArray, IntArray

STANDARD_W_PER_M2 = 1000.0
STANDARD_C = 25.0
WARM_CABLE_C = 50.0  # common practice, no source: copper in the sun at full harvest
CALM_M_PER_S = 1.5  # common practice, no source: wind at the height of modules where the weather tells none

# How air cools the back of a module: a, b of T = T_air + G · exp(a + b · wind), and how much warmer its cells are
# than its back at 1000 W/m². Source: sandia-2004-3535, table 1: open rack glass and polymer, close mount glass and
# glass, insulated back glass and polymer.
MOUNTINGS = {
    "open": (-3.56, -0.075, 3.0),
    "close to roof": (-2.98, -0.0471, 1.0),
    "on insulation": (-2.81, -0.0455, 0.0),
}


def cell_c(
    light_w_per_m2: FloatArray, air_c: FloatArray, wind_m_per_s: FloatArray | float, mounting: str
) -> FloatArray:
    """Temperature of the cells of a module in the sun.

    T_cell = T_air + G · exp(a + b · wind) + G / 1000 · ΔT

    Parameters
    ----------
    light_w_per_m2 : array, shape (n_hour,)
        Sun in the plane of the module. [W/m²]
    air_c : array, shape (n_hour,)
        Air around it. [°C]
    wind_m_per_s : array, shape (n_hour,), or float
        Wind. [m/s]
    mounting : str
        "open", "close to roof" or "on insulation".

    Returns
    -------
    array, shape (n_hour,)
        Temperature of the cells. [°C]

    Source
    ------
    sandia-2004-3535, equations 11 and 12.

    Examples
    --------
    >>> float(cell_c(np.array([900.0]), np.array([20.0]), 5.0, "open")[0].round(3))
    40.291
    """
    a, b, warmer = MOUNTINGS[mounting]
    found: FloatArray = air_c + light_w_per_m2 * (np.exp(a + b * wind_m_per_s) + warmer / STANDARD_W_PER_M2)
    return found


def best_w(light_w_per_m2: FloatArray, cell_c: FloatArray, power_w: float, power_per_k: float) -> FloatArray:
    """Power of modules at their best point: with the light, and less the hotter they are.

    P = P_stc · G / 1000 · (1 + γ · (T_cell - 25))

    Parameters
    ----------
    light_w_per_m2 : array
        Sun that reaches the cells. [W/m²]
    cell_c : array
        Temperature of the cells. [°C]
    power_w : float
        Power at 1000 W/m² and 25 °C. [W]
    power_per_k : float
        Change with temperature, below zero. [1/K]

    Returns
    -------
    array
        Power at the terminals of the modules. [W]

    Source
    ------
    evans-1981, with the light in proportion.

    Examples
    --------
    >>> float(best_w(np.array([900.0]), np.array([30.0]), 100.0, -0.003)[0].round(2))
    88.65
    """
    found: FloatArray = np.maximum(
        power_w * light_w_per_m2 / STANDARD_W_PER_M2 * (1.0 + power_per_k * (cell_c - STANDARD_C)), 0.0
    )
    return found


def by_month(values: tuple[float, ...], month: IntArray) -> FloatArray:
    """One value for each hour, from one value or twelve; month 0 is January."""
    table = np.asarray(values if len(values) == 12 else values * 12, dtype=np.float64)
    found: FloatArray = table[month]
    return found


def after_cable_w(power_w: FloatArray, lost_fraction: float, rated_w: float) -> FloatArray:
    """Power behind a cable whose loss grows with the square of the current.

    P' = P · (1 - f · P / P_rated)

    Parameters
    ----------
    power_w : array
        Before the cable, at its voltage. [W]
    lost_fraction : float
        Share that is lost at rated power. [1]
    rated_w : float
        Rated power. [W]

    Returns
    -------
    array
        Power at the far end. [W]

    Source
    ------
    Ohm's law at a steady voltage.

    Examples
    --------
    >>> after_cable_w(np.array([100.0, 200.0]), 0.02, 200.0).tolist()
    [99.0, 196.0]
    """
    found: FloatArray = power_w * (1.0 - lost_fraction * power_w / rated_w)
    return found


def cable_loss_fraction(array: Array) -> float:
    """Share of the array's full power that its cable takes: from the cable's own copper, else as stated.

    f = R · P / V²

    Parameters
    ----------
    array : Array
        With its cable, or its stated loss.

    Returns
    -------
    float
        Share that is lost at full power. [1]

    Source
    ------
    Ohm's law.

    Examples
    --------
    >>> from ..parts.wire import read_wire
    >>> plain = Array(name="a", power_w=200.0, mp_v=33.6, series=2, cable_wire=read_wire("6 mm2"), cable_m=12.0)
    >>> round(cable_loss_fraction(plain), 4)
    0.0078
    """
    if array.cable_wire is None or array.cable_m is None or not array.mp_v:
        return array.wiring_fraction
    volts = array.mp_v * array.series
    rated_w = array.power_w * array.series * array.parallel
    loop_ohm = wire_loop_ohm(array.cable_wire, array.cable_m, WARM_CABLE_C)
    return min(rated_w / volts**2 * loop_ohm, 0.5)
