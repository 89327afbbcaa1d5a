"""The load as the battery sees it, hour by hour.

In every hour the likeliest state of each device makes one combination, solved by the network at three voltages of
the battery. States that fill only part of an hour come on top, each by what it changes at the battery when all the
rest is in its most common state. So idle draws, cable losses and converter losses are in the figures.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..network.duty import lasting
from ..site.kinds import Charger, Device
from ..site.model import Site
from ..sun.hours import FloatArray, Hours, IntArray
from .bank import Bank
from .duty import OFF, Habit, habits
from .tabulate import VOLTAGES, Tabulator
from .trouble import refuse

MOST_COMBINATIONS = 400


@dataclass(frozen=True, slots=True)
class Loads:
    """Power at the battery; load_w of shape (3, n_hour) at low, nominal and full battery. [W]

    passing_w: what is drawn past the open disconnects. volts_v: the three voltages. idle_w: with every device off.
    devices_w: mean power that arrives at the devices, the rest being lost on the way. by_device_w: mean of each.
    """

    load_w: FloatArray
    passing_w: FloatArray
    volts_v: tuple[float, float, float]
    idle_w: float
    devices_w: float
    by_device_w: dict[str, float]
    charging_loss_per_w: float
    off_v: float
    on_v: float
    n_combination: int
    notes: tuple[str, ...] = ()


def loads_of(site: Site, bank: Bank, hours: Hours) -> Loads:
    """The load of a site over some hours. Raises SeasonError when the states are too many to tabulate."""
    solver = Tabulator(site, bank)
    known, notes = habits(site, hours)
    codes, combinations = _combinations(known, hours.n_hour)
    if len(combinations) > MOST_COMBINATIONS:
        refuse(
            site,
            f"the schedules reach {len(combinations)} combinations of states",
            f"at most {MOST_COMBINATIONS}",
            "give devices that work together the same times",
        )
    table = np.array([[solver.power_w(states, volts) for states in combinations] for volts in VOLTAGES])
    counts = np.bincount(codes, minlength=len(combinations))
    usual = combinations[int(counts.argmax())] if combinations else {}
    load_w = table[:, codes] + _part_hours(solver, known, usual, hours.n_hour)
    passing_w = np.zeros(hours.n_hour)
    if solver.passing:
        passing_w = np.array([solver.power_w(states, "nominal", "open") for states in combinations])[codes]
    cuts = solver.disconnects
    means = _means_w(site, known)
    return Loads(
        load_w=np.maximum(load_w, 0.0),
        passing_w=np.maximum(passing_w, 0.0),
        volts_v=(solver.voltage_v("low"), solver.voltage_v("nominal"), solver.voltage_v("full")),
        idle_w=solver.power_w({}, "nominal"),
        devices_w=sum(means.values()),
        by_device_w=means,
        charging_loss_per_w=solver.charging_loss_per_w(),
        off_v=max((part.off_v for part in cuts), default=0.0),
        on_v=max((part.on_v for part in cuts), default=0.0),
        n_combination=len(combinations),
        notes=(*notes, *_more_notes(site, solver)),
    )


def _more_notes(site: Site, solver: Tabulator) -> list[str]:
    notes = []
    if solver.browned:
        notes.append(f"drops out at low battery, which is not counted as unserved: {', '.join(solver.browned)}")
    if solver.passing:
        notes.append(f"goes on drawing when the load is cut off: {', '.join(solver.passing)}")
    others = [p.name for p in site.parts.values() if isinstance(p, Charger) and p.supply != "sun"]
    if others:
        notes.append(f"not driven by the sun and left out: {', '.join(others)}")
    return notes


def _combinations(known: Sequence[Habit], n_hour: int) -> tuple[IntArray, list[dict[str, str]]]:
    """Which combination of likeliest states each hour has, and the combinations."""
    code = np.zeros(n_hour, dtype=np.int64)
    size = 1
    choices: list[tuple[str, list[str], IntArray]] = []
    for habit in known:
        states = list(habit.shares)
        likeliest = np.zeros(n_hour, dtype=np.int64)
        if len(states) > 1:
            likeliest = np.argmax(np.stack([habit.shares[state] for state in states]), axis=0)
            code, size = code * len(states) + likeliest, size * len(states)
            if size > 2**40:  # renumber before it overflows
                code = np.unique(code, return_inverse=True)[1].astype(np.int64)
                size = int(code.max()) + 1
        choices.append((habit.name, states, likeliest))
    _, first, codes = np.unique(code, return_index=True, return_inverse=True)
    found = []
    for hour in first:
        states_now = {name: states[int(which[hour])] for name, states, which in choices}
        found.append({name: state for name, state in states_now.items() if state != OFF})
    return codes.astype(np.int64), found


def _part_hours(solver: Tabulator, known: Sequence[Habit], usual: dict[str, str], n_hour: int) -> FloatArray:
    """What states that fill only part of an hour add to, or take from, the likeliest combination; shape (n_hour,)."""
    added = np.zeros(n_hour)
    for habit in known:
        if len(habit.shares) < 2:
            continue
        shares = np.stack(list(habit.shares.values()))
        likeliest = shares.argmax(axis=0)
        if bool((np.take_along_axis(shares, likeliest[None], 0) > 1.0 - 1e-9).all()):
            continue
        worth = np.array([_worth_w(solver, usual, habit.name, state) for state in habit.shares])
        added += (shares * worth[:, None]).sum(axis=0) - worth[likeliest]
    return added


def _worth_w(solver: Tabulator, usual: dict[str, str], name: str, state: str) -> float:
    """Power at the battery with one device in a state and the rest as usual. [W]"""
    states = {other: kept for other, kept in usual.items() if other != name}
    return solver.power_w(states if state == OFF else {**states, name: state}, "nominal")


def _means_w(site: Site, known: Sequence[Habit]) -> dict[str, float]:
    """Mean power at each device. [W]"""
    found = {}
    for habit in known:
        part = site.parts[habit.name]
        assert isinstance(part, Device)
        power = {draw.state: draw.power_w.nominal for draw in lasting(part)}
        found[habit.name] = sum(power.get(state, 0.0) * float(share.mean()) for state, share in habit.shares.items())
    return found
