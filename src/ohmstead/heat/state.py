"""The state of a box while it is reckoned: room for what is found, settling, and going on by seconds."""

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from .around import Around
from .box import Box
from .hours import copied, fill, renew, settle
from .kernel import B_CONTROL, B_OFF, B_ON, GAMMA
from .passage import FELT, HUNTS, LAST, ON, SWITCHED, blend, sensed, step
from .plan import Plan, heats, plan_of, surroundings
from .trace import up_share

State = tuple[Any, Any]


class Work(NamedTuple):
    """A box in columns with room for what is found; the state, the next one; flags."""

    m: Any
    now: State
    new: State
    flags: Any


def scratch(plan: Plan, make: Any) -> Work:
    """What a run works with: the box and room for what is found, the state, the next one, flags."""
    n, walls = len(plan.w[0]), len(plan.walls)
    co = tuple(make([0.0] * n) for _ in range(7))
    for i, lump in enumerate(plan.lumps):
        co[0][walls + i] = lump.to_air_w_per_k
    m = (
        tuple(make(x) for x in plan.w), make(plan.b), tuple(make(x) for x in plan.o), make(plan.f),
        make(plan.volumes), make(plan.pressures), make(plan.speed_c), make(plan.speed_x),
        co, make([0.0] * 2), make([0.0] * 6), make([0.0] * 6), make([0.0] * 10), make([0.0] * 4),
    )  # fmt: skip
    now, new = ((make([0.0] * 3), make([0.0] * n)) for _ in range(2))
    return Work(m, now, new, make([plan.start_fraction, 0.0, plan.start_fraction, 0.0, 0.0]))


def settled(plan: Plan, work: Work, around: Any, rows: Any, hour: int) -> None:
    """Settle the state of a scratch in one hour, flags set. A fan stands when that suffices, else runs, else cycles."""
    for part in work.now:
        for j in range(len(part)):
            part[j] = around[0][hour] + 5.0
    held = (work.m, around, rows, hour, work.now, work.new, work.flags)
    settle(*held)
    if plan.b[B_CONTROL] == SWITCHED and sensed(plan.b, work.now[0]) >= plan.b[B_ON]:
        work.flags[ON] = 1.0
        settle(*held)
        if sensed(plan.b, work.now[0]) <= plan.b[B_OFF]:
            work.flags[HUNTS] = 1.0
            settle(*held)
    work.flags[FELT] = sensed(plan.b, work.now[0])


class Transient:
    """A box with its fan held, in one hour of its surroundings that is held too; goes on by any number of seconds."""

    def __init__(self, box: Box, around: Around, heat_w: Mapping[str, float | Sequence[float]], hour: int) -> None:
        self.plan = plan_of(box, around)
        self._rows = (surroundings(around), heats(self.plan, heat_w, around.n_hour))
        self._hour = hour
        self._around = around
        self.work = scratch(self.plan, list)

    def start_as(self, box: Box) -> None:
        """Begin where another box of the same walls and gear has settled, such as the same one with its fan running."""
        plan = plan_of(box, self._around)
        other = scratch(plan, list)
        settled(plan, other, *self._rows, self._hour)
        copied(other.now, self.work.now)

    def go_s(self, time_s: float) -> None:
        """One step, with the films and draughts of its middle. [s]"""
        m, now, new, flags = self.work
        around, hour, rate = self._rows[0], self._hour, 1.0 / (GAMMA * time_s)
        fill(m, *self._rows, hour)
        renew(m, around, hour, now, flags)
        blend(m, flags[LAST])
        step(m, now, new, rate)
        for part in range(2):
            for j in range(len(now[part])):
                new[part][j] = 0.5 * (now[part][j] + new[part][j])
        renew(m, around, hour, new, flags)
        blend(m, flags[LAST])
        step(m, now, new, rate)
        copied(new, now)

    def air_c(self, height_m: float) -> float:
        """Air at a height now. [°C]"""
        low, high, _ = self.work.now[0]
        return float(low + up_share(self.plan.box, height_m) * (high - low))
