"""Fault currents against the solver itself, which knows nothing of superposition."""

from dataclasses import replace

import pytest

from ohmstead.network.elements import OPEN_OHM, Branch
from ohmstead.network.solve import solve
from ohmstead.network.thevenin import fault_at, faults_at
from oracle.grow import grow


@pytest.mark.parametrize("seed", [2, 7, 13, 19, 26, 34, 51, 58])
def test_a_fault_is_a_very_short_wire(seed):
    network, corner = grow(seed, most_converters=0)
    bare = replace(network, loads=(), feeds=())
    bare_corner = replace(corner, loads=(), feeds=())
    for node in range(1, len(network.nodes)):
        fault = fault_at(bare, bare_corner, node)
        shorted = replace(bare, branches=(*bare.branches, Branch("short", node, 0)))
        point = solve(shorted, replace(bare_corner, branch_ohm=(*corner.branch_ohm, 1e-6)))
        assert point.branch_a[-1] == pytest.approx(fault.current_a, rel=1e-3)
        assert point.branch_a[:-1] == pytest.approx(fault.branch_a, rel=2e-3, abs=0.05)
        assert point.source_a == pytest.approx(fault.source_a, rel=2e-3, abs=0.05)


def test_loads_are_open_and_chargers_add_their_limit():
    network, corner = grow(3, most_converters=0)
    assert network.feeds
    with_feed = fault_at(network, corner, 1)
    without = fault_at(replace(network, feeds=()), replace(corner, feeds=()), 1)
    assert with_feed.current_a == pytest.approx(without.current_a + corner.feeds[0].limit_a)
    assert with_feed.feed_a == (corner.feeds[0].limit_a,)
    stopped = replace(corner, feeds=(replace(corner.feeds[0], running=False),))
    assert fault_at(network, stopped, 1).current_a == pytest.approx(without.current_a)


def test_from_one_wire_to_its_return():
    network, corner = grow(51, most_converters=0)
    fault = fault_at(network, corner, 2, 3)
    assert fault.open_v > 0.0
    assert fault.current_a == pytest.approx(fault.open_v / fault.ohm)


def test_no_current_without_a_way():
    network, corner = grow(51, most_converters=0)
    cut = replace(corner, branch_ohm=(OPEN_OHM,) * len(corner.branch_ohm))
    found = faults_at(network, cut, [(k, 0) for k in range(1, len(network.nodes))])
    source_nodes = {source.positive for source in network.sources}
    for node, fault in enumerate(found, 1):
        assert (fault.current_a > 0.0) == (node in source_nodes)
