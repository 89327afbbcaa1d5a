"""A batch means case by case what `solve` means."""

from dataclasses import replace

import numpy as np
import pytest

from ohmstead.network.batch import solve_batch, varied
from ohmstead.network.elements import OPEN_OHM
from ohmstead.network.solve import solve
from oracle.grow import at_margin, grow

ARRAYS = ("branch_a", "source_a", "load_v", "load_a", "converter_in_a", "converter_out_a", "feed_a", "voltage_v")


def compare(network, corner, vary):
    batch = solve_batch(network, corner, vary)
    n_case = len(next(iter(vary.values())))
    for k in range(n_case):
        point = solve(network, varied(corner, vary, k))
        for name in ARRAYS:
            ours, theirs = getattr(batch, name)[k], np.array(getattr(point, name))
            assert np.abs(ours - theirs).max(initial=0.0) < 1e-6, (name, k)
        assert tuple(batch.load_on[k]) == point.load_on
        assert tuple(batch.converter_modes[m] for m in batch.converter_mode[k]) == point.converter_mode
        assert tuple(batch.feed_modes[m] for m in batch.feed_mode[k]) == point.feed_mode
        kinds = {(e.kind, e.element) for e in point.events}
        assert batch.collapsed[k] == any(kind == "collapsed" for kind, _ in kinds)
        for i, load in enumerate(network.loads):
            assert batch.browned_out[k, i] == (("browned out", load.name) in kinds)
        for i, converter in enumerate(network.converters):
            assert batch.locked_out[k, i] == (("locked out", converter.name) in kinds)
    return batch


def widely(network, corner, seed, n_case=12):
    """Sources, loads and wires varied so far that brown-outs and other modes occur."""
    dice = np.random.default_rng(seed)
    vary = {("source_v", i): v * dice.uniform(0.75, 1.1, n_case) for i, v in enumerate(corner.source_v)}
    for i, load in enumerate(corner.loads):
        vary["load_w", i] = load.power_w * dice.uniform(0.3, 1.4, n_case)
    for i, ohm in enumerate(corner.branch_ohm):
        vary["branch_ohm", i] = ohm * dice.uniform(0.8, 1.5, n_case)
    for i, converter in enumerate(corner.converters):
        vary["set_v", i] = converter.set_v * dice.uniform(0.98, 1.02, n_case)
    return vary


@pytest.mark.parametrize("seed", range(40, 62))
def test_grown_networks_case_by_case(seed):
    network, corner = grow(seed)
    corner = at_margin(network, corner, 2.0)
    point = solve(network, corner)
    loads = tuple(replace(law, cutoff_v=0.93 * max(v, 0.1)) for law, v in zip(corner.loads, point.load_v, strict=True))
    corner = replace(corner, loads=loads)
    compare(network, corner, widely(network, corner, seed))


def test_modes_and_brown_outs_do_occur():
    seen = {"browned_out": 0, "locked_out": 0, "limiting": 0, "passing": 0}
    for seed in range(40, 52):
        network, corner = grow(seed)
        loads = tuple(replace(law, cutoff_v=9.5 * law.floor_v) for law in corner.loads)
        converters = tuple(replace(c, lockout_v=0.8 * corner.source_v[0]) for c in corner.converters)
        corner = replace(corner, loads=loads, converters=converters)
        batch = solve_batch(network, corner, widely(network, corner, seed))
        seen["browned_out"] += int(batch.browned_out.sum())
        seen["locked_out"] += int(batch.locked_out.sum())
        for mode in ("limiting", "passing"):
            seen[mode] += int((batch.converter_mode == batch.converter_modes.index(mode)).sum())
    assert min(seen.values()) >= 3, seen


def test_an_opened_branch_is_solved_too():
    network, corner = grow(19)
    ohm = np.full(5, corner.branch_ohm[0])
    ohm[2] = OPEN_OHM
    batch = compare(network, corner, {("branch_ohm", 0): ohm})
    assert list(batch.one_by_one) == [2]


def test_arrays_of_unequal_length_are_refused():
    network, corner = grow(19)
    with pytest.raises(ValueError, match="same number of cases"):
        solve_batch(network, corner, {("branch_ohm", 0): np.ones(3), ("source_v", 0): np.ones(4)})
    with pytest.raises(ValueError, match="no figure called 'watts'"):
        solve_batch(network, corner, {("watts", 0): np.ones(3)})
