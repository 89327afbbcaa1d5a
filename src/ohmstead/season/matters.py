"""Which change matters most: everything that is guessed or can be bought, a tenth better and a tenth worse."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

import numpy as np

from ..network.operate import with_settled_air
from ..site.model import Site
from ..sun.harvest import Harvest, harvest_w
from ..sun.hours import FloatArray
from ..sun.weather import holds_series
from .choices import options_of
from .kernel import STATE, UNSERVED, Drive, Rules, run
from .ledger import Ledger
from .reckon import delivered_w, drive_of, rules_of

TENTH = 0.1
Run = tuple[Drive, Rules]


@dataclass(frozen=True, slots=True)
class Turn:
    """One thing turned by a tenth. `better` and `worse` say in words which way is which."""

    name: str
    better: str
    worse: str
    unserved_better_fraction: float
    unserved_worse_fraction: float
    lowest_better_fraction: float
    lowest_worse_fraction: float


@dataclass(frozen=True, slots=True)
class Matters:
    """The season as it stands, and every turn, what moves it most first."""

    unserved_fraction: float
    lowest_fraction: float
    turns: tuple[Turn, ...]


@dataclass(frozen=True, slots=True)
class Case:
    """A season that can be run again with one thing changed."""

    site: Site
    ledger: Ledger
    harvest: Harvest | None
    drive: Drive
    rules: Rules

    def with_sun(self, harvest: Harvest) -> Run:
        """The same load and bank with another harvest."""
        brought_w, _ = delivered_w(self.site, harvest, self.ledger.bank, self.ledger.hours.n_hour)
        brought_w = np.maximum(brought_w - self.ledger.loads.charging_loss_per_w * brought_w**2, 0.0)
        return replace(self.drive, harvest_w=brought_w), self.rules

    def with_load(self, added_w: FloatArray | float) -> Run:
        """The same sun and bank with so much more load."""
        load_w = np.maximum(self.drive.load_w + added_w, 0.0)
        return replace(
            self.drive, load_w=load_w, passing_w=np.minimum(self.drive.passing_w, load_w.min(axis=0))
        ), self.rules

    def with_bank(self, factor: float) -> Run:
        """The same sun and load with a larger or smaller battery."""
        bank, loads = self.ledger.bank.times(factor), self.ledger.loads
        start = self.rules.start_wh / max(self.rules.full_wh, 1e-12)
        return drive_of(bank, loads, self.drive.harvest_w, self.ledger.cells_c), rules_of(bank, loads, start)


def matters(site: Site, ledger: Ledger) -> Matters:
    """Every turn of a season, what moves the unserved energy most first, then what moves the lowest state most.

    The harvest is reckoned again for arrays, dirt and trees; a series that the weather file gives is only scaled. A
    load is turned by what it takes at the battery while the rest is as usual.
    """
    site, _ = with_settled_air(site)
    harvest = None if holds_series(site) else harvest_w(site, ledger.hours)
    drive = drive_of(ledger.bank, ledger.loads, ledger.harvest_w, ledger.cells_c)
    case = Case(site, ledger, harvest, drive, ledger.rules)
    turns = [_turn(case, *one) for one in _all_turns(case)]
    base, lowest = _result(case, (drive, ledger.rules))

    def moved(turn: Turn) -> tuple[float, float]:
        unserved = max(abs(turn.unserved_better_fraction - base), abs(turn.unserved_worse_fraction - base))
        state = max(abs(turn.lowest_better_fraction - lowest), abs(turn.lowest_worse_fraction - lowest))
        return round(unserved, 9), state

    return Matters(base, lowest, tuple(sorted(turns, key=moved, reverse=True)))


Turning = tuple[str, str, str, Callable[[float], Run]]


def _all_turns(case: Case) -> Iterator[Turning]:
    """Name, what is better, what is worse, and the run with a factor on it; a factor above 1 is better."""
    yield "battery", "+10 %", "-10 %", case.with_bank
    if case.harvest is not None:
        yield from _of_the_sun(case, case.harvest)
    else:
        yield (
            "harvest",
            "+10 %",
            "-10 %",
            lambda f: (replace(case.drive, harvest_w=f * case.drive.harvest_w), case.rules),
        )
    for option in options_of(case.site, case.ledger.bank, case.ledger.hours):
        if option.state == "":
            yield option.device, "-10 %", "+10 %", lambda f, w=option.saved_w: case.with_load((1.0 - f) * w)  # type: ignore[misc]
    idle_w = case.ledger.loads.idle_w
    if idle_w > 0.0:
        yield "idle draws", "-10 %", "+10 %", lambda f: case.with_load((1.0 - f) * idle_w)


def _of_the_sun(case: Case, harvest: Harvest) -> Iterator[Turning]:
    site, hours = case.site, case.ledger.hours
    for name in site.arrays:
        yield name, "+10 %", "-10 %", lambda f, name=name: case.with_sun(_scaled(harvest, {name: f}))  # type: ignore[misc]
    if len(site.arrays) > 1:
        every = dict.fromkeys(site.arrays)
        yield "all arrays", "+10 %", "-10 %", lambda f: case.with_sun(_scaled(harvest, dict.fromkeys(every, f)))
    for name, array in site.arrays.items():
        if any(array.soiling_fraction):

            def cleaner(f: float, name: str = name) -> Run:
                array = site.arrays[name]
                soiling = tuple(min(1.0, share * (2.0 - f)) for share in array.soiling_fraction)
                changed = replace(site, arrays={**site.arrays, name: replace(array, soiling_fraction=soiling)})
                return case.with_sun(harvest_w(changed, hours))

            yield f"dirt on {name}", "-10 %", "+10 %", cleaner
    for name, obstacle in site.obstacles.items():
        if obstacle.shape == "tree":

            def thinner(f: float, name: str = name) -> Run:
                tree = site.obstacles[name]
                changed = replace(tree, summer_fraction=min(1.0, f * tree.summer_fraction),
                                  winter_fraction=min(1.0, f * tree.winter_fraction))  # fmt: skip
                return case.with_sun(harvest_w(replace(site, obstacles={**site.obstacles, name: changed}), hours))

            yield f"light through {name}", "+10 %", "-10 %", thinner


def _scaled(harvest: Harvest, factors: dict[str, float]) -> Harvest:
    """The harvest with some arrays larger."""
    powers = {name: factors.get(name, 1.0) * power for name, power in harvest.by_array_w.items()}
    currents = {name: factors.get(name, 1.0) * current for name, current in harvest.by_array_a.items()}
    return replace(harvest, by_array_w=powers, by_array_a=currents)


def _turn(case: Case, name: str, better: str, worse: str, turned: Callable[[float], Run]) -> Turn:
    up, down = (_result(case, turned(factor)) for factor in (1.0 + TENTH, 1.0 - TENTH))
    return Turn(name, better, worse, up[0], down[0], up[1], down[1])


def _result(case: Case, turned: Run) -> tuple[float, float]:
    """Unserved share of what is asked, and lowest state."""
    drive, rules = turned
    rows = run(drive, rules)
    asked = float(rows[UNSERVED].sum() + rows[0].sum())
    lowest = float(rows[STATE].min()) / rules.full_wh if rules.full_wh > 0.0 else 0.0
    return (float(rows[UNSERVED].sum()) / asked if asked > 0.0 else 0.0), lowest
