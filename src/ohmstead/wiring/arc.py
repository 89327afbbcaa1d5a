"""Whether a direct-current arc can burn in a gap."""

from math import sqrt


def arc_least_v(gap_mm: float) -> float:
    """Voltage below which no open-air arc burns across a gap.

    V = 20 + 0.534 · z

    Parameters
    ----------
    gap_mm : float
        Distance between the conductors, 5 to 500 in the tests behind the formula. [mm]

    Returns
    -------
    float
        Least voltage. [V]

    Source
    ------
    stokes-oppenlander-1991.

    Examples
    --------
    >>> round(arc_least_v(5.0), 2)
    22.67
    """
    return 20.0 + 0.534 * gap_mm


def arc_current_a(source_v: float, loop_ohm: float, gap_mm: float) -> float:
    """Current of an arc that burns steadily behind a resistance; 0 where none can.

    U - I R = (20 + 0.534 z) · I^0.12

    Parameters
    ----------
    source_v : float
        Open-circuit voltage. [V]
    loop_ohm : float
        Resistance up to the gap. [Ω]
    gap_mm : float
        Distance between the conductors. [mm]

    Returns
    -------
    float
        The larger of two solutions, which is the steady one. [A]

    Source
    ------
    stokes-oppenlander-1991.

    Examples
    --------
    >>> round(arc_current_a(53.2, 0.006, 5.0)), arc_current_a(13.3, 0.006, 1.0)
    (649, 0.0)
    """
    if source_v <= arc_least_v(gap_mm):
        return 0.0
    least = arc_least_v(gap_mm)
    low, high = 1.0, source_v / loop_ohm
    # the surplus U - IR - V(I) falls all the way from its value at 1 A, which is positive or nothing burns
    if source_v - loop_ohm * low - least <= 0.0 or high <= low:
        return 0.0
    while high - low > 1e-9 * high:
        middle = sqrt(low * high)
        if source_v - loop_ohm * middle - least * middle**0.12 > 0.0:
            low = middle
        else:
            high = middle
    return low
