"""How sure a mean or a share is that was found from a number of years."""

from math import sqrt
from statistics import NormalDist


def student(n_free: int, confidence_fraction: float) -> float:
    """One-sided point of Student's distribution, by its expansion around the normal one.

    Abramowitz and Stegun 26.7.5, four terms; with three degrees of freedom and more it is right to 1 %.
    """
    z = NormalDist().inv_cdf(confidence_fraction)
    terms = (
        (z**3 + z) / 4,
        (5 * z**5 + 16 * z**3 + 3 * z) / 96,
        (3 * z**7 + 19 * z**5 + 17 * z**3 - 15 * z) / 384,
        (79 * z**9 + 776 * z**7 + 1482 * z**5 - 1920 * z**3 - 945 * z) / 92160,
    )
    return z + sum([term / float(n_free) ** power for power, term in enumerate(terms, 1)])


def mean_most(values: list[float], confidence_fraction: float) -> float:
    """What the true mean of such years does not pass, with that confidence: mean + t · s / √n; four years or more."""
    n_year = len(values)
    mean = sum(values) / n_year
    if n_year < 4:
        return float("inf")
    spread = sqrt(sum((value - mean) ** 2 for value in values) / (n_year - 1))
    return mean + student(n_year - 1, confidence_fraction) * spread / sqrt(n_year)


def wilson(n_hit: int, n_year: int, confidence_fraction: float) -> tuple[float, float]:
    """Between which shares the true share of such years lies: Wilson's interval, two-sided."""
    if n_year == 0:
        return 0.0, 1.0
    z = NormalDist().inv_cdf(0.5 + confidence_fraction / 2)
    share = n_hit / n_year
    middle = (share + z * z / (2 * n_year)) / (1 + z * z / n_year)
    half = z / (1 + z * z / n_year) * sqrt(share * (1 - share) / n_year + z * z / (4 * n_year**2))
    return max(0.0, middle - half), min(1.0, middle + half)


def mean_least(values: list[float], confidence_fraction: float) -> float:
    """What the true mean of such years does not come below, with that confidence; four years or more."""
    return -mean_most([-value for value in values], confidence_fraction)
