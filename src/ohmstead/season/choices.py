"""What a device may be told to do less of, and what that saves at the battery in every hour."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from ..network.duty import lasting, lightest
from ..site.kinds import Device
from ..site.model import Site
from ..sun.hours import FloatArray, Hours
from .bank import Bank
from .duty import OFF, Habit, habits
from .loads import asked_w, priority_of, usual_states, worth_w
from .tabulate import Tabulator

AS_GOOD_AS_OFF = 0.8  # held in a state that saves more than this share of being off, a device is of no use either


@dataclass(frozen=True, slots=True)
class Option:
    """One device off, or held in its lightest state. state: OFF or the state held.

    saved_w: at the battery, shape (n_hour,). kept_back_w: what does not reach the device, shape (n_hour,). [W]
    """

    device: str
    state: str
    priority: int
    saved_w: FloatArray
    kept_back_w: FloatArray

    @property
    def loss(self) -> float:
        """How much of its use is lost: all of it, or half when it is only held."""
        return 1.0 if self.state == OFF else 0.5


def options_of(site: Site, bank: Bank, hours: Hours) -> tuple[Option, ...]:
    """Every device off and, where it has a lighter state that it does not keep all the time, held in that."""
    solver = Tabulator(site, bank)
    known, _ = habits(site, hours)
    usual = usual_states(known, hours.n_hour)
    found: list[Option] = []
    for habit in known:
        part = site.parts[habit.name]
        assert isinstance(part, Device)
        power = {draw.state: draw.power_w.nominal for draw in lasting(part)} | {OFF: 0.0}
        worth = {
            state: worth_w(solver, usual, habit.name, state) for state in {*habit.shares, lightest(part).state, OFF}
        }
        made = [Option(habit.name, state, priority_of(site, habit.name), _over(habit.shares, worth, state),
                       _over(habit.shares, power, state)) for state in (OFF, lightest(part).state)]  # fmt: skip
        off, held = made
        if float(off.saved_w.sum()) > 0.0:
            found.append(off)
            if 0.0 < float(held.saved_w.sum()) < AS_GOOD_AS_OFF * float(off.saved_w.sum()):
                found.append(held)
    return tuple(found)


def _over(shares: Mapping[str, FloatArray], power: Mapping[str, float], state: str) -> FloatArray:
    """Power hour by hour less that of one state held all the time."""
    total = np.sum([share * (power.get(other, 0.0) - power[state]) for other, share in shares.items()], axis=0)
    found: FloatArray = np.asarray(total, dtype=np.float64)
    return found


def load_with(site: Site, bank: Bank, hours: Hours, chosen: Sequence[Option]) -> FloatArray:
    """The load at the battery with some options taken, solved by the network again; shape (3, n_hour). [W]"""
    states = {option.device: option.state for option in chosen}
    known, _ = habits(site, hours)
    kept = [_held(habit, states) for habit in known if states.get(habit.name) != OFF]
    return asked_w(Tabulator(site, bank), kept, hours.n_hour)


def _held(habit: Habit, states: Mapping[str, str]) -> Habit:
    if habit.name not in states:
        return habit
    whole = np.ones_like(next(iter(habit.shares.values())))
    return replace(habit, shares={states[habit.name]: whole}, manner="set")
