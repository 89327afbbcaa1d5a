"""How wide a bend there is room for."""

from math import inf, sqrt


def corner_room_mm(first_mm: float, second_mm: float, diameter_mm: float) -> float:
    """Largest inner radius with which a wire can go round the corner between two ducts.

    The wire's middle line is an arc that touches both outer walls; it must clear the inner edge of the corner.
    With R the radius of its outer side, the centre lies R from both outer walls, the inner edge lies (R - w1, R - w2)
    from it, and the inner side R - d must not be less than that distance.

    Parameters
    ----------
    first_mm, second_mm : float
        Inner widths of the two ducts. [mm]
    diameter_mm : float
        Outer diameter of the wire. [mm]

    Returns
    -------
    float
        Inner radius; less than zero when the wire does not go round at all. [mm]

    Source
    ------
    Geometry.

    Examples
    --------
    >>> round(corner_room_mm(38, 38, 8), 1)
    102.4
    """
    free = first_mm - diameter_mm, second_mm - diameter_mm
    if min(free) < 0:
        return min(free)
    # (R - w1)² + (R - w2)² = (R - d)², its larger root, less d.
    return free[0] + free[1] + sqrt(2 * free[0] * free[1])


def exit_room_mm(gap_mm: float, duct_mm: float, plug_mm: float, diameter_mm: float) -> float:
    """Inner radius there is room for where a wire comes straight out of a part and turns into the duct before it.

    Parameters
    ----------
    gap_mm : float
        From the part to the duct; without a duct, to whatever comes next. [mm]
    duct_mm : float
        Inner width of that duct, 0 without one. [mm]
    plug_mm : float
        Straight length of a plug before the cable can bend. [mm]
    diameter_mm : float
        Outer diameter of the wire. [mm]

    Returns
    -------
    float
        Inner radius; less than zero when not even the plug fits. [mm]

    Source
    ------
    Geometry.

    Examples
    --------
    >>> exit_room_mm(20, 38, 25, 4)
    29
    """
    if gap_mm == inf:
        return inf
    return gap_mm + duct_mm - plug_mm - diameter_mm
