"""What the years cost the battery: capacity lost to age and to use, and how long it lasts.

The years of a season are taken to come again and again. A law of the form loss = (rate · amount)^power, under a stress
that changes, gives loss^(1/power) = the sum of rate^(1/power) over the amounts; so each share grows as a power of time.
"""

from dataclasses import dataclass

import numpy as np

from ..parts.cell import Chemistry, chemistry
from ..storage.ageing import (
    END_LOSS,
    NMC_TIME,
    lead_calendar_per_year,
    lead_cycles,
    lfp_calendar_per_root_s,
    lfp_cycle_per_root,
    nmc_calendar_per_day,
    nmc_cycle_per_root,
)
from ..storage.cells import open_circuit_v
from ..sun.hours import HOURS_A_YEAR, FloatArray

LONGEST_YEARS = 100.0  # nothing is said of a life beyond
SMALLEST = 1e-4  # cycles of less depth are left out
HOUR_S = 3600.0


@dataclass(frozen=True, slots=True)
class Cycles:
    """Cycles of a trace, one entry each; `count` is 1 for a whole one and 0.5 for a half one.

    depth_fraction: between its lowest and highest state; mean_fraction: half-way between; lasts_h: one half of it.
    """

    depth_fraction: FloatArray
    mean_fraction: FloatArray
    count: FloatArray
    lasts_h: FloatArray

    @property
    def whole(self) -> float:
        """Equivalent full cycles."""
        return float((self.depth_fraction * self.count).sum())


@dataclass(frozen=True, slots=True)
class Wear:
    """Loss of capacity, as shares of that when new.

    n_full_cycle: equivalent full cycles in a year. deepest_fraction: of any cycle. year_fraction: lost in a mean year
    until 80 % are left. first_year_fraction: lost in the first. calendar_fraction: share of the loss at 80 % that age
    alone makes, the rest is use. life_years: until 80 % are left, inf beyond a hundred. sources: keys of its laws.
    """

    n_full_cycle: float
    deepest_fraction: float
    first_year_fraction: float
    year_fraction: float
    calendar_fraction: float
    life_years: float
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Share:
    """One share of the loss: (rate · years)^exponent."""

    rate_per_year: float
    exponent: float

    def after(self, years: float) -> float:
        """Loss after so many years."""
        return float((self.rate_per_year * years) ** self.exponent)


Law = tuple[Share, Share, tuple[str, ...]]  # age by the year, use over the whole trace, keys of the bibliography


def cycles_of(state_fraction: FloatArray) -> Cycles:
    """The cycles in an hourly trace of the state of charge, by rainflow counting (ASTM E1049)."""
    from rainflow import extract_cycles

    moved = np.concatenate(([True], np.diff(state_fraction) != 0.0))
    hours = np.flatnonzero(moved)
    steps = np.diff(state_fraction[hours])
    turns = np.concatenate(([True], steps[1:] * steps[:-1] < 0.0, [True])) if steps.size else np.array([True])
    hours = hours[turns]
    hours = np.concatenate((hours[:1], hours))  # so that the library also sees a trace that only rises or falls
    found = [c for c in extract_cycles(state_fraction[hours]) if c[0] > SMALLEST]
    depth, mean, count, begin, end = np.array(found, dtype=float).reshape(-1, 5).T
    lasts = hours[end.astype(int)] - hours[begin.astype(int)]
    return Cycles(depth, mean, count, np.maximum(lasts.astype(float), 1.0))


def wear_of(kind_name: str, state_fraction: FloatArray, cells_c: FloatArray) -> Wear:
    """Wear of a bank of a chemistry from whole years of hourly state and temperature."""
    kind = chemistry(kind_name)
    cycles = cycles_of(state_fraction)
    years = state_fraction.size / HOURS_A_YEAR
    age, use, sources = LAWS[kind.name](kind, state_fraction, cells_c, cycles)
    use = Share(use.rate_per_year / years, use.exponent)
    life = _life_years(age, use)
    at = min(life, LONGEST_YEARS)
    lost = age.after(at) + use.after(at)
    return Wear(
        n_full_cycle=cycles.whole / years,
        deepest_fraction=float(cycles.depth_fraction.max(initial=0.0)),
        first_year_fraction=age.after(1.0) + use.after(1.0),
        year_fraction=lost / at,
        calendar_fraction=age.after(at) / lost if lost > 0.0 else 1.0,
        life_years=life,
        sources=sources,
    )


def _life_years(age: Share, use: Share) -> float:
    low, high = 0.0, LONGEST_YEARS
    if age.after(high) + use.after(high) < END_LOSS:
        return float("inf")
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if age.after(middle) + use.after(middle) < END_LOSS else (low, middle)
    return high


def _lfp(kind: Chemistry, state: FloatArray, cells_c: FloatArray, cycles: Cycles) -> Law:
    """Age per year; use over the whole trace."""
    squared = float(np.mean(lfp_calendar_per_root_s(cells_c, state) ** 2)) * HOURS_A_YEAR * HOUR_S
    rate = cycles.depth_fraction / cycles.lasts_h
    use = lfp_cycle_per_root(cycles.depth_fraction, rate) ** 2 * cycles.depth_fraction * cycles.count
    return Share(squared, 0.5), Share(float(use.sum()), 0.5), ("naumann-2018", "naumann-2020")


def _nmc(kind: Chemistry, state: FloatArray, cells_c: FloatArray, cycles: Cycles) -> Law:
    volts = np.array([open_circuit_v(kind, float(level)) for level in np.linspace(0.0, 1.0, 201)])
    grid = np.linspace(0.0, 1.0, 201)
    daily = nmc_calendar_per_day(cells_c, np.interp(state, grid, volts)) ** (1.0 / NMC_TIME)
    mean_v = np.interp(cycles.mean_fraction, grid, volts)
    use = nmc_cycle_per_root(mean_v, cycles.depth_fraction) ** 2 * cycles.depth_fraction * cycles.count
    return Share(float(np.mean(daily)) * 365.0, NMC_TIME), Share(float(use.sum()), 0.5), ("schmalstieg-2014",)


def _lead(kind: Chemistry, state: FloatArray, cells_c: FloatArray, cycles: Cycles) -> Law:
    """Corrosion by temperature, and a share of its life for each cycle (Miner's sum)."""
    age = float(np.mean(lead_calendar_per_year(kind, cells_c)))
    use = END_LOSS * float((cycles.count / lead_cycles(kind, cycles.depth_fraction)).sum())
    return Share(age, 1.0), Share(use, 1.0), ("lead-life-sheets",)


LAWS = {"LFP": _lfp, "NMC": _nmc, "lead AGM": _lead, "lead flooded": _lead}
