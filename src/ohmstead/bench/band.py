"""Half-width of a band that holds a stated share of readings, from limits and standard deviations.

The two largest limits (uniform distributions) are kept as they are, everything else is taken together as a
normal distribution with its variance: JCGM 100:2008 (GUM) annex G and EA-4/02 annex S9, from memory.
"""

from collections.abc import Sequence
from math import erf, exp, pi, sqrt

NARROW = 1e-5  # of the half-width: far below what a meter shows
SMALL = 0.05  # a limit below this share of the rest is as good as normal


def half_width(limits: Sequence[float], sigma: float, confidence_fraction: float = 0.95) -> float:
    """Half-width that holds `confidence_fraction` of sums of uniform errors (half-widths `limits`) and a normal one.

    >>> round(half_width([], 1.0), 3), round(half_width([1.0], 0.0), 3), round(half_width([1.0, 1.0], 0.0), 3)
    (1.96, 0.95, 1.553)
    """
    ordered = sorted(map(abs, limits), reverse=True)
    variance = sigma * sigma + sum([a * a for a in ordered[2:]]) / 3.0
    first, second = (*ordered, 0.0, 0.0)[:2]
    for a in (second, first):
        if a <= SMALL * sqrt(variance):
            variance += a * a / 3.0
    rest = sqrt(variance)
    first, second = (a if a > SMALL * rest or rest == 0.0 else 0.0 for a in (first, second))
    low, high = 0.0, first + second + 6.0 * rest
    if high == 0.0:
        return 0.0
    while high - low > NARROW * high:
        middle = (low + high) / 2
        if _held_fraction(middle, first, second, rest) < confidence_fraction:
            low = middle
        else:
            high = middle
    return high


def _held_fraction(x: float, first: float, second: float, rest: float) -> float:
    """Share of sums within ±x."""
    if first == 0.0:
        return erf(x / rest / sqrt(2.0)) if rest else 1.0
    if second <= 1e-3 * first:
        return (_once(x + first, rest) - _once(x - first, rest)) / first - 1.0
    four = _twice(x + first + second, rest) - _twice(x + first - second, rest)
    four += _twice(x - first - second, rest) - _twice(x - first + second, rest)
    return 2.0 * four / (4.0 * first * second) - 1.0


def _once(x: float, s: float) -> float:
    """Integral of the normal distribution up to x."""
    if s == 0.0:
        return max(x, 0.0)
    z = x / s
    return s * (z * _phi(z) + exp(-z * z / 2) / sqrt(2 * pi))


def _twice(x: float, s: float) -> float:
    """The integral of that."""
    if s == 0.0:
        return max(x, 0.0) ** 2 / 2
    z = x / s
    return s * s / 2 * ((z * z + 1) * _phi(z) + z * exp(-z * z / 2) / sqrt(2 * pi))


def _phi(z: float) -> float:
    return 0.5 * (1.0 + erf(z / sqrt(2.0)))
