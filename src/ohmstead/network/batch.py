"""Thousands of cases of one network at once, on numpy arrays.

Modes, brown-outs and lock-outs are handled by masks: cases in which the same elements went off are solved
together. The few cases that need more (no operating point, a path opened by the variation) are handed to
the careful solver one by one, so that every case means what `solve` means.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from .batch_point import CHUNK, BatchPoint
from .crowd import Crowd, Iterate, side_by_side
from .elements import OPEN_OHM, Corner, Network, OperatingPoint
from .lanes import NAMES, figures_of, iterate
from .solve import prepare, solve

Array = Any


@dataclass(frozen=True, slots=True)
class Manner:
    """How a batch is worked off: Newton's iteration, cases at a time, and every which case is checked."""

    iterate: Iterate
    chunk: int
    check_every: int


def solve_batch(network: Network, corner: Corner, vary: Mapping[tuple[str, int], Array]) -> BatchPoint:
    """Solve a corner with some of its figures varied.

    `vary` maps (figure, place) to an array with one value a case; figures are the columns of
    `lanes.NAMES`: "branch_ohm", "source_v", "source_ohm", "load_w", "load_a", "load_s", "set_v", "limit_a",
    "loss_w" (converters), "feed_v", "feed_a", "feed_w".
    """
    return solve_by(network, corner, vary, Manner(iterate, CHUNK, 1))


def solve_by(network: Network, corner: Corner, vary: Mapping[tuple[str, int], Array], manner: Manner) -> BatchPoint:
    """`solve_batch` in a given manner."""
    sizes = {len(values) for values in vary.values()}
    if len(sizes) != 1:
        raise ValueError(f"every array needs the same number of cases, not {sorted(sizes)}")
    n_case = sizes.pop()
    figures = figures_of(corner, n_case)
    for (name, place), values in vary.items():
        if name not in NAMES:
            raise ValueError(f"no figure called {name!r}; there are {', '.join(NAMES)}")
        figures.columns[name][place] = np.asarray(values, dtype=float)
    crowd = Crowd(prepare(network, corner), n_case, manner.iterate)
    opened = _opened(vary, n_case)
    whole = np.flatnonzero(~opened)
    for first in range(0, len(whole), manner.chunk):
        index = whole[first : first + manner.chunk]
        crowd.run(figures.take(side_by_side(index)), index)
    single: dict[int, OperatingPoint] = {}
    alone: Any = [*crowd.alone, *np.flatnonzero(opened)]
    while True:
        for k in map(int, alone):
            single[k] = solve(network, varied(corner, vary, k))
            crowd.place(k, single[k])
        point = BatchPoint(network, figures, crowd, single)
        alone = point.leaking(manner.check_every)
        if not len(alone):
            return point


def _opened(vary: Mapping[tuple[str, int], Array], n_case: int) -> Array:
    """Cases in which the variation opens a path: their islands are their own."""
    out = np.zeros(n_case, dtype=bool)
    for (name, _), values in vary.items():
        if name in ("branch_ohm", "source_ohm"):
            ohm = np.asarray(values, dtype=float)
            if ohm.max(initial=0.0) == OPEN_OHM:
                out |= ohm == OPEN_OHM
    return out


def varied(corner: Corner, vary: Mapping[tuple[str, int], Array], k: int) -> Corner:
    """The corner of one case."""
    figures = figures_of(corner, 1).columns
    for (name, place), values in vary.items():
        figures[name][place] = float(values[k])
    loads = [
        replace(law, power_w=w, current_a=a, conductance_s=s)
        for law, w, a, s in zip(corner.loads, figures["load_w"], figures["load_a"], figures["load_s"], strict=True)
    ]
    converters = [
        replace(law, set_v=v, limit_a=a, loss_w=w)
        for law, v, a, w in zip(corner.converters, figures["set_v"], figures["limit_a"], figures["loss_w"], strict=True)
    ]
    feeds = [
        replace(law, set_v=v, limit_a=a, limit_w=w)
        for law, v, a, w in zip(corner.feeds, figures["feed_v"], figures["feed_a"], figures["feed_w"], strict=True)
    ]
    return replace(
        corner,
        branch_ohm=tuple(figures["branch_ohm"]),
        source_v=tuple(figures["source_v"]),
        source_ohm=tuple(figures["source_ohm"]),
        loads=tuple(loads),
        converters=tuple(converters),
        feeds=tuple(feeds),
    )
