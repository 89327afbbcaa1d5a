"""What a back-up source does in a mean year."""

from dataclasses import dataclass

import numpy as np

from .backup import Backup
from .ledger import Ledger


@dataclass(frozen=True, slots=True)
class Use:
    """What a back-up source does in a mean year. Energies in Wh; fuel None when none is stated."""

    name: str
    source: str
    hours: float
    starts_a_year: float
    given_wh: float
    taken_wh: float
    fuel_l: float | None
    of_load_fraction: float


def use_of(backup: Backup, ledger: Ledger) -> Use:
    """Its year, from the ledger in which it ran."""
    n_year, given_w, running = ledger.hours.n_year, ledger.backup_w, ledger.running
    served = float(ledger.served_w.sum())
    fuel = float(backup.burnt_l(given_w, running).sum()) / n_year
    return Use(
        name=backup.name,
        source=backup.source,
        hours=float(running.sum()) / n_year,
        starts_a_year=float((np.diff(running, prepend=0.0) > 0.0).sum()) / n_year,
        given_wh=float(given_w.sum()) / n_year,
        taken_wh=float(backup.taken_w(given_w).sum()) / n_year,
        fuel_l=None if backup.fuel_l_per_h is None else fuel,
        of_load_fraction=float(given_w.sum()) / served if served > 0.0 else 0.0,
    )
