"""The load as the battery sees it, hour by hour.

In every hour the likeliest state of each device makes one combination, solved by the network at three voltages of
the battery. States that fill only part of an hour come on top, each by what it changes at the battery when all the
rest is in its most common state. So idle draws, cable losses and converter losses are in the figures.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from ..network.duty import lasting
from ..site.kinds import Charger, Device
from ..site.model import Site
from ..site.pieces import ShedStep
from ..sun.hours import FloatArray, Hours, IntArray
from .backup import IDLE_SHARE, Backup, backup_of
from .bank import Bank
from .duty import OFF, Habit, habits
from .tabulate import VOLTAGES, Tabulator, sun_chargers
from .trouble import refuse

MOST_COMBINATIONS = 400


@dataclass(frozen=True, slots=True)
class Rank:
    """A priority and what falls off the load when it and all less important ones are off; saved_w (3, n_hour). [W]"""

    priority: int
    saved_w: FloatArray


@dataclass(frozen=True, slots=True)
class Loads:
    """Power at the battery; load_w of shape (3, n_hour) at low, nominal and full battery. [W]

    passing_w: what is drawn past the open disconnects. volts_v: the three voltages. idle_w: with every device off.
    devices_w: mean power that arrives at the devices, the rest being lost on the way. by_device_w: mean of each.
    ranks: of the priorities that have a threshold, least important first. sheds: where they go off. by_priority_w: at
    the devices, hour by hour, most important first.
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
    ranks: tuple[Rank, ...] = ()
    sheds: tuple[ShedStep, ...] = ()
    backup: Backup | None = None
    by_priority_w: Mapping[int, FloatArray] = field(default_factory=dict)

    def saved_w(self, priority: int) -> FloatArray:
        """What falls off when this priority and all less important ones are off; (3, n_hour). [W]"""
        ranks = [rank.saved_w for rank in self.ranks if rank.priority >= priority]
        return ranks[-1] if ranks else np.zeros_like(self.load_w)


def loads_of(site: Site, bank: Bank, hours: Hours) -> Loads:
    """The load of a site over some hours. Raises SeasonError when the states are too many to tabulate."""
    solver = Tabulator(site, bank)
    known, notes = habits(site, hours)
    codes, combinations = _combinations(known, hours.n_hour)
    load_w = _asked_w(solver, known, codes, combinations)
    passing_w = np.zeros(hours.n_hour)
    if solver.passing:
        passing_w = np.array([solver.power_w(states, "nominal", "open") for states in combinations])[codes]
    cuts = solver.disconnects
    means = _means_w(site, known)
    sheds = site.goal.shed if site.goal is not None else ()
    return Loads(
        load_w=load_w,
        passing_w=np.maximum(passing_w, 0.0),
        volts_v=(solver.voltage_v("low"), solver.voltage_v("nominal"), solver.voltage_v("full")),
        idle_w=max(0.0, round(solver.power_w({}, "nominal"), 6)),  # what the solver leaves of nothing is nothing
        devices_w=sum(means.values()),
        by_device_w=means,
        charging_loss_per_w=solver.charging_loss_per_w(*sun_chargers(site)),
        off_v=max((part.off_v for part in cuts), default=0.0),
        on_v=max((part.on_v for part in cuts), default=0.0),
        n_combination=len(combinations),
        notes=(*notes, *_more_notes(site, solver)),
        ranks=_ranks(solver, known, load_w, [step.priority for step in sheds]),
        sheds=sheds,
        backup=backup_of(site, bank, solver.charging_loss_per_w),
        by_priority_w=_at_devices(site, known, hours.n_hour),
    )


def priority_of(site: Site, name: str) -> int:
    """Priority of a device; 1, the last to go, when the file says nothing."""
    return getattr(site.parts[name], "priority", None) or 1


def asked_w(solver: Tabulator, known: Sequence[Habit], n_hour: int) -> FloatArray:
    """Power at the battery at its three voltages, hour by hour; shape (3, n_hour). [W]

    Raises SeasonError when the states are too many to tabulate.
    """
    return _asked_w(solver, known, *_combinations(known, n_hour))


def usual_states(known: Sequence[Habit], n_hour: int) -> dict[str, str]:
    """The combination of states that most hours have; devices that are off are not in it."""
    codes, combinations = _combinations(known, n_hour)
    return combinations[int(np.bincount(codes, minlength=len(combinations)).argmax())] if combinations else {}


def _asked_w(solver: Tabulator, known: Sequence[Habit], codes: IntArray, combinations: list[dict[str, str]],
             ) -> FloatArray:  # fmt: skip
    if len(combinations) > MOST_COMBINATIONS:
        refuse(
            solver.site,
            f"the schedules reach {len(combinations)} combinations of states",
            f"at most {MOST_COMBINATIONS}",
            "give devices that work together the same times",
        )
    table = np.array([[solver.power_w(states, volts) for states in combinations] for volts in VOLTAGES])
    counts = np.bincount(codes, minlength=len(combinations))
    usual = combinations[int(counts.argmax())] if combinations else {}
    found: FloatArray = np.maximum(table[:, codes] + _part_hours(solver, known, usual, codes.size), 0.0)
    return found


def _ranks(solver: Tabulator, known: Sequence[Habit], load_w: FloatArray, asked: Sequence[int]) -> tuple[Rank, ...]:
    """What falls off at each priority that has a threshold, least important first."""
    found: list[Rank] = []
    saved_w = np.zeros_like(load_w)
    for priority in sorted(set(asked), reverse=True):
        kept = [habit for habit in known if priority_of(solver.site, habit.name) < priority]
        rest_w = asked_w(solver, kept, load_w.shape[1])
        saved_w = np.clip(load_w - rest_w, saved_w, load_w)
        found.append(Rank(priority, saved_w))
    return tuple(found)


def _at_devices(site: Site, known: Sequence[Habit], n_hour: int) -> dict[int, FloatArray]:
    """Power that arrives at the devices of each priority, most important first; shape (n_hour,). [W]"""
    found: dict[int, FloatArray] = {}
    for habit in known:
        part = site.parts[habit.name]
        assert isinstance(part, Device)
        power = {draw.state: draw.power_w.nominal for draw in lasting(part)}
        taken = sum((power.get(state, 0.0) * share for state, share in habit.shares.items()), np.zeros(n_hour))
        priority = priority_of(site, habit.name)
        found[priority] = found.get(priority, np.zeros(n_hour)) + taken
    return dict(sorted(found.items()))


def _more_notes(site: Site, solver: Tabulator) -> list[str]:
    notes = []
    if solver.browned:
        notes.append(f"drops out at low battery, which is not counted as unserved: {', '.join(solver.browned)}")
    if solver.passing:
        notes.append(f"goes on drawing when the load is cut off: {', '.join(solver.passing)}")
    sets = [part for part in site.parts.values() if isinstance(part, Charger) and part.starts_at is not None]
    if any(part.fuel_l_per_h is not None and part.idle_fuel_l_per_h is None for part in sets):
        notes.append(f"idle fuel not stated: taken as {IDLE_SHARE:.0%} of fuel".replace("%", " %"))
    others = [part.name for part in site.parts.values()
              if isinstance(part, Charger) and part.supply != "sun" and part.starts_at is None]  # fmt: skip
    if others:
        notes.append(f"not driven by the sun, never told to start, and left out: {', '.join(others)}")
    return notes


def _combinations(known: Sequence[Habit], n_hour: int) -> tuple[IntArray, list[dict[str, str]]]:
    """Which combination of likeliest states each hour has, and the combinations."""
    code = np.zeros(n_hour, dtype=np.int64)
    size = 1
    choices: list[tuple[str, list[str], IntArray]] = []
    for habit in known:
        states = list(habit.shares)
        likeliest = np.zeros(n_hour, dtype=np.int64)
        if habit.manner == "loose":
            likeliest[:] = _commonest(habit)
        elif len(states) > 1:
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
        loose = habit.manner == "loose"
        likeliest = np.full(n_hour, _commonest(habit)) if loose else shares.argmax(axis=0)
        if bool((np.take_along_axis(shares, likeliest[None], 0) > 1.0 - 1e-9).all()):
            continue
        worth = np.array([worth_w(solver, usual, habit.name, state) for state in habit.shares])
        added += (shares * worth[:, None]).sum(axis=0) - worth[likeliest]
    return added


def _commonest(habit: Habit) -> int:
    """Which of its states a device is in most of the time."""
    return int(np.argmax([float(share.mean()) for share in habit.shares.values()]))


def worth_w(solver: Tabulator, usual: dict[str, str], name: str, state: str) -> float:
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
