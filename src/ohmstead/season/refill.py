"""How long the sun takes to fill the battery again after a cloudy spell, in the month with least sun for its load."""

from dataclasses import dataclass

import numpy as np

from .ledger import Ledger
from .year import MONTHS, calendar_days

SUNNY = 0.9  # of the days of that month bring less than a sunny one


@dataclass(frozen=True, slots=True)
class Refill:
    """sunny_wh: harvest of a sunny day at the battery; asked_wh: load of a mean day; usable_wh: from the disconnect
    to full. All in the month whose harvest covers least of its load. [Wh]
    """

    month: str
    sunny_wh: float
    asked_wh: float
    usable_wh: float


def refill_of(ledger: Ledger) -> Refill:
    """What a sunny day of the poorest month brings and takes."""
    of_day, _ = calendar_days()
    month = np.resize(of_day, ledger.hours.n_hour // 24)
    harvest = ledger.harvest_w.reshape(-1, 24).sum(axis=1)
    asked = ledger.asked_w.reshape(-1, 24).sum(axis=1)
    poorest = min(range(12), key=lambda i: harvest[month == i].mean() / max(asked[month == i].mean(), 1e-9))
    chosen = month == poorest
    usable = ledger.rules.full_wh - max(ledger.rules.cut_wh, ledger.rules.floor_wh)
    sunny = float(np.quantile(harvest[chosen], SUNNY))
    return Refill(MONTHS[poorest], sunny, float(asked[chosen].mean()), usable)
