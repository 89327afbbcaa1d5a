"""How much longer, or shorter, electrolytic capacitors last at the temperature where they stand."""

from collections.abc import Sequence

LONGEST_H = 15 * 8760.0  # seals age too; makers state 15 years at most, capacitor-life


def life_factor(temperature_c: float, rated_c: float) -> float:
    """Life at a temperature over life at the rated one: twice as long for each 10 K less.

    Parameters
    ----------
    temperature_c : float
        Where the capacitor stands. [°C]
    rated_c : float
        At which its life is stated. [°C]

    Returns
    -------
    float
        Factor on the stated life.

    Source
    ------
    capacitor-life; the rule of ten kelvins is common practice, good from 40 °C up.

    Examples
    --------
    >>> life_factor(65.0, 105.0)
    16.0
    """
    return float(2.0 ** ((rated_c - temperature_c) / 10.0))


def life_hours(stated_hours: float, temperature_c: float, rated_c: float) -> float:
    """Life of a capacitor at one temperature, at most 15 years.

    Parameters
    ----------
    stated_hours : float
        At the rated temperature.
    temperature_c : float
        Where it stands. [°C]
    rated_c : float
        At which its life is stated. [°C]

    Returns
    -------
    float
        Hours.

    Source
    ------
    capacitor-life

    Examples
    --------
    >>> life_hours(2000.0, 65.0, 105.0)
    32000.0
    """
    return min(LONGEST_H, stated_hours * life_factor(temperature_c, rated_c))


def ageing_c(temperatures_c: Sequence[float]) -> float:
    """The steady temperature at which a capacitor ages as it does over these hours; above their mean.

    Parameters
    ----------
    temperatures_c : sequence of float
        Where it stands, by hour. [°C]

    Returns
    -------
    float
        Temperature. [°C]

    Source
    ------
    capacitor-life; shares of life used up are added.

    Examples
    --------
    >>> round(ageing_c([40.0, 60.0]), 2)
    53.22
    """
    from math import log2

    worn = sum(2.0 ** (t / 10.0) for t in temperatures_c) / len(temperatures_c)
    return 10.0 * log2(worn)
