"""What must be switched off to come through the worst week with what there is."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from ..network.operate import with_settled_air
from ..site.model import Site
from ..sun.hours import FloatArray
from .choices import Option, load_with, options_of
from .duty import OFF
from .kernel import STATE, UNSERVED, Drive, Rules, run
from .least import PROVEN, Choice, least_loss
from .ledger import Ledger
from .reckon import drive_of
from .spread import EPS_WH, FULL_FRACTION

WEEK_DAYS = 7
DAY_H = 24
TOLD_WH = 1e-3  # less than this in the whole stretch is rounding
REPAIRS = 6  # how often the search is asked for a little more when the network's own figures fall short
MARGIN = 0.01


@dataclass(frozen=True, slots=True)
class Stretch:
    """From the last hour with a full battery before the worst week to the end of that week; hours of the ledger."""

    first: int
    week: int
    last: int

    @property
    def days(self) -> float:
        """Its length."""
        return (self.last - self.first) / DAY_H


@dataclass(frozen=True, slots=True)
class Measure:
    """One thing to do: a device off, or held in a state. Energies of the whole stretch. [Wh]"""

    device: str
    state: str
    priority: int
    kept_back_wh: float
    saved_wh: float


@dataclass(frozen=True, slots=True)
class Survival:
    """What to switch off. verdict: "nothing" to do, "possible", or "impossible" even with all off.

    lacking_wh, left_wh: unserved in the stretch before and with the measures, reckoned again hour by hour with the
    network solved for what is left on. anyway: what goes though something less important stays on: it would lack even
    with all of that off. lowest: state before and after. how: "least" or "least by energy".
    """

    verdict: str
    stretch: Stretch
    measures: tuple[Measure, ...]
    kept: tuple[str, ...]
    anyway: tuple[str, ...]
    lacking_wh: float
    left_wh: float
    lowest_before_fraction: float
    lowest_fraction: float
    how: str


def survive(site: Site, ledger: Ledger, n_day: int = WEEK_DAYS) -> Survival:
    """The least that has to go for nothing else to lack from the last full charge to the end of the worst days."""
    site, _ = with_settled_air(site)
    stretch = worst_stretch(ledger, n_day)
    whole = drive_of(ledger.bank, ledger.loads, ledger.harvest_w, ledger.cells_c)
    piece = _cut(whole, stretch)
    rules = _rules(ledger, stretch)
    before = run(piece, rules)
    options = tuple(_option_cut(option, stretch) for option in options_of(site, ledger.bank, ledger.hours))
    lacking = float(before[UNSERVED].sum())
    if lacking <= TOLD_WH:
        return _told("nothing", (), options, stretch, (before, before), rules, PROVEN)
    hours = slice(stretch.first, stretch.last)
    as_is = load_with(site, ledger.bank, ledger.hours, ())[:, hours]
    all_off = tuple(option for option in options if option.state == OFF)
    for repair in range(REPAIRS):

        def enough(chosen: Choice, margin: float = repair * MARGIN) -> bool:
            return _enough(piece, rules, chosen, margin)

        found, how = least_loss(options, enough)
        chosen = all_off if found is None else found
        spared = as_is - load_with(site, ledger.bank, ledger.hours, chosen)[:, hours]
        after = run(_less(piece, spared), rules)
        possible = float(after[UNSERVED].sum()) <= TOLD_WH
        if possible or found is None:
            break
    return _told("possible" if possible else "impossible", chosen, options, stretch, (before, after), rules, how)


def worst_stretch(ledger: Ledger, n_day: int = WEEK_DAYS) -> Stretch:
    """The days in a row with most unserved - where nothing lacks, with the lowest battery - and what leads there."""
    unserved = ledger.unserved_w.reshape(-1, DAY_H).sum(axis=1)
    lacking = np.convolve(unserved, np.ones(n_day), mode="valid")
    if float(lacking.max()) > EPS_WH:
        week = int(lacking.argmax())
    else:
        lowest = ledger.state_fraction.reshape(-1, DAY_H).min(axis=1)
        runs = np.lib.stride_tricks.sliding_window_view(lowest, n_day)
        week = int((runs.min(axis=1) + 1e-3 * runs.mean(axis=1)).argmin())
    full = np.flatnonzero(ledger.state_fraction[: week * DAY_H] >= FULL_FRACTION)
    first = int(full[-1]) + 1 if full.size else 0
    return Stretch(first, week * DAY_H, (week + n_day) * DAY_H)


def _cut(drive: Drive, stretch: Stretch) -> Drive:
    """The series of the stretch; thresholds of priorities are left out, since people switch now."""
    hours = slice(stretch.first, stretch.last)
    return replace(
        drive,
        harvest_w=drive.harvest_w[hours],
        load_w=drive.load_w[:, hours],
        passing_w=drive.passing_w[hours],
        loss_per_w=drive.loss_per_w[hours],
        charge_most_w=drive.charge_most_w[hours],
        least_wh=None if drive.least_wh is None else drive.least_wh[hours],
        reduced_w=None,
    )


def _rules(ledger: Ledger, stretch: Stretch) -> Rules:
    start = ledger.rules.start_wh if stretch.first == 0 else float(ledger.state_wh[stretch.first - 1])
    return replace(ledger.rules, start_wh=start, sheds=())


def _option_cut(option: Option, stretch: Stretch) -> Option:
    hours = slice(stretch.first, stretch.last)
    return replace(option, saved_w=option.saved_w[hours], kept_back_w=option.kept_back_w[hours])


def _enough(piece: Drive, rules: Rules, chosen: Choice, margin: float) -> bool:
    """Does nothing lack when each option saves what it alone would, less a margin?"""
    saved: FloatArray = np.zeros(piece.harvest_w.size)
    for option in chosen:
        saved = saved + option.saved_w
    return float(run(_less(piece, (1.0 - margin) * saved), rules)[UNSERVED].sum()) <= TOLD_WH


def _less(piece: Drive, saved_w: FloatArray) -> Drive:
    """The stretch with so much less load, the same at each voltage of the battery or row by row."""
    load_w = np.maximum(piece.load_w - saved_w, 0.0)
    return replace(piece, load_w=load_w, passing_w=np.minimum(piece.passing_w, load_w.min(axis=0)))


def _told(verdict: str, chosen: Choice, options: Sequence[Option], stretch: Stretch,
          rows: tuple[FloatArray, FloatArray], rules: Rules, how: str) -> Survival:  # fmt: skip
    before, after = rows
    measures = tuple(Measure(o.device, o.state, o.priority, float(o.kept_back_w.sum()), float(o.saved_w.sum()))
                     for o in sorted(chosen, key=lambda o: (-o.priority, -float(o.saved_w.sum()))))  # fmt: skip
    gone = {option.device for option in chosen}
    stays = {option.device: option.priority for option in options if option.device not in gone}
    least = max(stays.values(), default=0)
    anyway = tuple(one.device for one in measures if one.priority < least)
    full = max(rules.full_wh, 1e-9)
    return Survival(
        verdict, stretch, measures, tuple(stays), anyway, float(before[UNSERVED].sum()), float(after[UNSERVED].sum()),
        float(before[STATE].min()) / full, float(after[STATE].min()) / full, how,
    )  # fmt: skip
