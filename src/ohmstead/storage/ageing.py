"""What batteries lose with time and use, by published laws, each for one cell under a steady stress.

All losses are shares of the capacity when new. Laws of the form loss = (rate · amount)^power are given by their rate,
so that stresses which change can be summed: `season/wear.py` does so.
"""

import numpy as np
from numpy.typing import NDArray

from ..parts.cell import Chemistry

Array = NDArray[np.float64]
ZERO_C_IN_K = 273.15
GAS = 8.3145  # J/(mol·K)
END_LOSS = 0.2  # of capacity: where life is taken to end
NMC_CELL_AH = 2.05  # the cell of the paper, whose law counts ampere-hours
NMC_TIME = 0.75
HALVES_K = 10.0  # every so many kelvin halve the life of lead


def lfp_calendar_per_root_s(temperature_c: Array, state_fraction: Array) -> Array:
    """Rate k at which lithium iron phosphate ages at rest: loss = k · √time.

    k = 1.2571e-5 · exp(-17126 / R · (1/T - 1/298.15)) · (2.8575 (s - 0.5)³ + 0.60225)

    Parameters
    ----------
    temperature_c : float or array
        Temperature of the cell. [°C]
    state_fraction : float or array
        State of charge. [1]

    Returns
    -------
    float or array
        The rate. [1/√s]

    Source
    ------
    naumann-2018; coefficients second-hand. Tested there from 0 to 60 °C for two and a half years.

    Examples
    --------
    >>> round(float(lfp_calendar_per_root_s(25.0, 0.5)) * (365 * 86400) ** 0.5, 4)
    0.0425
    """
    heat = np.exp(-17126.0 / GAS * (1.0 / (np.asarray(temperature_c) + ZERO_C_IN_K) - 1.0 / 298.15))
    found: Array = 1.2571e-5 * heat * (2.8575 * (np.asarray(state_fraction) - 0.5) ** 3 + 0.60225)
    return found


def lfp_cycle_per_root(depth_fraction: Array, rate_per_h: Array) -> Array:
    """Rate at which lithium iron phosphate ages by cycles: loss = k · √(equivalent full cycles).

    k = (4.0253 (d - 0.6)³ + 1.0923) · (0.0630 c + 0.0971) / 100

    Parameters
    ----------
    depth_fraction : float or array
        Depth of a cycle. [1]
    rate_per_h : float or array
        Current over capacity. [1/h]

    Returns
    -------
    float or array
        The rate. [1]

    Source
    ------
    naumann-2020; coefficients second-hand, in per cent there. Tested at 25 and 40 °C; nothing is said of the cold.

    Examples
    --------
    >>> round(float(lfp_cycle_per_root(0.8, 0.2)) * 3000**0.5, 4)
    0.0676
    """
    depth = 4.0253 * (np.asarray(depth_fraction) - 0.6) ** 3 + 1.0923
    found: Array = depth * (0.0630 * np.asarray(rate_per_h) + 0.0971) / 100.0
    return found


def nmc_calendar_per_day(temperature_c: Array, cell_v: Array) -> Array:
    """Rate at which a nickel manganese cobalt cell ages at rest: loss = k · days^0.75.

    k = (7.543 U - 23.75) · 10⁶ · exp(-6976 / T)

    Parameters
    ----------
    temperature_c : float or array
        Temperature of the cell. [°C]
    cell_v : float or array
        Resting voltage; no loss below the voltage at which the bracket is nought. [V]

    Returns
    -------
    float or array
        The rate. [1/day^0.75]

    Source
    ------
    schmalstieg-2014; coefficients second-hand. Tested there at 35 to 50 °C; colder is the law continued.

    Examples
    --------
    >>> round(float(nmc_calendar_per_day(25.0, 3.7)) * 365**0.75, 3)
    0.024
    """
    heat = 1e6 * np.exp(-6976.0 / (np.asarray(temperature_c) + ZERO_C_IN_K))
    found: Array = np.maximum(7.543 * np.asarray(cell_v) - 23.75, 0.0) * heat
    return found


def nmc_cycle_per_root(mean_v: Array, depth_fraction: Array) -> Array:
    """Rate at which a nickel manganese cobalt cell ages by cycles: loss = k · √(equivalent full cycles).

    k = (7.348e-3 (U - 3.667)² + 7.60e-4 + 4.081e-3 d) · √(2 · 2.05), charge counted both ways in a cell of 2.05 Ah

    Parameters
    ----------
    mean_v : float or array
        Mean voltage during the cycle; of all rest voltages in it. [V]
    depth_fraction : float or array
        Depth of the cycle. [1]

    Returns
    -------
    float or array
        The rate. [1]

    Source
    ------
    schmalstieg-2014; coefficients second-hand. Tested there at 35 °C with 1 C.

    Examples
    --------
    >>> round(float(nmc_cycle_per_root(3.7, 0.5)) * 1000**0.5, 3)
    0.18
    """
    per_root_ah = 7.348e-3 * (np.asarray(mean_v) - 3.667) ** 2 + 7.60e-4 + 4.081e-3 * np.asarray(depth_fraction)
    found: Array = per_root_ah * np.sqrt(2.0 * NMC_CELL_AH)
    return found


def lead_cycles(cell: Chemistry, depth_fraction: Array) -> Array:
    """Cycles of one depth that a lead battery bears until its capacity is down to 80 %.

    Straight between the points of its table on paper with both axes logarithmic, and on from its ends.

    Parameters
    ----------
    cell : Chemistry
        The chemistry.
    depth_fraction : float or array
        Depth of each cycle. [1]

    Returns
    -------
    float or array
        Number of cycles. [1]

    Source
    ------
    lead-life-sheets, from memory.

    Examples
    --------
    >>> from ohmstead.parts.cell import chemistry
    >>> round(float(lead_cycles(chemistry("lead AGM"), 0.5)))
    600
    """
    points = np.log(np.array(cell.habits.cycles_by_depth))
    depth = np.log(np.maximum(np.asarray(depth_fraction, dtype=float), 1e-9))
    inside = np.interp(depth, points[:, 0], points[:, 1])
    ends = []
    for near, far in ((0, 1), (-1, -2)):
        slope = (points[near, 1] - points[far, 1]) / (points[near, 0] - points[far, 0])
        ends.append(points[near, 1] + slope * (depth - points[near, 0]))
    below, above = depth < points[0, 0], depth > points[-1, 0]
    found: Array = np.exp(np.where(below, ends[0], np.where(above, ends[1], inside)))
    return found


def lead_calendar_per_year(cell: Chemistry, temperature_c: Array) -> Array:
    """Capacity that lead loses in a year by corrosion, at rest and on float alike.

    0.2 / life · 2^((T - 20) / 10)

    Parameters
    ----------
    cell : Chemistry
        The chemistry.
    temperature_c : float or array
        Temperature of the cell. [°C]

    Returns
    -------
    float or array
        Share of the capacity when new. [1]

    Source
    ------
    lead-life-sheets: life on float at 20 °C from memory; halved by every ten kelvin, second-hand.

    Examples
    --------
    >>> from ohmstead.parts.cell import chemistry
    >>> float(lead_calendar_per_year(chemistry("lead AGM"), 30.0))
    0.04
    """
    faster = 2.0 ** ((np.asarray(temperature_c) - 20.0) / HALVES_K)
    found: Array = END_LOSS / cell.habits.float_years * faster
    return found
