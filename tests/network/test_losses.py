"""The loss parabola of a converter."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ohmstead.network.losses import fit_losses


@given(st.floats(10, 500), st.lists(st.floats(0.7, 0.98), min_size=3, max_size=3))
def test_three_points_are_met_exactly(rating, shares):
    points = tuple(zip((0.1, 0.5, 1.0), shares, strict=True))
    fit = fit_losses(rating, points, None)
    for share, efficiency in points:
        power = share * rating
        assert power / (power + fit.lost_w(power)) == pytest.approx(efficiency, rel=1e-9)


@given(st.floats(10, 500), st.floats(0.75, 0.97), st.floats(0.05, 0.5))
def test_one_point_and_the_idle_draw_are_met_exactly(rating, efficiency, idle):
    fit = fit_losses(rating, ((0.5, efficiency),), idle)
    power = rating / 2
    loss = power * (1 / efficiency - 1)
    assert fit.lost_w(0.0) == idle
    assert fit.lost_w(power) == pytest.approx(max(loss, idle))
    assert fit.per_w >= 0


def test_no_loss_shrinks_with_load():
    fit = fit_losses(100.0, ((0.1, 0.9), (1.0, 0.97)), 0.3)
    assert fit.fraction >= 0
    assert fit.per_w >= 0
