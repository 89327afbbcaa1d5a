"""How soon a fuse may open and how late: always a window, never one time.

Between published points both curves are straight in log-log. Beyond the last point a fuse keeps its I²t, a
breaker its time. Below the first point that promises opening nothing is promised.
"""

from math import exp, inf, log, sqrt

from ..parts.fuse import Fuse
from ..parts.fuse_family import between
from .fuse_heat import cold_resistance_ohm, heat_w, hot_resistance_ohm

__all__ = [
    "ambient_share",
    "cold_resistance_ohm",
    "continuous_a",
    "heat_w",
    "holds_for",
    "hot_resistance_ohm",
    "melting_a2s",
    "melting_window_s",
    "opens_within",
    "surely_holds_a",
]

REFERENCE_C = 25.0  # ambient at which time windows are published
Curve = tuple[tuple[float, float], ...]


def ambient_share(fuse: Fuse, ambient_c: float) -> float:
    """Share of the rating left at an ambient temperature: straight lines between published points.

    Parameters
    ----------
    fuse : Fuse
        The fuse.
    ambient_c : float
        Air where the fuse sits. [°C]

    Returns
    -------
    float
        Share of the rating; the line goes on beyond the last point and ends at zero. [1]

    Source
    ------
    fuse-sheet-blade and fuse-guide, as each family names.

    Examples
    --------
    >>> from ohmstead.parts.fuse import read_fuse
    >>> round(40 * ambient_share(read_fuse("40 A maxi blade"), 65.0))
    34
    """
    points = fuse.family.rerating
    if ambient_c <= points[0][0]:
        return points[0][1]
    for (t0, s0), (t1, s1) in zip(points, points[1:], strict=False):
        if ambient_c <= t1:
            return s0 + (s1 - s0) * (ambient_c - t0) / (t1 - t0)
    (t0, s0), (t1, s1) = points[-2:]
    return max(0.0, s1 + (s1 - s0) * (ambient_c - t1) / (t1 - t0))


def continuous_a(fuse: Fuse, ambient_c: float) -> float:
    """What the fuse may carry for hours at this ambient.

    I = share · In · f(T)

    Parameters
    ----------
    fuse : Fuse
        The fuse.
    ambient_c : float
        Air where the fuse sits. [°C]

    Returns
    -------
    float
        Largest lasting current. [A]

    Source
    ------
    fuse-guide, 75 % of the rating at 25 °C, with each family's ambient curve.

    Examples
    --------
    >>> from ohmstead.parts.fuse import read_fuse
    >>> round(continuous_a(read_fuse("10 A blade"), 60.0), 1)
    6.5
    """
    return fuse.family.continuous_fraction * fuse.rating_a * ambient_share(fuse, ambient_c)


def _fast_curve(fuse: Fuse) -> Curve:
    """Per cent of rating and soonest opening, never rising."""
    points: list[tuple[float, float]] = []
    for gate in fuse.window.gates:
        if gate.least_s is not None:
            points.append((gate.percent, min(gate.least_s, points[-1][1] if points else inf)))
    return tuple(points)


def _slow_curve(fuse: Fuse) -> Curve:
    """Per cent of rating and latest opening, never rising."""
    points: list[tuple[float, float]] = []
    for gate in reversed(fuse.window.gates):
        if gate.most_s is not None:
            points.append((gate.percent, max(gate.most_s, points[-1][1] if points else 0.0)))
    return tuple(reversed(points))


def _percent(fuse: Fuse, current_a: float, ambient_c: float) -> float:
    """Current in per cent of the rating as it acts at this ambient."""
    share = ambient_share(fuse, ambient_c) / ambient_share(fuse, REFERENCE_C)
    return inf if share <= 0.0 else 100.0 * current_a / (fuse.rating_a * share)


def _time_s(fuse: Fuse, curve: Curve, percent: float) -> float:
    if not curve or percent < curve[0][0] * (1 - 1e-9):
        return inf
    last_percent, last_s = curve[-1]
    if percent <= last_percent:
        return between(percent, curve)
    return last_s if fuse.family.kind == "breaker" else last_s * (last_percent / percent) ** 2


def melting_window_s(fuse: Fuse, current_a: float, ambient_c: float = REFERENCE_C) -> tuple[float, float]:
    """Soonest and latest opening at a steady current.

    Parameters
    ----------
    fuse : Fuse
        The fuse or breaker.
    current_a : float
        Steady current through it. [A]
    ambient_c : float
        Air where the fuse sits. [°C]

    Returns
    -------
    tuple of float
        Soonest and latest time. The first is infinite where it surely holds, the second where opening is
        not promised. [s]

    Source
    ------
    iso-8820-3, iec-60127-2, ul-248-14 and the others, as each family names.

    Examples
    --------
    >>> from ohmstead.parts.fuse import read_fuse
    >>> [round(t, 2) for t in melting_window_s(read_fuse("40 A maxi blade"), 80.0)]
    [2.0, 50.0]
    """
    percent = _percent(fuse, current_a, ambient_c)
    if percent == inf:
        return 0.0, 0.0
    return _time_s(fuse, _fast_curve(fuse), percent), _time_s(fuse, _slow_curve(fuse), percent)


def opens_within(fuse: Fuse, duration_s: float, ambient_c: float = REFERENCE_C) -> float:
    """The smallest current that surely clears within a time; infinite when none does.

    Parameters
    ----------
    fuse : Fuse
        The fuse or breaker.
    duration_s : float
        Time allowed. [s]
    ambient_c : float
        Air where the fuse sits. [°C]

    Returns
    -------
    float
        Current. [A]

    Source
    ------
    The slow side of the family's time window.

    Examples
    --------
    >>> from ohmstead.parts.fuse import read_fuse
    >>> round(opens_within(read_fuse("10 A blade"), 5.0), 1)
    20.0
    """
    curve = _slow_curve(fuse)
    share = ambient_share(fuse, ambient_c) / ambient_share(fuse, REFERENCE_C)
    ampere_of_percent = fuse.rating_a * share / 100.0
    if not curve:
        return inf
    if duration_s >= curve[0][1]:
        return curve[0][0] * ampere_of_percent
    last_percent, last_s = curve[-1]
    if duration_s < last_s:
        if fuse.family.kind == "breaker":
            return inf
        return last_percent * sqrt(last_s / duration_s) * ampere_of_percent
    for (p0, t0), (p1, t1) in zip(curve, curve[1:], strict=False):
        if t1 <= duration_s < t0:
            return exp(log(p0) + log(t0 / duration_s) / log(t0 / t1) * log(p1 / p0)) * ampere_of_percent
    return last_percent * ampere_of_percent


def holds_for(fuse: Fuse, current_a: float, duration_s: float, ambient_c: float = REFERENCE_C) -> bool:
    """Whether the fuse surely survives a current for a time.

    Parameters
    ----------
    fuse : Fuse
        The fuse or breaker.
    current_a : float
        Steady current through it. [A]
    duration_s : float
        How long. [s]
    ambient_c : float
        Air where the fuse sits. [°C]

    Returns
    -------
    bool
        True when even the fastest fuse of the family is still whole.

    Source
    ------
    The fast side of the family's time window.

    Examples
    --------
    >>> from ohmstead.parts.fuse import read_fuse
    >>> holds_for(read_fuse("10 A blade"), 18.9, 0.1), holds_for(read_fuse("10 A blade"), 18.9, 1.0)
    (True, False)
    """
    return melting_window_s(fuse, current_a, ambient_c)[0] > duration_s


def surely_holds_a(fuse: Fuse, duration_s: float, ambient_c: float = REFERENCE_C) -> float:
    """The largest current the fuse surely survives for a time: the fast side read the other way.

    Parameters
    ----------
    fuse : Fuse
        The fuse or breaker.
    duration_s : float
        How long. [s]
    ambient_c : float
        Air where the fuse sits. [°C]

    Returns
    -------
    float
        Current. [A]

    Source
    ------
    The fast side of the family's time window.

    Examples
    --------
    >>> from ohmstead.parts.fuse import read_fuse
    >>> round(surely_holds_a(read_fuse("40 A maxi blade"), 2.0), 1)
    80.0
    """
    curve = _fast_curve(fuse)
    share = ambient_share(fuse, ambient_c) / ambient_share(fuse, REFERENCE_C)
    ampere_of_percent = fuse.rating_a * share / 100.0
    if not curve:
        return 0.0
    if duration_s >= curve[0][1]:
        return curve[0][0] * ampere_of_percent
    last_percent, last_s = curve[-1]
    if duration_s < last_s:
        factor = 1.0 if fuse.family.kind == "breaker" else sqrt(last_s / duration_s)
        return last_percent * factor * ampere_of_percent
    for (p0, t0), (p1, t1) in zip(curve, curve[1:], strict=False):
        if t1 <= duration_s < t0:
            return exp(log(p0) + log(t0 / duration_s) / log(t0 / t1) * log(p1 / p0)) * ampere_of_percent
    return last_percent * ampere_of_percent


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
