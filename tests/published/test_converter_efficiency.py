"""Efficiency curves of converters, fitted by the loss parabola.

The three triples are illustrative inputs, not published curves; what is compared is the arithmetic, worked by
hand beforehand: coefficients, and efficiencies between the points.
"""

import pytest

from ohmstead.network.losses import loss_curve

ROWS = [
    ((0.80, 0.92, 0.90), (0.02533, -0.01318, 0.09897), {0.05: 66.7, 0.2: 88.2, 0.25: 89.9, 0.75: 91.3}),
    ((0.85, 0.94, 0.925), (0.01756, -0.00611, 0.06963), {0.05: 74.2, 0.2: 91.3, 0.25: 92.5, 0.75: 93.5}),
    ((0.88, 0.955, 0.945), (0.01363, -0.00484, 0.04941), {0.05: 78.7, 0.2: 93.2, 0.25: 94.2, 0.75: 95.2}),
]


@pytest.mark.parametrize(("triple", "coefficients", "between"), ROWS)
def test_coefficients_and_points_between(outside, triple, coefficients, between):
    fit = loss_curve(1.0, tuple(zip((0.1, 0.5, 1.0), triple, strict=True)), None).parabola
    found = (fit.idle_w, fit.fraction, fit.per_w)
    worst = max(abs(a - b) for a, b in zip(found, coefficients, strict=True))
    outside(
        source="common-practice",
        place="loss parabola worked by hand",
        read="from memory",
        what="converter loss coefficients from three efficiencies",
        deviation=worst,
    )
    assert found == pytest.approx(coefficients, abs=6e-6)
    for share, percent in between.items():
        assert 100 * share / (share + fit.lost_w(share)) == pytest.approx(percent, abs=0.051)
