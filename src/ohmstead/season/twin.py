"""The same hour as `kernel.py`, step by step in plain words: slow, and what the compiled form is held against."""

from dataclasses import dataclass

import numpy as np

from ..storage.kinetic import Standing as Held
from ..storage.kinetic import TwoWells, after, full, most_charge_a, most_discharge_a
from ..sun.hours import FloatArray
from .flow import SLACK
from .kernel import Drive, Rules


@dataclass(slots=True)
class Standing:
    """How the bank stands between two hours."""

    held: Held  # Wh at hand and bound
    connected: str  # "yes" | "no"
    shed: int = 0  # steps of shedding
    runs_h: float | None = None  # how long the back-up has run

    @property
    def state_wh(self) -> float:
        """Both wells."""
        return self.held.available_ah + self.held.bound_ah


def run_plainly(drive: Drive, rules: Rules) -> FloatArray:
    """What `kernel.run` gives, hour by hour."""
    cuts = rules.cut_wh > rules.floor_wh
    start = full(TwoWells(rules.available_fraction, rules.exchange_per_h, rules.start_wh))
    bank = Standing(start, "yes" if not cuts or rules.start_wh > rules.cut_wh else "no")
    while bank.shed < len(rules.sheds) and rules.start_wh <= rules.sheds[bank.shed][0]:
        bank.shed += 1
    if rules.backup is not None and rules.start_wh <= rules.backup.start_wh:
        bank.runs_h = 0.0
    rows = [_hour(drive, rules, bank, hour) for hour in range(drive.harvest_w.size)]
    return np.array(rows).T


def _hour(drive: Drive, rules: Rules, bank: Standing, hour: int) -> tuple[float, ...]:
    """One hour; `bank` moves on."""
    before, was = bank.held, bank.connected
    wells = TwoWells(rules.available_fraction, rules.exchange_per_h, rules.full_wh)
    asked, offered = (_asked_w(drive, rules, bank, hour, shed) for shed in (0, bank.shed))
    wanted = offered if was == "yes" else min(offered, float(drive.passing_w[hour]))
    sun, k = float(drive.harvest_w[hour]), _loss_per_w(drive, rules, bank, hour)
    made = rules.backup.power_w if rules.backup is not None and bank.runs_h is not None else 0.0
    harvest = sun + made
    ledger = (float(bank.shed), made, 0.0 if bank.runs_h is None else 1.0)
    if harvest >= wanted:
        entering = _inside_charging(harvest - wanted, k)
        room = most_charge_a(wells, before, 1.0) * rules.accepted_fraction / (1 - rules.passed_fraction)
        taken = max(0.0, min(entering, float(drive.charge_most_w[hour]), room))
        surplus = harvest - wanted - (taken + k * taken**2) if taken < entering else 0.0
        unmade = min(surplus, made)
        spilled = surplus - unmade
        ledger = (ledger[0], made - unmade, ledger[2])
        lost, served = k * taken**2 + rules.passed_fraction * taken, wanted
        bank.held = after(wells, before, -taken * (1 - rules.passed_fraction), 1.0)
        emptied = "no"
    else:
        low = rules.cut_wh if was == "yes" else rules.floor_wh
        if drive.least_wh is not None:
            low = max(low, float(drive.least_wh[hour]))
        needed = _inside_discharging(wanted - harvest, k)
        kept_back = full(TwoWells(rules.available_fraction, rules.exchange_per_h, low))
        above = Held(before.available_ah - kept_back.available_ah, before.bound_ah - kept_back.bound_ah)
        left = most_discharge_a(wells, above, 1.0)
        given = min(needed, left, rules.discharge_w, 0.5 / k if k > 0 else float("inf"))
        served = wanted if given == needed else harvest + given - k * given**2
        spilled, lost = 0.0, k * given**2
        bank.held = after(wells, before, given, 1.0)
        emptied = "yes" if needed > left else "no"
    resting, stays = bank.state_wh * rules.rested_fraction, 1 - rules.rested_fraction
    bank.held = Held(bank.held.available_ah * stays, bank.held.bound_ah * stays)
    _switch(rules, bank, emptied)
    _start_and_stop(rules, bank, emptied)
    _shed(rules, bank)
    standing = (bank.state_wh, 1.0 if was == "yes" else 0.0, bank.held.available_ah)
    return served, asked - served, spilled, lost + resting, *standing, *ledger


def _level_wh(rules: Rules, bank: Standing) -> float:
    """State at which a rested bank would show the voltage that this one shows."""
    return bank.held.available_ah / rules.available_fraction


def _asked_w(drive: Drive, rules: Rules, bank: Standing, hour: int, shed: int) -> float:
    """What the load asks for at the voltage the bank stands at, after some steps of shedding. [W]"""
    place = float(drive.place[_point(drive, rules, bank)])
    load_w = drive.load_w if shed == 0 or drive.reduced_w is None else drive.reduced_w[shed - 1]
    return float(np.interp(place, [0.0, 1.0, 2.0], load_w[:, hour]))


def _point(drive: Drive, rules: Rules, bank: Standing) -> int:
    """Where in the tables over the state the bank stands."""
    share = _level_wh(rules, bank) / rules.full_wh if rules.full_wh > 0 else 0.0
    return int(share * (drive.place.size - 1) + SLACK)


def _loss_per_w(drive: Drive, rules: Rules, bank: Standing, hour: int) -> float:
    """Loss over the square of the power inside, at the bank's temperature and state. [1/W]"""
    thick = 1.0 if drive.thick is None else float(drive.thick[_point(drive, rules, bank)])
    return float(drive.loss_per_w[hour]) * thick


def _inside_charging(power_w: float, k: float) -> float:
    """Power that enters the cells when so much reaches the terminals: x + k·x² = P. [W]"""
    return power_w if k == 0 or power_w == 0 else ((1 + 4 * k * power_w) ** 0.5 - 1) / (2 * k)


def _inside_discharging(power_w: float, k: float) -> float:
    """Power the cells give for so much at the terminals: x - k·x² = P; more than there is when none does it. [W]"""
    if 4 * k * power_w >= 1:
        return float("inf")
    return power_w if k == 0 else (1 - (1 - 4 * k * power_w) ** 0.5) / (2 * k)


def _switch(rules: Rules, bank: Standing, emptied: str) -> None:
    """What the low-voltage disconnect does before the next hour."""
    if bank.connected == "no":
        bank.connected = "yes" if _level_wh(rules, bank) >= rules.back_wh * (1 - SLACK) else "no"
    elif rules.cut_wh > rules.floor_wh and (emptied == "yes" or _level_wh(rules, bank) <= rules.cut_wh * (1 + SLACK)):
        bank.connected = "no"


def _start_and_stop(rules: Rules, bank: Standing, emptied: str) -> None:
    """What the back-up source does before the next hour."""
    if rules.backup is None or rules.backup.power_w <= 0:
        return
    level = _level_wh(rules, bank)
    if bank.runs_h is not None:
        bank.runs_h += 1.0
        if bank.runs_h >= rules.backup.least_h and level >= rules.backup.stop_wh:
            bank.runs_h = None
    elif emptied == "yes" or level <= rules.backup.start_wh:
        bank.runs_h = 0.0


def _shed(rules: Rules, bank: Standing) -> None:
    """Which priorities are shed in the next hour: more of them, or else fewer."""
    level, before = _level_wh(rules, bank), bank.shed
    while bank.shed < len(rules.sheds) and level <= rules.sheds[bank.shed][0] * (1 + SLACK):
        bank.shed += 1
    if bank.shed == before:
        while bank.shed > 0 and level >= rules.sheds[bank.shed - 1][1] * (1 - SLACK):
            bank.shed -= 1
