"""How far single years lie apart: each result of a year, in the dull, the middle and the bright years."""

from dataclasses import dataclass

import numpy as np

from ..sun.hours import HOURS_A_YEAR, FloatArray
from .ledger import Ledger

EPS_WH = 1e-6  # less than this does not lack
FULL_FRACTION = 0.99  # of what it holds: such a day counts as one that ended its charge
TENTH, HALF = 0.1, 0.5


@dataclass(frozen=True, slots=True)
class Spread:
    """One result over the years: one year in ten lies below `low`, one in ten above `high`, half below `middle`.

    dimension: that of the three values, in its SI unit; energies in Wh a day of a year's mean.
    """

    name: str
    dimension: str
    low: float
    middle: float
    high: float


def spreads(ledger: Ledger) -> tuple[Spread, ...]:
    """Every result of a year; none for a single year."""
    if ledger.hours.n_year < 2:
        return ()
    found = []
    for name, (dimension, values) in by_year(ledger).items():
        low, middle, high = np.quantile(values, [TENTH, HALF, 1.0 - TENTH])
        found.append(Spread(name, dimension, float(low), float(middle), float(high)))
    return tuple(found)


def by_year(ledger: Ledger) -> dict[str, tuple[str, FloatArray]]:
    """Name of a result -> its dimension and its value in each year."""
    asked, unserved = _sums(ledger.asked_w), _sums(ledger.unserved_w)
    state = ledger.state_fraction.reshape(-1, HOURS_A_YEAR)
    highest: FloatArray = state.reshape(state.shape[0], 365, 24).max(axis=2)
    full = highest >= FULL_FRACTION
    found: dict[str, tuple[str, FloatArray]] = {
        "harvest": ("energy", _sums(ledger.harvest_w) / 365.0),
        "spilled": ("energy", _sums(ledger.spilled_w) / 365.0),
        "asked": ("energy", asked / 365.0),
        "unserved": ("share", unserved / np.maximum(asked, 1e-12)),
        "hours with a lack": ("count", _sums((ledger.unserved_w > EPS_WH).astype(np.float64))),
        "lowest state": ("share", state.min(axis=1)),
        "days full": ("count", full.sum(axis=1).astype(np.float64)),
        "longest without full": ("count", np.array([_longest(year) for year in highest], dtype=np.float64)),
    }
    backup = ledger.loads.backup
    if backup is not None:
        begun = np.diff(ledger.running, prepend=0.0) > 0.0
        found["back-up hours"] = ("count", _sums(ledger.running))
        found["back-up starts"] = ("count", _sums(begun.astype(np.float64)))
        found["back-up energy"] = ("energy", _sums(ledger.backup_w) / 365.0)
        if backup.fuel_l_per_h is not None:
            found["fuel"] = ("number", _sums(backup.burnt_l(ledger.backup_w, ledger.running)))
    return found


def _sums(hourly: FloatArray) -> FloatArray:
    found: FloatArray = hourly.reshape(-1, HOURS_A_YEAR).sum(axis=1)
    return found


def _longest(highest: FloatArray) -> int:
    """Longest run of days of one year without a full charge."""
    marks = np.concatenate(([-1], np.flatnonzero(highest >= FULL_FRACTION), [highest.size]))
    return int(np.diff(marks).max() - 1)
