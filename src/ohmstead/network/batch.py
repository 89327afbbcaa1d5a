"""Thousands of cases of one network at once, on numpy arrays.

Modes, brown-outs and lock-outs are handled by masks: cases in which the same elements went off are solved
together. The few cases that need more (no operating point, a path opened by the variation) are handed to
the careful solver one by one, so that every case means what `solve` means.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from ohmstead.network.crowd import Crowd
from ohmstead.network.elements import Corner, Network
from ohmstead.network.flows import flows_of, residual_a
from ohmstead.network.lanes import NAMES, figures_of
from ohmstead.network.solve import prepare, solve
from ohmstead.network.state import CONVERTER_MODES, FEED_MODES, ON

CHUNK = 2048  # cases at a time: a column then stays in the processor's cache

Array = Any


@dataclass(frozen=True, slots=True)
class BatchPoint:
    """Solved cases; axes are case, then node or element. Modes are places in the names listed below."""

    voltage_v: Array
    branch_a: Array
    source_a: Array
    load_v: Array
    load_a: Array
    converter_in_a: Array
    converter_out_a: Array
    feed_a: Array
    load_on: Array
    converter_mode: Array
    feed_mode: Array
    browned_out: Array
    locked_out: Array
    collapsed: Array
    residual_a: Array
    one_by_one: Array

    converter_modes = CONVERTER_MODES
    feed_modes = FEED_MODES


def solve_batch(network: Network, corner: Corner, vary: Mapping[tuple[str, int], Array]) -> BatchPoint:
    """Solve a corner with some of its figures varied.

    `vary` maps (figure, place) to an array with one value a case; figures are the columns of
    `lanes.NAMES`: "branch_ohm", "source_v", "source_ohm", "load_w", "load_a", "load_s", "set_v", "limit_a",
    "loss_w" (converters), "feed_v", "feed_a", "feed_w".
    """
    sizes = {len(values) for values in vary.values()}
    if len(sizes) != 1:
        raise ValueError(f"every array needs the same number of cases, not {sorted(sizes)}")
    n_case = sizes.pop()
    figures = figures_of(corner, n_case)
    for (name, place), values in vary.items():
        if name not in NAMES:
            raise ValueError(f"no figure called {name!r}; there are {', '.join(NAMES)}")
        figures.columns[name][place] = np.asarray(values, dtype=float)
    crowd = Crowd(prepare(network, corner), n_case)
    alone = _opened(vary, n_case)
    whole = np.flatnonzero(~alone)
    for first in range(0, len(whole), CHUNK):
        index = whole[first : first + CHUNK]
        crowd.run(figures.take(index), index)
    crowd.alone += [int(k) for k in np.flatnonzero(alone)]
    single = [(k, solve(network, varied(corner, vary, k))) for k in crowd.alone]
    for k, point in single:
        crowd.place(k, point)
    v = crowd.voltage_v
    flow = flows_of(network, figures, v, crowd.load_mode, crowd.converter_mode, crowd.feed_mode)
    for k, point in single:
        flow.place(k, point)
    load_v = [v[load.positive] - v[load.negative] for load in network.loads]
    return BatchPoint(
        v.T,
        flow.branch_a.T,
        flow.source_a.T,
        np.array(load_v).reshape(len(load_v), n_case).T,
        flow.load_a.T,
        flow.converter_in_a.T,
        flow.converter_out_a.T,
        flow.feed_a.T,
        crowd.load_mode == ON,
        crowd.converter_mode,
        crowd.feed_mode,
        crowd.browned_out,
        crowd.locked_out,
        crowd.collapsed,
        residual_a(network, flow),
        np.array(sorted(crowd.alone), dtype=int),
    )


def _opened(vary: Mapping[tuple[str, int], Array], n_case: int) -> Array:
    """Cases in which the variation opens a path: their islands are their own."""
    out = np.zeros(n_case, dtype=bool)
    for (name, _), values in vary.items():
        if name in ("branch_ohm", "source_ohm"):
            out |= np.isinf(np.asarray(values, dtype=float))
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
