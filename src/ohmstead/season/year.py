"""What the ledger says of the years: reliability, the worst fortnight, runs without a full charge, months."""

from dataclasses import dataclass

import numpy as np

from ..site.sky import Goal
from ..sun.hours import HOURS_A_YEAR, FloatArray, IntArray
from .ledger import Ledger
from .shortage import Shortage, shortages
from .spread import EPS_WH as EPS_WH
from .spread import FULL_FRACTION, Spread, spreads
from .sure import mean_most, wilson
from .use import Use, use_of
from .wear import Wear, wear_of

FORTNIGHT = 14
MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September", "October",
          "November", "December")  # fmt: skip


@dataclass(frozen=True, slots=True)
class Day:
    """One day of the worst fortnight. Energies in Wh."""

    year: int
    month: int
    day: int
    harvest_wh: float
    asked_wh: float
    unserved_wh: float
    lowest_fraction: float
    backup_wh: float = 0.0


@dataclass(frozen=True, slots=True)
class Month:
    """One month of a mean year. Energies in Wh a day; `lowest_fraction` is the lowest of all years."""

    name: str
    array_wh: float
    harvest_wh: float
    spilled_wh: float
    served_wh: float
    unserved_wh: float
    lost_wh: float
    lowest_fraction: float
    backup_wh: float = 0.0


@dataclass(frozen=True, slots=True)
class Summary:
    """The years in figures.

    unserved_fraction: loss-of-load probability by energy, unserved over asked, all years. most_unserved: what its
    true mean does not pass with the confidence asked for. dark_h: hours a year in which something was not served.
    bad_years: share of years above the goal, with Wilson's interval. verdict: "met", "missed" or "open" - open when
    the mean keeps the goal but the years are too few to be as sure as asked. priorities: who goes without. backup:
    what its source gives. spread: how far single years lie apart; none for one year.
    """

    n_year: int
    asked_wh_a_day: float
    harvest_wh_a_day: float
    unserved_fraction: float
    most_unserved_fraction: float
    goal_fraction: float
    confidence_fraction: float
    verdict: str
    dark_h: float
    dark_hours_fraction: float
    by_year_fraction: tuple[float, ...]
    n_bad_year: int
    bad_years_fraction: tuple[float, float]
    spilled_fraction: float
    lost_fraction: float
    idle_fraction: float
    way_fraction: float
    lowest_fraction: float
    longest_not_full_days: int
    full_days_a_year: float
    autonomy_days: float
    worst: tuple[Day, ...]
    months: tuple[Month, ...]
    priorities: tuple[Shortage, ...]
    backup: Use | None
    spread: tuple[Spread, ...]
    wear: Wear


def summary_of(ledger: Ledger, goal: Goal | None = None) -> Summary:
    """Every figure of the summary."""
    wish = goal or Goal()
    asked, unserved = ledger.asked_w, ledger.unserved_w
    shares = _share(_by_year(unserved), _by_year(asked))
    mean = float(unserved.sum() / asked.sum()) if asked.sum() > 0 else 0.0
    most = mean_most([float(share) for share in shares], wish.confidence_fraction)
    n_bad = int((shares > wish.unserved_fraction).sum())
    dark = unserved > EPS_WH
    not_full, full_days = _not_full(ledger)
    n_year = ledger.hours.n_year
    mean_w = float(asked.mean())
    usable = (1.0 - max(ledger.rules.cut_wh, ledger.rules.floor_wh) / max(ledger.rules.full_wh, 1e-9)) or 0.0
    return Summary(
        n_year=n_year,
        asked_wh_a_day=24.0 * mean_w,
        harvest_wh_a_day=24.0 * float(ledger.harvest_w.mean()),
        unserved_fraction=mean,
        most_unserved_fraction=most,
        goal_fraction=wish.unserved_fraction,
        confidence_fraction=wish.confidence_fraction,
        verdict=_verdict(mean, most, wish),
        dark_h=float(dark.sum()) / n_year,
        dark_hours_fraction=float(dark.mean()),
        by_year_fraction=tuple(float(share) for share in shares),
        n_bad_year=n_bad,
        bad_years_fraction=wilson(n_bad, n_year, wish.confidence_fraction),
        spilled_fraction=_over(float(ledger.spilled_w.sum()), float(ledger.harvest_w.sum())),
        lost_fraction=_over(float(ledger.lost_w.sum()), float(ledger.harvest_w.sum())),
        idle_fraction=_over(ledger.loads.idle_w, mean_w),
        way_fraction=_over(mean_w - ledger.loads.devices_w, mean_w),
        lowest_fraction=float(ledger.state_fraction.min()),
        longest_not_full_days=not_full,
        full_days_a_year=full_days / n_year,
        autonomy_days=_over(usable * ledger.rules.full_wh, 24.0 * mean_w),
        worst=worst_fortnight(ledger),
        months=months_of(ledger),
        priorities=shortages(ledger),
        backup=use_of(ledger.loads.backup, ledger) if ledger.loads.backup else None,
        spread=spreads(ledger),
        wear=wear_of(ledger.bank.chemistry, ledger.state_fraction, ledger.cells_c),
    )


def _verdict(mean: float, most: float, goal: Goal) -> str:
    if mean > goal.unserved_fraction:
        return "missed"
    return "met" if most <= goal.unserved_fraction else "open"


def _over(part: float, whole: float) -> float:
    return part / whole if whole > 0.0 else 0.0


def _by_year(values: FloatArray) -> FloatArray:
    found: FloatArray = values.reshape(-1, HOURS_A_YEAR).sum(axis=1)
    return found


def _share(part: FloatArray, whole: FloatArray) -> FloatArray:
    found: FloatArray = np.where(whole > 0.0, part / np.maximum(whole, 1e-12), 0.0)
    return found


def _not_full(ledger: Ledger) -> tuple[int, int]:
    """Longest run of days on which the battery never came to be full, and how many days it did."""
    full = (ledger.state_fraction.reshape(-1, 24) >= FULL_FRACTION).any(axis=1)
    marks = np.concatenate(([-1], np.flatnonzero(full), [full.size]))
    return int(np.diff(marks).max() - 1), int(full.sum())


def worst_begin(ledger: Ledger) -> int:
    """Day, counted over all years, with which the worst fortnight begins.

    The one with most unserved; where nothing lacks in any, the one in which a back-up source gives most; without one,
    the one in which the battery is lowest.
    """
    unserved = ledger.unserved_w.reshape(-1, 24).sum(axis=1)
    window = np.ones(FORTNIGHT)
    lacking = np.convolve(unserved, window, mode="valid")
    if float(lacking.max()) > EPS_WH:
        return int(lacking.argmax())
    backed = np.convolve(ledger.backup_w.reshape(-1, 24).sum(axis=1), window, mode="valid")
    if float(backed.max()) > EPS_WH:
        return int(backed.argmax())
    lowest = ledger.state_fraction.reshape(-1, 24).min(axis=1)
    runs = np.lib.stride_tricks.sliding_window_view(lowest, FORTNIGHT)
    return int((runs.min(axis=1) + 1e-3 * runs.mean(axis=1)).argmin())


def worst_fortnight(ledger: Ledger) -> tuple[Day, ...]:
    """The fourteen days of the worst fortnight."""
    first = worst_begin(ledger)
    found = []
    month, day = calendar_days()
    for index in range(first, first + FORTNIGHT):
        cut = slice(24 * index, 24 * index + 24)
        found.append(
            Day(
                year=int(ledger.hours.year[24 * index]),
                month=int(month[index % 365]) + 1,
                day=int(day[index % 365]),
                harvest_wh=float(ledger.harvest_w[cut].sum()),
                asked_wh=float(ledger.asked_w[cut].sum()),
                unserved_wh=float(ledger.unserved_w[cut].sum()),
                lowest_fraction=float(ledger.state_fraction[cut].min()),
                backup_wh=float(ledger.backup_w[cut].sum()),
            )
        )
    return tuple(found)


def calendar_days() -> tuple[IntArray, IntArray]:
    """Month (0..11) and day (1..31) of each of the 365 days."""
    lengths = np.array([31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])
    month = np.repeat(np.arange(12), lengths)
    day = np.arange(365) - np.repeat(np.cumsum(lengths) - lengths, lengths) + 1
    return month.astype(np.int64), day.astype(np.int64)


def months_of(ledger: Ledger) -> tuple[Month, ...]:
    """The twelve months of a mean year."""
    of_day, _ = calendar_days()
    of_hour = np.resize(np.repeat(of_day, 24), ledger.hours.n_hour)
    n_day = np.bincount(of_hour, minlength=12) / 24.0
    series = (ledger.array_w, ledger.harvest_w, ledger.spilled_w, ledger.served_w, ledger.unserved_w, ledger.lost_w,
              ledger.backup_w)  # fmt: skip
    sums = [np.bincount(of_hour, weights=values, minlength=12) / n_day for values in series]
    state = ledger.state_fraction
    found = []
    for i, name in enumerate(MONTHS):
        array, harvest, spilled, served, unserved, lost, backup = (float(total[i]) for total in sums)
        lowest = float(state[of_hour == i].min())
        found.append(Month(name, array, harvest, spilled, served, unserved, lost, lowest, backup))
    return tuple(found)
