"""Ageing of cells against figures of the papers, and one paper against another."""

import numpy as np
import pytest

from ohmstead.parts.cell import chemistry
from ohmstead.storage.ageing import (
    lead_calendar_per_year,
    lead_cycles,
    lfp_calendar_per_root_s,
    lfp_cycle_per_root,
    nmc_calendar_per_day,
    nmc_cycle_per_root,
)
from ohmstead.storage.cells import open_circuit_v

YEAR_S = 365 * 86400.0


@pytest.mark.parametrize(
    ("temperature_c", "state", "years", "lost"),
    [
        (25.0, 0.5, 1, 0.0425),
        (25.0, 1.0, 1, 0.0677),
        (40.0, 0.5, 1, 0.0592),
        (25.0, 0.6, 10, 0.135),
        (40.0, 0.9, 10, 0.244),
        (15.0, 0.6, 10, 0.106),
    ],
)
def test_lithium_iron_phosphate_at_rest(outside, temperature_c, state, years, lost) -> None:
    found = float(lfp_calendar_per_root_s(temperature_c, state)) * (years * YEAR_S) ** 0.5
    outside(source="naumann-2018", place="law of the loss of capacity, as three public codes have it",
            read="second-hand", what="loss at rest", deviation=found / lost - 1)  # fmt: skip
    assert found == pytest.approx(lost, rel=0.005)


@pytest.mark.parametrize(
    ("depth", "rate", "cycles", "lost"),
    [(0.8, 0.2, 1000, 0.0390), (0.8, 0.2, 3000, 0.0676), (0.4, 0.1, 3000, 0.060), (1.0, 1.0, 1000, 0.0683)],
)
def test_lithium_iron_phosphate_by_cycles(outside, depth, rate, cycles, lost) -> None:
    found = float(lfp_cycle_per_root(depth, rate)) * cycles**0.5
    outside(source="naumann-2020", place="law of the loss of capacity, as public codes have it", read="second-hand",
            what="loss by cycles", deviation=found / lost - 1)  # fmt: skip
    assert found == pytest.approx(lost, rel=0.01)


def wang_fraction(kelvin: float, rate: float, passed_ah: float) -> float:
    """Loss of a 2 Ah cell after so many ampere-hours: the general fit near C/2 of Wang et al."""
    return 30330 * np.exp(-(31700 - 370.3 * rate) / (8.314 * kelvin)) * passed_ah**0.552 / 100


@pytest.mark.parametrize(("cycles", "temperature_c"), [(500, 25.0), (1000, 25.0), (2000, 25.0), (1000, 40.0)])
def test_two_papers_of_the_same_kind_of_cell(outside, cycles: int, temperature_c: float) -> None:
    """Cycles at C/2, nine tenths deep; a cycle lasts 3.6 h, in which the cell ages at rest as well."""
    theirs = wang_fraction(temperature_c + 273.15, 0.5, cycles * 0.9 * 2.0)
    use = float(lfp_cycle_per_root(0.9, 0.5)) * (0.9 * cycles) ** 0.5
    rest = float(lfp_calendar_per_root_s(temperature_c, 0.5)) * (cycles * 3.6 * 3600) ** 0.5
    ratio = (use + rest) / theirs
    outside(source="wang-2011", place="general law near C/2, from another laboratory and another maker's cell",
            read="second-hand", what="loss by 500 to 2000 deep cycles", deviation=ratio - 1)  # fmt: skip
    assert 0.6 < ratio < 1.6  # two cells, two laboratories: no closer agreement is claimed


SCHMALSTIEG = {0.1: 3.491, 0.2: 3.581, 0.3: 3.627, 0.4: 3.655, 0.5: 3.697, 0.6: 3.775, 0.7: 3.869, 0.8: 3.965,
               0.9: 4.073, 1.0: 4.162}  # fmt: skip


def test_nickel_manganese_cobalt_rests_as_the_cell_of_the_paper(outside) -> None:
    """Ours is remembered from several papers; empty, cells of this kind differ and nothing is compared."""
    cell = chemistry("NMC")
    worst = max(abs(open_circuit_v(cell, state) / volts - 1) for state, volts in SCHMALSTIEG.items())
    outside(source="schmalstieg-2014", place="figure 1, as public codes have it, from a tenth up", read="second-hand",
            what="resting voltage of an NMC cell", deviation=worst)  # fmt: skip
    assert worst < 0.015


def test_nickel_manganese_cobalt_ages_faster_full_and_hot_and_deep() -> None:
    hot = np.array([nmc_calendar_per_day(t, 3.7) for t in (10.0, 25.0, 40.0, 55.0)])
    assert (np.diff(hot) > 0).all()
    full = np.array([nmc_calendar_per_day(25.0, v) for v in (3.0, 3.5, 3.9, 4.15)])
    assert full[0] == 0.0
    assert (np.diff(full) > 0).all()
    assert nmc_cycle_per_root(3.667, 0.2) < nmc_cycle_per_root(3.667, 0.8) < nmc_cycle_per_root(3.9, 0.8)


def test_lead_lasts_by_depth_and_temperature() -> None:
    for name in ("lead AGM", "lead flooded"):
        cell = chemistry(name)
        depths = np.array([0.01, 0.1, 0.3, 0.5, 0.8, 1.0])
        cycles = lead_cycles(cell, depths)
        assert (np.diff(cycles) < 0).all()
        for depth, count in cell.habits.cycles_by_depth:
            assert float(lead_cycles(cell, depth)) == pytest.approx(count)
        assert 5 * lead_calendar_per_year(cell, 30.0) == pytest.approx(10 * lead_calendar_per_year(cell, 20.0))
