"""The same hour as `kernel.py`, step by step in plain words: slow, and what the compiled form is held against."""

from dataclasses import dataclass

import numpy as np

from ..sun.hours import FloatArray
from .kernel import Drive, Rules


@dataclass(slots=True)
class Standing:
    """How the bank stands between two hours."""

    state_wh: float
    connected: str  # "yes" | "no"


def run_plainly(drive: Drive, rules: Rules) -> FloatArray:
    """What `kernel.run` gives, hour by hour."""
    cuts = rules.cut_wh > rules.floor_wh
    bank = Standing(rules.start_wh, "yes" if not cuts or rules.start_wh > rules.cut_wh else "no")
    rows = [_hour(drive, rules, bank, hour) for hour in range(drive.harvest_w.size)]
    return np.array(rows).T


def _hour(drive: Drive, rules: Rules, bank: Standing, hour: int) -> tuple[float, ...]:
    """One hour; `bank` moves on."""
    before, was = bank.state_wh, bank.connected
    asked = _asked_w(drive, rules, bank, hour)
    wanted = asked if was == "yes" else min(asked, float(drive.passing_w[hour]))
    harvest, k = float(drive.harvest_w[hour]), float(drive.loss_per_w[hour])
    if harvest >= wanted:
        entering = _inside_charging(harvest - wanted, k)
        room = (rules.full_wh - before) * rules.accepted_fraction / (1 - rules.passed_fraction)
        taken = max(0.0, min(entering, float(drive.charge_most_w[hour]), room))
        spilled = harvest - wanted - (taken + k * taken**2) if taken < entering else 0.0
        lost, served = k * taken**2 + rules.passed_fraction * taken, wanted
        bank.state_wh = before + taken * (1 - rules.passed_fraction)
        emptied = "no"
    else:
        low = rules.cut_wh if was == "yes" else rules.floor_wh
        needed = _inside_discharging(wanted - harvest, k)
        left = max(0.0, before - low)
        given = min(needed, left, rules.discharge_w, 0.5 / k if k > 0 else float("inf"))
        served = wanted if given == needed else harvest + given - k * given**2
        spilled, lost = 0.0, k * given**2
        bank.state_wh = before - given
        emptied = "yes" if needed > left else "no"
    resting = bank.state_wh * rules.rested_fraction
    bank.state_wh -= resting
    _switch(rules, bank, emptied)
    return served, asked - served, spilled, lost + resting, bank.state_wh, 1.0 if was == "yes" else 0.0


def _asked_w(drive: Drive, rules: Rules, bank: Standing, hour: int) -> float:
    """What the load asks for at the voltage the bank stands at. [W]"""
    share = bank.state_wh / rules.full_wh if rules.full_wh > 0 else 0.0
    place = float(drive.place[int(share * (drive.place.size - 1))])
    return float(np.interp(place, [0.0, 1.0, 2.0], drive.load_w[:, hour]))


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
        bank.connected = "yes" if bank.state_wh >= rules.back_wh else "no"
    elif rules.cut_wh > rules.floor_wh and (emptied == "yes" or bank.state_wh <= rules.cut_wh):
        bank.connected = "no"
