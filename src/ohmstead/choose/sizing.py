"""Which array with which battery keeps the goal of a site, and which of them costs least."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from ..season.lanes import DARK_H, LOWEST_WH, NOT_FULL_DAYS
from ..season.swept import MET, OPEN, VERDICTS, Swept
from ..site.kinds import Charger
from ..site.sky import Goal
from ..sun.harvest import feeds
from ..sun.hours import FloatArray, IntArray
from .sizes import PER_AH
from .worth import Stock


@dataclass(frozen=True, slots=True)
class Pick:
    """One design of a sweep; `number` is its place in it. cost: None without prices."""

    number: int
    array_w: float
    tilt_deg: float
    azimuth_deg: float
    battery_ah: float
    battery_wh: float
    off_v: float
    on_v: float
    controller_a: float
    unserved_fraction: float
    most_unserved_fraction: float
    verdict: str
    dark_h: float
    lowest_fraction: float
    longest_not_full_days: int
    spilled_fraction: float
    cost: float | None


class Sizing:
    """A sweep judged by a goal. needed: MET where the years are enough to be sure, else OPEN will do."""

    def __init__(self, swept: Swept, goal: Goal | None = None, prices: Stock | None = None) -> None:
        self.swept = swept
        self.goal = goal or swept.scene.site.goal or Goal()
        self.prices = prices

    @cached_property
    def verdict(self) -> IntArray:
        """MISSED, OPEN or MET of each design."""
        return self.swept.verdict(self.goal)

    @cached_property
    def keeps(self) -> IntArray:
        """Numbers of the designs that keep the goal: surely, or with fewer than four years in the mean."""
        least = MET if np.isfinite(self._most).any() else OPEN
        return np.flatnonzero(self.verdict >= least).astype(np.int64)

    @cached_property
    def cost(self) -> FloatArray | None:
        """Cost of each design, None without prices for both panels and battery."""
        by_size = self.prices.by_size if self.prices else {}
        if "panels" not in by_size or not {"battery", PER_AH} & by_size.keys():
            return None
        swept = self.swept
        found = swept.array_w * by_size["panels"] + swept.battery_wh * by_size.get("battery", 0.0)
        found = found + swept.battery_ah * by_size.get(PER_AH, 0.0)
        return found + self.controller_a * by_size.get("controller", 0.0)

    @cached_property
    def controller_a(self) -> FloatArray:
        """Output current of all sun controllers together: they grow with the arrays, or stay as they are."""
        scene = self.swept.scene
        now = sum(part.current_a for name in feeds(scene.site)
                  if isinstance(part := scene.site.parts[name], Charger))  # fmt: skip
        if scene.manner == "stays":
            return np.full(self.swept.offer.n_design, float(now))
        found: FloatArray = now * np.asarray(self.swept.offer.arrays)[self.swept.mixes.array]
        return found

    @cached_property
    def _most(self) -> FloatArray:
        return self.swept.most_unserved_fraction(self.goal.confidence_fraction)

    def frontier(self) -> tuple[Pick, ...]:
        """For each battery the least array that keeps the goal, its best facing; none that needs more of both."""
        swept, found, least = self.swept, [], np.inf
        if not self.keeps.size:
            return ()
        unserved = swept.unserved_fraction
        order = np.lexsort((unserved[self.keeps], swept.array_w[self.keeps], swept.battery_wh[self.keeps]))
        for number in self.keeps[order]:
            if swept.array_w[number] < least - 1e-9:
                least = float(swept.array_w[number])
                found.append(self.pick(int(number)))
        return tuple(found)

    def cheapest(self, n: int = 5) -> tuple[Pick, ...]:
        """The designs of least cost that keep the goal, cheapest first; of those that cost the same, the surest."""
        if self.cost is None:
            return ()
        cost, unserved = self.cost[self.keeps], self.swept.unserved_fraction[self.keeps]
        order = np.lexsort((unserved, cost.round(6)))
        return tuple(self.pick(int(number)) for number in self.keeps[order][:n])

    def pick(self, number: int) -> Pick:
        """One design in figures."""
        swept = self.swept
        tilt, azimuth = swept.facing_deg[number]
        off, on = swept.cut_v[number]
        return Pick(
            number=number,
            array_w=float(swept.array_w[number]),
            tilt_deg=float(tilt),
            azimuth_deg=float(azimuth),
            battery_ah=float(swept.battery_ah[number]),
            battery_wh=float(swept.battery_wh[number]),
            off_v=float(off),
            on_v=float(on),
            controller_a=float(self.controller_a[number]),
            unserved_fraction=float(swept.unserved_fraction[number]),
            most_unserved_fraction=float(self._most[number]),
            verdict=VERDICTS[self.verdict[number]],
            dark_h=float(swept.rows[DARK_H, number]) / swept.n_year,
            lowest_fraction=float(swept.rows[LOWEST_WH, number] / max(swept.battery_wh[number], 1e-12)),
            longest_not_full_days=int(swept.rows[NOT_FULL_DAYS, number]),
            spilled_fraction=float(swept.spilled_fraction[number]),
            cost=None if self.cost is None else float(self.cost[number]),
        )

    def map(self) -> tuple[FloatArray, IntArray, IntArray]:
        """For each array (rows) and battery (columns) the best facing and disconnect: unserved, verdict, number."""
        offer = self.swept.offer
        shape = (len(offer.facings), len(offer.arrays), len(offer.banks), len(offer.cuts))
        grid = self.swept.unserved_fraction.reshape(shape).transpose(1, 2, 0, 3)
        flat = grid.reshape(len(offer.arrays), len(offer.banks), -1)
        numbers = np.arange(offer.n_design).reshape(shape).transpose(1, 2, 0, 3).reshape(flat.shape)
        best = flat.argmin(axis=2)[..., None]
        chosen = np.take_along_axis(numbers, best, axis=2)[..., 0].astype(np.int64)
        return np.take_along_axis(flat, best, axis=2)[..., 0], self.verdict[chosen], chosen
