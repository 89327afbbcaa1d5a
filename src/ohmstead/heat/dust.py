"""Dust that comes with the air: what a filter catches, how long it lasts, what it lets through."""

from .box import Filter

# Dust in outdoor air, g/m³: a clean coast or forest 10 to 20 millionths, a village or field 50, a dusty road or dry
# plain 200, blowing sand 1000. Common practice, no source.
DUST_G_PER_M3 = {"clean": 15e-6, "village": 50e-6, "dusty": 200e-6, "desert": 1000e-6}


def caught_g(mat: Filter, air_m3: float, dust_g_per_m3: float) -> float:
    """Dust that stays in a filter.

    Parameters
    ----------
    mat : Filter
        The mat.
    air_m3 : float
        Air that passes. [m³]
    dust_g_per_m3 : float
        Dust in that air. [g/m³]

    Returns
    -------
    float
        Dust caught. [g]

    Source
    ------
    en-779, arrestance: the share of dust by mass that is held.

    Examples
    --------
    >>> round(caught_g(Filter(0.01, arrestance_fraction=0.85), 100000.0, 200e-6), 1)
    17.0
    """
    return mat.arrestance_fraction * dust_g_per_m3 * air_m3


def loading_fraction(mat: Filter, air_m3: float, dust_g_per_m3: float) -> float:
    """How far a mat that began clean is loaded after a volume of air: 1 is to be changed, and no more is counted.

    Parameters
    ----------
    mat : Filter
        The mat, as it was when clean.
    air_m3 : float
        Air that passes. [m³]
    dust_g_per_m3 : float
        Dust in that air. [g/m³]

    Returns
    -------
    float
        Share of its capacity, at most 1. [1]

    Source
    ------
    common practice, no source: a mat of class G3 or G4 holds 350 to 600 g/m².

    Examples
    --------
    >>> loading_fraction(Filter(0.01, arrestance_fraction=0.9, capacity_g_per_m2=450.0), 12500.0, 200e-6)
    0.5
    """
    return min(1.0, caught_g(mat, air_m3, dust_g_per_m3) / (mat.capacity_g_per_m2 * mat.area_m2))


def lasts_days(mat: Filter, air_m3_per_s: float, dust_g_per_m3: float) -> float:
    """Days until a mat is full.

    Parameters
    ----------
    mat : Filter
        The mat.
    air_m3_per_s : float
        Mean flow over day and night. [m³/s]
    dust_g_per_m3 : float
        Dust in that air. [g/m³]

    Returns
    -------
    float
        Days.

    Source
    ------
    As `loading_fraction`.

    Examples
    --------
    >>> round(lasts_days(Filter(0.01), 18.0 / 3600, 200e-6))
    61
    """
    return mat.capacity_g_per_m2 * mat.area_m2 / (caught_g(mat, air_m3_per_s, dust_g_per_m3) * 86400.0)
