"""A back-up source: a charger that starts when the battery is low, what it gives, and what it burns."""

from collections.abc import Callable
from dataclasses import dataclass
from math import ceil

import numpy as np

from ..site.kinds import Charger
from ..site.model import Site
from ..site.pieces import Level
from ..sun.hours import FloatArray
from .bank import Bank
from .kernel import Starts
from .trouble import refuse

HOUR_S = 3600.0
STOP_MOST = 0.98  # beyond, the charging current dies away for hours and no source would be left running
IDLE_SHARE = 0.35  # of its fuel at full power a small generator burns with no load; common practice, no source


@dataclass(frozen=True, slots=True)
class Backup:
    """most_w: at the battery. loads, efficiencies: of the charger, output over input at shares of its most.

    fuel at full and at no power of the charger, between them straight: the line of Willans. [l/h]
    """

    name: str
    source: str
    starts_at: Level
    stops_at: Level
    least_h: float
    most_w: float
    loads_fraction: FloatArray
    efficiencies: FloatArray
    fuel_l_per_h: float | None
    idle_fuel_l_per_h: float

    def taken_w(self, given_w: FloatArray) -> FloatArray:
        """What it takes from its source for what it gives. [W]"""
        share = given_w / self.most_w if self.most_w > 0.0 else given_w
        found: FloatArray = given_w / np.interp(share, self.loads_fraction, self.efficiencies)
        return found

    def burnt_l(self, given_w: FloatArray, running: FloatArray) -> FloatArray:
        """Fuel of each hour.

        Parameters
        ----------
        given_w : array
            Mean power of the hour at the battery. [W]
        running : array
            1 in hours in which it runs, else 0. [1]

        Returns
        -------
        array
            Litres; zeros when no fuel is stated. [l]

        Source
        ------
        willans, from memory.

        Examples
        --------
        >>> one = Backup("set", "generator", Level(0.3), Level(0.9), 1.0, 800.0, np.ones(1), np.ones(1), 0.6, 0.2)
        >>> one.burnt_l(np.array([0.0, 400.0, 0.0]), np.array([0.0, 1.0, 1.0])).round(3).tolist()
        [0.0, 0.4, 0.2]
        """
        if self.fuel_l_per_h is None or self.most_w <= 0.0:
            return np.zeros_like(given_w)
        rising = (self.fuel_l_per_h - self.idle_fuel_l_per_h) * given_w / self.most_w
        found: FloatArray = self.idle_fuel_l_per_h * running + rising
        return found


def backup_of(site: Site, bank: Bank, loss_per_w: Callable[[str], float]) -> Backup | None:
    """The charger of a site that is told when to start; None without one. Raises SeasonError for more than one."""
    found = [part for part in site.parts.values() if isinstance(part, Charger) and part.starts_at is not None]
    if len(found) > 1:
        refuse(
            site,
            f"{len(found)} chargers start by themselves: {', '.join(part.name for part in found)}",
            "one back-up source",
            "leave `starts at` out of all but one",
        )
    if not found:
        return None
    part = found[0]
    assert part.starts_at is not None and part.stops_at is not None
    made_w = min(part.current_a * bank.nominal_v, part.power_w or float("inf"))
    points = np.array(part.efficiency, dtype=np.float64)
    full, idle = part.fuel_l_per_h, part.idle_fuel_l_per_h
    return Backup(
        name=part.name,
        source=part.supply,
        starts_at=part.starts_at,
        stops_at=part.stops_at,
        least_h=max(1.0, float(ceil((part.least_run_s or 0.0) / HOUR_S - 1e-9))),
        most_w=max(made_w - loss_per_w(part.name) * made_w**2, 0.0),
        loads_fraction=points[:, 0],
        efficiencies=points[:, 1],
        fuel_l_per_h=full,
        idle_fuel_l_per_h=IDLE_SHARE * (full or 0.0) if idle is None else idle,
    )


def level_wh(level: Level, bank: Bank, sag_v: float) -> float:
    """Energy in the bank at a share of what it holds, or at a voltage that is `sag_v` below its resting one. [Wh]"""
    share = level.value if level.unit == "share" else bank.state_at(level.value + sag_v)
    return share * bank.full_wh


def starts_of(backup: Backup, bank: Bank, sag_v: float) -> Starts:
    """When it runs, as energies of the bank: it starts under the mean load and stops while it charges."""
    start = level_wh(backup.starts_at, bank, sag_v)
    charging_v = backup.most_w / bank.nominal_v * bank.warm_ohm if bank.nominal_v > 0.0 else 0.0
    stop = min(level_wh(backup.stops_at, bank, -charging_v), STOP_MOST * bank.full_wh)
    return Starts(backup.most_w, start, max(stop, start), backup.least_h)
