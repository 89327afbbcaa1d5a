"""Who goes without: the energy that is not served, by the priority of the devices that wanted it."""

from dataclasses import dataclass

import numpy as np

from ..sun.hours import FloatArray
from .ledger import Ledger

FIRST = 1  # the last to go


@dataclass(frozen=True, slots=True)
class Shortage:
    """One priority in a mean year. Energies in Wh a day at the battery, losses on the way included."""

    priority: int
    asked_wh_a_day: float
    unserved_wh_a_day: float

    @property
    def unserved_fraction(self) -> float:
        """Unserved over asked."""
        return self.unserved_wh_a_day / self.asked_wh_a_day if self.asked_wh_a_day > 0.0 else 0.0


def asked_by_priority_w(ledger: Ledger) -> dict[int, FloatArray]:
    """What each priority asks for, most important first; shape (n_hour,) each, their sum is what the load asks. [W]

    What goes off together at a threshold is what the network says; within that, and for what never goes off, losses are
    shared by what arrives at the devices. What idles goes with all of them by their size.
    """
    loads, n_hour = ledger.loads, ledger.hours.n_hour
    priorities = sorted(loads.by_priority_w)
    if len(priorities) < 2:
        return {priorities[0] if priorities else FIRST: ledger.asked_w}
    found: dict[int, FloatArray] = {}
    before, left = np.zeros(n_hour), priorities
    whole = np.maximum(loads.load_w[1] - loads.idle_w, 0.0)
    for threshold, saved_w in [*((rank.priority, rank.saved_w[1]) for rank in loads.ranks), (0, whole)]:
        group = [priority for priority in left if priority >= threshold]
        left = [priority for priority in left if priority < threshold]
        total = np.sum([loads.by_priority_w[priority] for priority in group], axis=0) if group else np.zeros(n_hour)
        for priority in group:
            share = loads.by_priority_w[priority] / np.where(total > 0.0, total, 1.0)
            found[priority] = share * np.maximum(saved_w - before, 0.0)
        before = np.maximum(before, saved_w)
    weight = np.sum(list(found.values()), axis=0)
    scale = np.where(weight > 0.0, ledger.asked_w / np.where(weight > 0.0, weight, 1.0), 0.0)
    idle = np.where(weight > 0.0, 0.0, ledger.asked_w)
    split = {priority: found[priority] * scale for priority in priorities}
    split[priorities[0]] = split[priorities[0]] + idle
    return split


def unserved_by_priority_w(ledger: Ledger) -> dict[int, FloatArray]:
    """What each priority goes without, most important first; shape (n_hour,) each, their sum is what is unserved. [W]

    First what was shed on purpose; what lacks beyond, because the battery was empty or cut off, is shared by those
    that were still on, by their size.
    """
    asked = asked_by_priority_w(ledger)
    if len(asked) == 1:
        return dict.fromkeys(asked, ledger.unserved_w)
    off = _shed(ledger, asked)
    shed_w = np.sum([asked[priority] * off[priority] for priority in asked], axis=0)
    on_w = ledger.asked_w - shed_w
    # At another voltage than half full the shed part is a little more or less: it is never more than what lacks.
    fits = np.minimum(1.0, ledger.unserved_w / np.where(shed_w > 0.0, shed_w, 1.0))
    left_w = np.maximum(ledger.unserved_w - shed_w * fits, 0.0)
    share = np.where(on_w > 1e-9, left_w / np.where(on_w > 1e-9, on_w, 1.0), 0.0)
    spare = np.where(on_w > 1e-9, 0.0, left_w / np.maximum(ledger.asked_w, 1e-12))  # nothing is on: by size again
    return {priority: asked_w * (off[priority] * fits + (1.0 - off[priority]) * share + spare)
            for priority, asked_w in asked.items()}  # fmt: skip


def _shed(ledger: Ledger, asked: dict[int, FloatArray]) -> dict[int, FloatArray]:
    """1 in hours in which a priority is shed, else 0."""
    steps = ledger.steps_shed
    found = {}
    for priority in asked:
        number = next((i for i, step in enumerate(ledger.loads.sheds, 1) if step.priority <= priority), 0)
        found[priority] = (steps >= number).astype(np.float64) if number else np.zeros(ledger.hours.n_hour)
    return found


def shortages(ledger: Ledger) -> tuple[Shortage, ...]:
    """Every priority in a mean year, most important first."""
    asked, unserved = asked_by_priority_w(ledger), unserved_by_priority_w(ledger)
    return tuple(Shortage(priority, 24.0 * float(asked[priority].mean()), 24.0 * float(unserved[priority].mean()))
                 for priority in asked)  # fmt: skip
