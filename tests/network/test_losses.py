"""The loss curve of a converter."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ohmstead.network.losses import loss_curve

SHARES = (0.1, 0.5, 1.0)


def efficiency(curve, power):
    return power / (power + curve.lost_w(power))


@given(
    st.floats(10, 500), st.lists(st.floats(0.7, 0.98), min_size=3, max_size=3), st.one_of(st.none(), st.floats(0.01, 1))
)
def test_stated_points_are_met_exactly(rating, stated, idle):
    curve = loss_curve(rating, tuple(zip(SHARES, stated, strict=True)), idle)
    for share, eta in zip(SHARES, stated, strict=True):
        assert efficiency(curve, share * rating) == pytest.approx(eta, rel=1e-9)
    if idle is not None:
        assert curve.lost_w(0.0) == curve.idle_w == idle


@given(st.floats(10, 500), st.floats(0.75, 0.97), st.floats(0.05, 0.5), st.floats(0.0, 1.3))
def test_idle_and_share_give_back_the_loss(rating, eta, idle, load):
    curve = loss_curve(rating, ((0.5, eta),), idle)
    power = load * rating
    rebuilt = curve.idle_w + curve.fraction_at(power) * power
    assert rebuilt == pytest.approx(max(curve.lost_w(power), curve.idle_w))


def test_without_idle_or_three_points_a_part_of_the_least_loss_stands_in():
    curve = loss_curve(100.0, ((0.1, 0.9), (1.0, 0.95)), None)
    assert 0 < curve.idle_w < 10 * (1 / 0.9 - 1)
