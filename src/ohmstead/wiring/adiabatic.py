"""What heat a conductor swallows in the first seconds of a fault, before any of it gets out."""

from math import log, sqrt

# Volumetric heat capacity of copper [J/(K·mm³)], its resistivity at 20 °C [Ω·mm], and its temperature
# constant [°C]. Source: iec-60949, table 1. The published tables round the resulting 225.67 to 226.
HEAT_CAPACITY = 3.45e-3
RESISTIVITY = 17.241e-6
ZERO_BELOW_C = 234.5


def k_factor(start_c: float, end_c: float) -> float:
    """Factor k of the adiabatic equation for copper.

    k = √(Qc (β + 20) / ρ20 · ln((β + Tend) / (β + Tstart)))

    Parameters
    ----------
    start_c : float
        Copper before the fault. [°C]
    end_c : float
        What the insulation bears for a moment. [°C]

    Returns
    -------
    float
        k. [A·√s/mm²]

    Source
    ------
    iec-60949, equation of the adiabatic current; tabulated in iec-60364-4-43.

    Examples
    --------
    >>> round(k_factor(70, 160)), round(k_factor(90, 250))
    (115, 143)
    """
    if end_c <= start_c:
        return 0.0
    constant = HEAT_CAPACITY * (ZERO_BELOW_C + 20.0) / RESISTIVITY
    return sqrt(constant * log((ZERO_BELOW_C + end_c) / (ZERO_BELOW_C + start_c)))


# Aluminium and copper-clad aluminium swallow less: k of aluminium over k of copper, 76/115.
# Source: iec-60364-4-43.
METAL_SHARE = {"copper": 1.0, "tinned copper": 1.0, "copper-clad aluminium": 76 / 115, "aluminium": 76 / 115}


def withstand_a2s(area_mm2: float, start_c: float, end_c: float, metal: str = "copper") -> float:
    """The I²t a conductor survives: k² S².

    Parameters
    ----------
    area_mm2 : float
        Cross-section. [mm²]
    start_c : float
        Conductor before the fault. [°C]
    end_c : float
        What the insulation bears for a moment. [°C]
    metal : str
        Metal of the conductor.

    Returns
    -------
    float
        Largest heat integral. [A²s]

    Source
    ------
    iec-60364-4-43, clause 434.5.2.

    Examples
    --------
    >>> f"{withstand_a2s(2.5, 70, 160):.2g}"
    '8.2e+04'
    """
    return (k_factor(start_c, end_c) * METAL_SHARE[metal] * area_mm2) ** 2


def least_area_mm2(current_a: float, duration_s: float, start_c: float, end_c: float) -> float:
    """The thinnest copper that survives a fault current for a time.

    S = I √t / k

    Parameters
    ----------
    current_a : float
        Fault current. [A]
    duration_s : float
        Until the fuse has cleared it. [s]
    start_c : float
        Copper before the fault. [°C]
    end_c : float
        What the insulation bears for a moment. [°C]

    Returns
    -------
    float
        Cross-section. [mm²]

    Source
    ------
    iec-60364-4-43, clause 434.5.2.

    Examples
    --------
    >>> round(least_area_mm2(2500, 0.1, 70, 160), 1)
    6.9
    """
    return current_a * sqrt(duration_s) / k_factor(start_c, end_c)
