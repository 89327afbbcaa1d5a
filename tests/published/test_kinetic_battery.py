"""The two wells: against published lifetimes, against its differential equations, and by laws it must keep."""

from math import inf

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from ohmstead.parts.cell import chemistry
from ohmstead.storage.kinetic import (
    Standing,
    TwoWells,
    after,
    capacity_ah,
    fit,
    full,
    hour_shares,
    lasts_h,
    most_charge_a,
    most_discharge_a,
)

MINUTE = 1 / 60
CELL = TwoWells(0.166, 0.122 / MINUTE, 5.5 * MINUTE)  # 5.5 A·min, c = 0.166, k' = 0.122 a minute


def lifetime_min(pattern: list[tuple[float, float]]) -> float:
    """Minutes until the first well is empty under a repeated pattern of (current, minutes)."""
    now, time_min = full(CELL), 0.0
    while True:
        for current, minutes in pattern:
            left = lasts_h(CELL, now, current) / MINUTE
            if current > 0 and left <= minutes:
                return time_min + left
            now, time_min = after(CELL, now, current, minutes * MINUTE), time_min + minutes


@pytest.mark.parametrize(
    ("pattern", "published"),
    [
        ([(0.25, 1000)], 4.53),
        ([(0.5, 1000)], 2.02),
        ([(0.5, 1), (0.25, 1)], 2.58),
        ([(0.25, 1), (0, 1)], 10.80),
        ([(0.5, 1), (0, 1)], 4.30),
        ([(0.5, 1), (0, 1), (0.25, 1), (0, 1)], 4.80),
        ([(0.25, 1), (0, 2)], 21.86),
        ([(0.5, 1), (0, 2)], 6.53),
    ],
)
def test_lifetimes_under_loads_that_come_and_go(outside, pattern, published) -> None:
    found = lifetime_min(pattern)
    outside(source="jongerden-haverkort-2009", place="table of lifetimes, battery of 5.5 A·min", read="from memory",
            what="minutes until the well at hand is empty", deviation=abs(found / published - 1))  # fmt: skip
    assert round(found, 2) == pytest.approx(published, abs=0.0051)


@pytest.mark.parametrize(("c", "k", "current"), [(0.3, 1.0, 20.0), (0.6, 0.2, 3.0), (0.166, 7.32, -8.0)])
def test_a_step_solves_the_two_equations(outside, c: float, k: float, current: float) -> None:
    """dq1/dt = -I + k(c q2 - (1-c) q1), dq2/dt the reverse of the last term: integrated by a general solver."""
    wells, begin = TwoWells(c, k, 100.0), (12.0, 40.0)

    def slopes(_: float, q: np.ndarray) -> list[float]:
        seeping = k * (c * q[1] - (1 - c) * q[0])
        return [-current + seeping, -seeping]

    solved = solve_ivp(slopes, (0.0, 0.7), begin, rtol=1e-11, atol=1e-12).y[:, -1]
    found = after(wells, Standing(*begin), current, 0.7)
    worst = float(np.max(np.abs(np.array([found.available_ah, found.bound_ah]) / solved - 1)))
    outside(source="scipy", place="integrate.solve_ivp", read="program", what="a step of the two wells",
            deviation=worst)  # fmt: skip
    assert worst < 1e-9


@given(
    c=st.floats(0.05, 0.95), k=st.floats(0.01, 10), first=st.floats(0, 1), second=st.floats(0, 1), h=st.floats(0.01, 5)
)
def test_limits_end_exactly_empty_and_exactly_full(c: float, k: float, first: float, second: float, h: float) -> None:
    wells = TwoWells(c, k, 100.0)
    begin = Standing(first * c * 100, second * (1 - c) * 100)
    assert after(wells, begin, most_discharge_a(wells, begin, h), h).available_ah == pytest.approx(0.0, abs=1e-9)
    filled = after(wells, begin, -most_charge_a(wells, begin, h), h)
    assert filled.available_ah == pytest.approx(c * 100, abs=1e-9)
    assert filled.bound_ah <= (1 - c) * 100 + 1e-9


@given(c=st.floats(0.1, 0.9), k=st.floats(0.05, 5), most=st.floats(1, 1000))
def test_a_fit_finds_the_wells_again(c: float, k: float, most: float) -> None:
    wells = TwoWells(c, k, most)
    found = fit({hours: capacity_ah(wells, hours) for hours in (1.0, 5.0, 20.0)})
    assert found.available_fraction == pytest.approx(c, rel=1e-5)
    assert found.exchange_per_h == pytest.approx(k, rel=1e-5)
    assert found.most_ah == pytest.approx(most, rel=1e-5)


def test_capacity_is_current_times_the_time_it_lasts() -> None:
    for name in ("lead AGM", "lead flooded"):
        shares = dict(chemistry(name).habits.by_hours)
        wells = fit({hours: 100 * share for hours, share in shares.items()})
        for hours, share in shares.items():
            assert lasts_h(wells, full(wells), 100 * share / hours) == pytest.approx(hours, rel=1e-9)
        assert 1.0 < wells.most_ah / 100 < 1.2
        assert capacity_ah(wells, 100.0) < wells.most_ah


def test_one_well_and_no_current() -> None:
    assert hour_shares(1.0, 5.0) == (0.0, 1.0, 1.0)
    assert lasts_h(TwoWells(0.3, 1, 100), Standing(1, 1), 0.0) == inf
    rested = after(TwoWells(0.3, 0.0, 100), Standing(10, 10), 5.0, 1.0)
    assert (rested.available_ah, rested.bound_ah) == (5.0, 10.0)


@pytest.mark.parametrize(
    ("capacities", "told"),
    [
        ({1: 5.0, 2: 6.0}, "three times"),
        ({1: 5.0, 2: 6.0, 20: 0.0}, "three times"),
        ({1: 9.0, 5: 8.0, 20: 10.0}, "slower"),
        ({1: 5.0, 5: 9.9, 20: 10.0}, "no two wells"),
        ({1: 5.0, 5: 5.01, 20: 10.0}, "no two wells"),
    ],
)
def test_capacities_that_are_none_are_refused(capacities: dict[float, float], told: str) -> None:
    with pytest.raises(ValueError, match=told):
        fit(capacities)
