"""The chain of daily clearness (Aguiar, Collares-Pereira and Conde 1988), its library second-hand.

Stationary means, spreads and lag-1 correlations of the ten matrices were reckoned apart from the product, from the
same figures as three public programs print them; that every mean falls inside its own class is the paper's claim.
"""

import numpy as np
import pytest

from ohmstead.sun.clearness import N_STATE, chain_for, chains, day_months, draw_days, meet_means, stationary
from ohmstead.sun.months import dim_runs
from ohmstead.sun.years import Spot, drawn_weather, outside_by_month
from ohmstead.tables.reader import numbers

CLASSES = [(0.0, 0.30), *((0.30 + 0.05 * k, 0.35 + 0.05 * k) for k in range(8)), (0.70, 1.0)]
MEAN = [0.241, 0.334, 0.374, 0.429, 0.476, 0.526, 0.575, 0.620, 0.668, 0.728]
SPREAD = [0.155, 0.166, 0.165, 0.166, 0.166, 0.155, 0.152, 0.134, 0.116, 0.071]
LAG_1 = [0.39, 0.02, 0.29, 0.31, 0.33, 0.32, 0.23, 0.24, 0.20, 0.27]
SYDNEY = np.array([0.49, 0.48, 0.50, 0.51, 0.51, 0.54, 0.54, 0.57, 0.56, 0.54, 0.51, 0.51])


def long_run(chain) -> tuple[float, float, float]:
    """Mean, spread and lag-1 correlation of a chain whose states stand at their middles."""
    often = stationary(chain)
    state = chain.least_fraction + chain.width * (np.arange(N_STATE) + 0.5)
    mean = often @ state
    away = state - mean
    spread = np.sqrt(often @ away**2)
    return float(mean), float(spread), float((often * away) @ chain.odds @ away / spread**2)


def test_rows_sum_to_a_thousand(outside):
    """All rows within 2.5 of a thousand, but the first of the third matrix with 997."""
    sums = np.array([numbers("clearness_chain", f"to_{k + 1}") for k in range(N_STATE)]).sum(axis=0)
    outside(source="aguiar-1988", place="library", read="second-hand", what="sums of the rows of ten matrices",
            deviation=float(np.abs(sums / 1000 - 1).max()))  # fmt: skip
    odd = np.abs(sums - 1000) > 2.5
    assert sums.size == 100 and np.flatnonzero(odd).tolist() == [20] and sums[20] == 997
    assert all(np.allclose(chain.odds.sum(axis=1), 1, atol=1e-12) for chain in chains())


def test_every_class_keeps_its_mean(outside):
    found = np.array([long_run(chain) for chain in chains()])
    for (low, high), mean in zip(CLASSES, found[:, 0], strict=True):
        assert low < mean <= high
    outside(source="aguiar-1988", place="library", read="second-hand", what="long-run mean inside its class",
            deviation=float(np.abs(found[:, 0] / MEAN - 1).max()))  # fmt: skip
    assert found[:, 0] == pytest.approx(MEAN, abs=6e-4)  # printed to three digits
    assert found[:, 1] == pytest.approx(SPREAD, abs=6e-4)
    assert found[:, 2] == pytest.approx(LAG_1, abs=6e-3)  # printed to two


def test_the_class_of_a_month():
    """The bounds of the classes; a mean on a bound belongs to the class below."""
    assert [chain_for(k).number for k in (0.10, 0.30, 0.31, 0.35, 0.52, 0.70, 0.71)] == [1, 1, 2, 2, 6, 9, 10]


@pytest.mark.parametrize("number", range(1, 11))
def test_drawn_days_keep_mean_spread_and_memory(number, outside):
    """2000 years of one class: sampling error alone is allowed, four times its size."""
    chain = chains()[number - 1]
    months = np.full(12, MEAN[number - 1])
    days = draw_days(months, 300, np.random.default_rng(number)).ravel()
    mean, spread, memory = days.mean(), days.std(), np.corrcoef(days[1:], days[:-1])[0, 1]
    within = chain.width / np.sqrt(12)  # the even draw inside a state adds this much spread and takes memory
    wider = np.hypot(SPREAD[number - 1], within)
    thinner = LAG_1[number - 1] * (SPREAD[number - 1] / wider) ** 2
    error = spread * np.sqrt((1 + LAG_1[number - 1]) / (1 - LAG_1[number - 1]) / days.size)
    outside(source="aguiar-1988", place=f"class {number}", read="second-hand",
            what="mean, spread and lag-1 correlation of drawn days",
            deviation=float(max(abs(mean / MEAN[number - 1] - 1), abs(spread / wider - 1))))  # fmt: skip
    assert mean == pytest.approx(MEAN[number - 1], abs=4 * error + 6e-4)
    assert spread == pytest.approx(wider, rel=4 / np.sqrt(2 * days.size) + 0.004)
    assert memory == pytest.approx(thinner, abs=4 / np.sqrt(days.size) + 6e-3)


def test_twelve_months_of_sydney_give_its_year(outside):
    """Twelve clearness indices of Sydney: drawn years are said to lie between 1550 and 1700 kWh/m²."""
    spot = Spot(-34.8, 150.9, 0.0, 36000)
    sun = SYDNEY * outside_by_month(spot)
    totals = [drawn_weather(spot, sun, np.full(12, 18.0), 1, seed).ghi_w_per_m2.sum() / 1000 for seed in range(5)]
    outside(source="synthetic-solar-sydney", place="yearly sun", read="second-hand", what="five drawn years, kWh/m²",
            deviation=float(np.mean(totals) / 1625 - 1))  # fmt: skip
    assert all(1550 < total < 1700 for total in totals)


@pytest.mark.parametrize("latitude, months", [
    (-34.8, SYDNEY), (57.6, np.array([0.26, 0.34, 0.41, 0.46, 0.49, 0.45, 0.43, 0.42, 0.40, 0.33, 0.29, 0.27])),
    (24.1, np.array([0.63, 0.65, 0.65, 0.66, 0.66, 0.67, 0.67, 0.66, 0.65, 0.65, 0.65, 0.62])),
    (5.0, np.linspace(0.40, 0.55, 12)), (45.0, np.linspace(0.12, 0.75, 12)),
])  # fmt: skip
@pytest.mark.parametrize("n_year", [1, 20])
def test_monthly_means_are_met(latitude, months, n_year):
    """The demand is 2 %; they are met by construction, but for the shift of days in leap years."""
    spot = Spot(latitude, 0.0, 0.0, 0)
    sun = months * outside_by_month(spot)
    made = drawn_weather(spot, sun, np.full(12, 10.0), n_year, 3)
    days = made.ghi_w_per_m2.reshape(n_year, 365, 24).sum(axis=2).mean(axis=0)
    met = np.array([days[day_months() == month].mean() for month in range(12)])
    assert met == pytest.approx(sun, rel=0.001)


def test_bending_to_the_means_keeps_order_bounds_and_memory():
    months = np.full(12, 0.505)  # the far end of its class, whose own mean is 0.526
    days = draw_days(months, 200, np.random.default_rng(2))
    bent = meet_means(days, months, np.ones(365))
    one, two = days[:, :31].ravel(), bent[:, :31].ravel()
    assert (np.argsort(one, kind="stable") == np.argsort(two, kind="stable")).all()
    chain = chain_for(0.505)
    assert chain.least_fraction <= bent.min() and bent.max() <= chain.most_fraction
    memory = [np.corrcoef(d.ravel()[1:], d.ravel()[:-1])[0, 1] for d in (days, bent)]
    assert memory[1] == pytest.approx(memory[0], abs=0.02)
    assert bent.std() == pytest.approx(days.std(), rel=0.05)


def test_dark_days_come_in_runs():
    """With its days shuffled a month has shorter dark runs: the memory of the chain is what lengthens them."""
    spot = Spot(50.0, 0.0, 0.0, 0)
    made = drawn_weather(spot, np.full(12, 0.28) * outside_by_month(spot), np.full(12, 5.0), 60, 1)
    runs = dim_runs(made)
    dim = runs > 0
    shuffled = np.random.default_rng(0).permutation(dim)
    assert np.flatnonzero(np.diff(dim.astype(int))).size < 0.9 * np.flatnonzero(np.diff(shuffled.astype(int))).size
