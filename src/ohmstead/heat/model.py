"""Three questions to a box: a steady state, a day that repeats, a year of hours."""

from collections.abc import Mapping, Sequence
from dataclasses import fields
from typing import Any

from .around import Around
from .box import Box
from .hours import N_ROW, run
from .kernel import B_CONTROL
from .passage import FIXED, HUNTS, SWITCHED
from .plan import Plan, heats, plan_of, surroundings
from .state import State, scratch, settled
from .trace import Trace

Heat = Mapping[str, float | Sequence[float]]
ROWS = tuple(field.name for field in fields(Trace))[1 : N_ROW + 1]  # a trace begins as an answer does
CLOSE_K = 0.002  # between the beginning and the end of a day that repeats
BEAT_K = 0.3  # the same where a thermostat keeps a beat that does not fit into the day
MOST_DAYS, FEW_DAYS = 30, 8  # the fewer with a fan that is controlled
SPIN_HOURS = 72  # of the year's end, run before its beginning


def _trace(plan: Plan, out: Any, freeze: Any) -> Trace:
    """Rows of a run, with the names that people know."""
    leaves = out[N_ROW:]
    faces: dict[str, Any] = {}
    for leaf, row in zip(plan.walls, leaves, strict=False):
        for face in leaf.faces:
            if face in faces:
                faces[face] = freeze(max(a, b) for a, b in zip(faces[face], row, strict=True))
            else:
                faces[face] = freeze(row)
    lumps = {lump.name: freeze(row) for lump, row in zip(plan.lumps, leaves[len(plan.walls) :], strict=True)}
    named = dict(zip(ROWS, (freeze(row) for row in out[:N_ROW]), strict=True))
    return Trace(plan.box, **named, face_c=faces, lump_c=lumps)


def steady(box: Box, around: Around, heat_w: Heat, hour: int = 0) -> Trace:
    """A box that has settled in one hour of its surroundings; a thermostat that cycles keeps the middle of its band.

    Parameters
    ----------
    box : Box
        The cabinet.
    around : Around
        Its surroundings.
    heat_w : mapping
        Heat that each gear gives off, by name; one value, or one an hour. [W]
    hour : int
        Which hour of the surroundings is held.

    Returns
    -------
    Trace
        One hour.

    Source
    ------
    docs/methods/heat.md

    Examples
    --------
    >>> from ohmstead.heat.around import still
    >>> from ohmstead.heat.box import Box, Gear
    >>> box = Box(0.6, 0.5, 0.3, gear=(Gear("supply", 0.2), Gear("recorder", 0.4)))
    >>> found = steady(box, still(45.0), {"supply": 15.0, "recorder": 20.0})
    >>> round(found.lower_c[0], 1), round(found.upper_c[0], 1)
    (53.6, 56.8)
    """
    plan = plan_of(box, around)
    rows = (surroundings(around), heats(plan, heat_w, around.n_hour))
    work = scratch(plan, list)
    settled(plan, work, *rows, hour)
    held, heat = ([[row[hour]] for row in table] for table in rows)
    out = [[0.0] for _ in range(N_ROW + len(plan.w[0]))]
    run(work.m, held, heat, work.now, work.new, work.flags, out)
    return _trace(plan, out, tuple)


def day(box: Box, around: Around, heat_w: Heat) -> Trace:
    """A day (or any run of hours) that repeats until its end meets its beginning.

    Parameters
    ----------
    box : Box
        The cabinet.
    around : Around
        Its surroundings, mostly 24 hours.
    heat_w : mapping
        Heat that each gear gives off, by name; one value, or one an hour. [W]

    Returns
    -------
    Trace
        The hours of `around`.

    Source
    ------
    docs/methods/heat.md

    Examples
    --------
    >>> from math import cos, pi
    >>> from ohmstead.heat.around import Around
    >>> from ohmstead.heat.box import Box, Gear
    >>> air = tuple(25.0 - 8.0 * cos(2 * pi * (hour - 3) / 24) for hour in range(24))
    >>> found = day(Box(0.6, 0.5, 0.3, gear=(Gear("recorder", 0.4, 7000.0),)), Around(air), {"recorder": 20.0})
    >>> hour, air_c = found.hottest(0.4)
    >>> hour, round(air_c, 1)
    (16, 40.7)
    """
    plan = plan_of(box, around)
    rows = (surroundings(around), heats(plan, heat_w, around.n_hour))
    work = scratch(plan, list)
    settled(plan, work, *rows, 0)
    work.flags[HUNTS] = 0.0
    out = [[0.0] * around.n_hour for _ in range(N_ROW + len(plan.w[0]))]
    now = work.now
    before: list[float] = []
    fixed = plan.b[B_CONTROL] == FIXED
    close_k = BEAT_K if plan.b[B_CONTROL] == SWITCHED else CLOSE_K
    for _ in range(MOST_DAYS if fixed else FEW_DAYS):
        begin = [x for part in now for x in part]
        run(work.m, *rows, work.now, work.new, work.flags, out)
        moved = [x - y for x, y in zip([x for part in now for x in part], begin, strict=True)]
        if max(map(abs, moved)) < close_k:
            break
        if before:  # a slow node nears its end by a constant share a day: go there at once
            _leap(now, before, moved)
            before = []
        else:
            before = moved
    return _trace(plan, out, tuple)


def _leap(now: State, before: list[float], moved: list[float]) -> None:
    """Aitken's extrapolation of every node."""
    n = len(now[0])
    for i, (one, two) in enumerate(zip(before, moved, strict=True)):
        share = two / one if abs(one) > 1e-9 else 0.0
        if 0.0 < share < 0.95:
            part, j = (now[0], i) if i < n else (now[1], i - n)
            part[j] += two * share / (1.0 - share)


def year(box: Box, around: Around, heat_w: Heat) -> Trace:
    """A year of hours, or any long run; its last three days are run before its first.

    Compiled; needs numpy and numba.

    Parameters
    ----------
    box : Box
        The cabinet.
    around : Around
        Its surroundings.
    heat_w : mapping
        Heat that each gear gives off, by name; one value, or one an hour. [W]

    Returns
    -------
    Trace
        The hours of `around`, as arrays.

    Source
    ------
    docs/methods/heat.md

    Examples
    --------
    >>> from ohmstead.heat.around import Around
    >>> from ohmstead.heat.box import Box, Gear
    >>> found = year(Box(0.6, 0.5, 0.3, gear=(Gear("recorder", 0.4),)), Around([20.0] * 240), {"recorder": 20.0})
    >>> round(float(found.upper_c[100]), 1)
    28.5
    """
    from .compiled import array, empty, fast, table

    plan = plan_of(box, around)
    lists = (surroundings(around), heats(plan, heat_w, around.n_hour))
    rows = tuple(table(x) for x in lists)
    work, first = scratch(plan, array), scratch(plan, list)
    spin = min(SPIN_HOURS, around.n_hour)
    settled(plan, first, *lists, around.n_hour - spin)
    first.flags[HUNTS] = 0.0
    for source, target in zip((*first.now, first.flags), (*work.now, work.flags), strict=True):
        target[:] = source
    n_row = N_ROW + len(plan.w[0])
    last = tuple(x[:, around.n_hour - spin :].copy() for x in rows)
    fast(work.m, *last, work.now, work.new, work.flags, empty(n_row, spin))
    out = empty(n_row, around.n_hour)
    fast(work.m, *rows, work.now, work.new, work.flags, out)
    return _trace(plan, out, array)
