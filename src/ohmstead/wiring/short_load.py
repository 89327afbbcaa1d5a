"""How hot a conductor gets under a current that lasts seconds or minutes."""

from math import exp

from ..parts.wire import Wire
from .adiabatic import withstand_a2s


def time_constant_s(wire: Wire, ampacity_a: float, limit_c: float, ambient_c: float) -> float:
    """Time in which a conductor makes most of its rise: heat it swallows over heat it gives off.

    τ = k² S² / Iz², k from air to limit

    Parameters
    ----------
    wire : Wire
        The conductor.
    ampacity_a : float
        What it may carry at this ambient, at which it settles at its limit. [A]
    limit_c : float
        Temperature limit that belongs to the ampacity. [°C]
    ambient_c : float
        Air around it. [°C]

    Returns
    -------
    float
        Time constant; insulation and duct are left out, so the real one is longer. [s]

    Source
    ------
    iec-60949 for the heat swallowed, iec-60287 for the balance at the limit.

    Examples
    --------
    >>> from ohmstead.parts.wire import read_wire
    >>> round(time_constant_s(read_wire("1.5 mm2"), 17.5, 70.0, 30.0))
    53
    """
    return withstand_a2s(wire.area_mm2, ambient_c, limit_c, wire.metal) / ampacity_a**2


def brief_temperature_c(start_c: float, settled_c: float, seconds: float, time_constant_s: float) -> float:
    """Temperature at the end of a brief current.

    T = Tsettled - (Tsettled - Tstart) exp(-t / τ)

    Parameters
    ----------
    start_c : float
        Conductor before. [°C]
    settled_c : float
        Where the current would take it if it lasted. [°C]
    seconds : float
        How long it lasts. [s]
    time_constant_s : float
        Time constant of the conductor. [s]

    Returns
    -------
    float
        Temperature at the end. [°C]

    Source
    ------
    iec-60287, one body that gives off heat in proportion to its rise.

    Examples
    --------
    >>> round(brief_temperature_c(30.0, 190.0, 25.0, 53.0), 1)
    90.2
    """
    return settled_c - (settled_c - start_c) * exp(-seconds / time_constant_s)
