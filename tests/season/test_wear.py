"""Wear of a battery over years of hours: cycles counted, laws summed, what comes out against closed forms."""

from collections import Counter

import numpy as np
import pytest
import rainflow
from hypothesis import given
from hypothesis import strategies as st

from ohmstead.parts.cell import chemistry
from ohmstead.season.wear import cycles_of, wear_of
from ohmstead.storage.ageing import END_LOSS, lead_calendar_per_year, lead_cycles, lfp_calendar_per_root_s

YEAR_H = 8760


def test_the_example_of_the_standard(outside) -> None:
    """Range 3 by half a cycle, 4 by one and a half, 6 by a half, 8 by one, 9 by a half."""
    history = np.array([-2.0, 1.0, -3.0, 5.0, -1.0, 3.0, -4.0, 4.0, -2.0])
    found: Counter[float] = Counter()
    cycles = cycles_of(history)
    for depth, count in zip(cycles.depth_fraction, cycles.count, strict=True):
        found[float(depth)] += float(count)
    printed = {3.0: 0.5, 4.0: 1.5, 6.0: 0.5, 8.0: 1.0, 9.0: 0.5}
    worst = max(abs(found[depth] - count) for depth, count in printed.items())
    outside(source="astm-e1049", place="figure 6, example of rainflow counting", read="from memory",
            what="cycles counted by range", deviation=worst)  # fmt: skip
    assert found == printed


@given(st.lists(st.sampled_from([0.0, 0.1, 0.25, 0.5, 0.75, 1.0]), min_size=2, max_size=60))
def test_leaving_out_what_does_not_turn_changes_no_cycle(levels: list[float]) -> None:
    trace = np.array(levels)
    ours = cycles_of(trace)
    theirs = [c for c in rainflow.extract_cycles([levels[0], *levels]) if c[0] > 0]
    assert sorted(zip(ours.depth_fraction, ours.count, strict=True)) == sorted((c[0], c[2]) for c in theirs)
    assert ours.whole == pytest.approx(np.abs(np.diff(trace)).sum() / 2)


def daily(depth: float, top: float, n_year: int = 1) -> np.ndarray:
    """Twelve hours down, twelve up, each day."""
    return np.tile(np.interp(np.arange(24), [0, 12, 24], [top, top - depth, top]), 365 * n_year)


def test_a_cycle_a_day_is_counted_as_one() -> None:
    cycles = cycles_of(daily(0.4, 0.9))
    assert cycles.whole == pytest.approx(0.4 * 365, rel=0.01)
    assert cycles.depth_fraction == pytest.approx(np.full(cycles.count.size, 0.4), abs=0.04)
    assert np.median(cycles.lasts_h) == 12.0


def test_at_rest_only_age_counts() -> None:
    still = np.full(YEAR_H, 0.5)
    found = wear_of("LFP", still, np.full(YEAR_H, 25.0))
    assert found.n_full_cycle == found.deepest_fraction == 0.0
    assert found.calendar_fraction == 1.0
    assert found.first_year_fraction == pytest.approx(0.0425, rel=0.005)
    root = float(lfp_calendar_per_root_s(25.0, 0.5))
    assert found.life_years == pytest.approx((END_LOSS / root) ** 2 / (365 * 86400), rel=1e-6)


def test_a_stress_that_swings_wears_as_its_steady_parts_one_after_the_other() -> None:
    """Half a year at 10 °C, then half at 40 °C: loss² is the sum of both, whatever their order."""
    warm = np.concatenate((np.full(YEAR_H // 2, 10.0), np.full(YEAR_H // 2, 40.0)))
    still = np.full(YEAR_H, 0.5)
    swinging = wear_of("LFP", still, warm).first_year_fraction
    parts = [wear_of("LFP", still, np.full(YEAR_H, t)).first_year_fraction for t in (10.0, 40.0)]
    assert swinging == pytest.approx(((parts[0] ** 2 + parts[1] ** 2) / 2) ** 0.5)
    assert wear_of("LFP", still, warm[::-1]).first_year_fraction == pytest.approx(swinging)


def test_lead_under_a_cycle_a_day_is_a_sum_of_shares() -> None:
    kind = chemistry("lead AGM")
    found = wear_of("lead AGM", daily(0.5, 1.0), np.full(YEAR_H, 20.0))
    age = float(lead_calendar_per_year(kind, 20.0))
    use = END_LOSS * 365 / float(lead_cycles(kind, 0.5))
    assert found.year_fraction == pytest.approx(age + use, rel=0.01)
    assert found.life_years == pytest.approx(END_LOSS / (age + use), rel=0.01)
    assert found.calendar_fraction == pytest.approx(age / (age + use), rel=0.01)


@pytest.mark.parametrize("name", ["LFP", "NMC", "lead AGM", "lead flooded"])
def test_deeper_and_hotter_is_worse_and_years_repeat(name: str) -> None:
    mild = wear_of(name, daily(0.3, 0.8), np.full(YEAR_H, 15.0))
    assert wear_of(name, daily(0.6, 0.8), np.full(YEAR_H, 15.0)).life_years < mild.life_years
    assert wear_of(name, daily(0.3, 0.8), np.full(YEAR_H, 35.0)).life_years < mild.life_years
    thrice = wear_of(name, daily(0.3, 0.8, 3), np.full(3 * YEAR_H, 15.0))
    assert thrice.life_years == pytest.approx(mild.life_years, rel=0.01)
    assert thrice.n_full_cycle == pytest.approx(mild.n_full_cycle, rel=0.01)


def test_no_battery_wears_as_an_empty_one() -> None:
    found = wear_of("lead AGM", np.zeros(YEAR_H), np.full(YEAR_H, -30.0))
    assert found.n_full_cycle == 0.0
    assert found.life_years == float("inf")
