"""Resistance of a fuse, cold and at its current, and what it heats; its melting I²t."""

from ..parts.fuse import Fuse
from ..parts.fuse_family import between
from .fuse_time import HOT_OVER_COLD, melting_window_s


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
    >>> resistance_ohm(fuse, 0.0) == cold_resistance_ohm(fuse), resistance_ohm(fuse, 40.0) == hot_resistance_ohm(fuse)
    (True, True)
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


def melting_a2s(fuse: Fuse) -> float:
    """Nominal melting I²t: published where it is, else the least that the time window allows.

    Parameters
    ----------
    fuse : Fuse
        The fuse or breaker.

    Returns
    -------
    float
        I²t that melts it in a time too short for heat to leave. [A²s]

    Source
    ------
    fuse-sheet-blade; else the fast side of the family's time window at its last point.

    Examples
    --------
    >>> from ohmstead.parts.fuse import read_fuse
    >>> melting_a2s(read_fuse("40 A blade")), round(melting_a2s(read_fuse("10 A blade")))
    (3300.0, 108)
    """
    published = dict(fuse.family.melting_a2s).get(fuse.rating_a)
    if published is not None and fuse.stated is None:
        return published
    last = max((gate.percent for gate in fuse.window.gates if gate.least_s is not None), default=0.0)
    current_a = fuse.rating_a * last / 100.0
    return current_a**2 * melting_window_s(fuse, current_a)[0]
