"""Resistance of a fuse, cold and at its current, and what it heats."""

from ..parts.fuse import Fuse
from ..parts.fuse_family import between

# Resistance at rated current over cold resistance: 1.3 to 1.7. Source: common-practice, from two datasheets.
HOT_OVER_COLD = 1.5


def hot_resistance_ohm(fuse: Fuse) -> float:
    """Resistance at rated current: published drop over rating, log-log between published ratings.

    Parameters
    ----------
    fuse : Fuse
        The fuse or breaker.

    Returns
    -------
    float
        Resistance at rated current. [Ω]

    Source
    ------
    fuse-sheet-blade and the others, as each family names.

    Examples
    --------
    >>> from ohmstead.parts.fuse import read_fuse
    >>> round(hot_resistance_ohm(read_fuse("40 A maxi blade")) * 1000, 2)
    1.88
    """
    return between(fuse.rating_a, fuse.family.drop_v) / fuse.rating_a


def cold_resistance_ohm(fuse: Fuse) -> float:
    """Resistance without current: published where it is, else two thirds of the hot one.

    Parameters
    ----------
    fuse : Fuse
        The fuse or breaker.

    Returns
    -------
    float
        Resistance at 25 °C. [Ω]

    Source
    ------
    fuse-sheet-blade; the ratio is common-practice.

    Examples
    --------
    >>> from ohmstead.parts.fuse import read_fuse
    >>> round(cold_resistance_ohm(read_fuse("40 A blade")) * 1000, 2)
    1.44
    """
    published = dict(fuse.family.cold_ohm).get(fuse.rating_a)
    return hot_resistance_ohm(fuse) / HOT_OVER_COLD if published is None else published


def resistance_ohm(fuse: Fuse, current_a: float) -> float:
    """Resistance at a current: from the cold to the hot value with the square of the current.

    Parameters
    ----------
    fuse : Fuse
        The fuse or breaker.
    current_a : float
        Steady current through it. [A]

    Returns
    -------
    float
        Resistance, at most the hot one. [Ω]

    Source
    ------
    common-practice: the element warms with the heat it makes.

    Examples
    --------
    >>> from ohmstead.parts.fuse import read_fuse
    >>> fuse = read_fuse("40 A blade")
    >>> [round(resistance_ohm(fuse, current) * 1000, 2) for current in (0.0, 20.0, 40.0)]
    [1.44, 1.68, 2.4]
    """
    cold, hot = cold_resistance_ohm(fuse), hot_resistance_ohm(fuse)
    return cold + (hot - cold) * min(1.0, current_a / fuse.rating_a) ** 2


def heat_w(fuse: Fuse, current_a: float) -> float:
    """Heat a fuse gives off at a current.

    Parameters
    ----------
    fuse : Fuse
        The fuse or breaker.
    current_a : float
        Steady current through it. [A]

    Returns
    -------
    float
        Heat. [W]

    Source
    ------
    As `resistance_ohm`.

    Examples
    --------
    >>> from ohmstead.parts.fuse import read_fuse
    >>> round(heat_w(read_fuse("40 A maxi blade"), 40.0), 1)
    3.0
    """
    return current_a**2 * resistance_ohm(fuse, current_a)
