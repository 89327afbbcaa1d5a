"""EA-4/02 M:2013, S9 and S10: coverage factors where one or two rectangular contributions dominate. From memory."""

from math import sqrt

import pytest

from ohmstead.bench.band import half_width

PLACES = 0.005  # the publication gives two places


def _trapezoid_factor(beta: float, p: float = 0.95) -> float:
    """S10.13: k for a trapezoid with the ratio β of its edges; p is the confidence."""
    spread = sqrt((1 + beta**2) / 6)
    if p / (2 - p) < beta:
        return p * (1 + beta) / 2 / spread
    return (1 - sqrt((1 - p) * (1 - beta**2))) / spread


def test_one_rectangular_contribution_has_1_65(outside) -> None:
    ours = half_width([1.0], 0.0) / (1.0 / sqrt(3.0))
    outside(
        source="ea-4-02", place="S9.14", read="from memory", what="coverage factor of a rectangular distribution",
        deviation=abs(ours / 1.65 - 1),
    )  # fmt: skip
    assert ours == pytest.approx(1.65, abs=PLACES + 0.001)


def test_two_rectangular_contributions_have_the_factor_of_a_trapezoid(outside) -> None:
    worst = 0.0
    for first, second in ((1.0, 1.0), (1.0, 0.7), (1.0, 0.4), (1.0, 0.2), (1.0, 0.1)):
        beta = (first - second) / (first + second)
        ours = half_width([first, second], 0.0) / sqrt((first**2 + second**2) / 3)
        worst = max(worst, abs(ours / _trapezoid_factor(beta) - 1))
    outside(
        source="ea-4-02", place="S10.13", read="from memory", what="coverage factor of a trapezoidal distribution",
        deviation=worst,
    )  # fmt: skip
    assert worst < 1e-4


def test_many_contributions_have_the_factor_of_a_normal_distribution(outside) -> None:
    ours = half_width([1.0] * 30, 0.0) / sqrt(30 / 3)
    outside(
        source="jcgm-100", place="G.2.1, table G.1", read="from memory", what="coverage factor of 95 % of a normal sum",
        deviation=abs(ours / 1.96 - 1),
    )  # fmt: skip
    assert ours == pytest.approx(1.96, abs=0.01)  # thirty equal rectangles are not quite normal
