"""Fault currents by hand."""

import pytest

from ohmstead.network.elements import Branch, Corner, Feed, FeedState, Network, Source
from ohmstead.network.thevenin import faults_at


def ladder():
    """A battery of 12 V and 5 mΩ, two branches in a row of 5 and 20 mΩ, and a charger at the middle."""
    network = Network(
        ("0", "bank", "middle", "end"),
        (Branch("a", 1, 2), Branch("b", 2, 3)),
        (Source("bank", 1, 0),),
        feeds=(Feed("charger", 2, 0),),
    )
    return network, Corner("c", (0.005, 0.02), (12.0,), (0.005,), feeds=(FeedState(14.0, limit_a=0.0),))


def test_twelve_volts_behind_five_milliohms(outside):
    network, corner = ladder()
    (fault,) = faults_at(network, corner, [(1, 0)])
    # A battery of 12 V and 5 mΩ drives 2400 A into a short: textbook form, Isc = E / R.
    outside(
        source="common-practice",
        place="textbook form of Isc = E / R",
        read="second-hand",
        what="short-circuit current at the terminals",
        deviation=abs(fault.current_a - 2400) / 2400,
    )
    assert fault.current_a == pytest.approx(2400.0, rel=1e-6)


def test_fault_currents_add_up_along_the_way():
    network, corner = ladder()
    middle, end = faults_at(network, corner, [(2, 0), (3, 0)])
    assert middle.current_a == pytest.approx(12.0 / 0.010, rel=1e-6)
    assert end.current_a == pytest.approx(12.0 / 0.030, rel=1e-6)
    assert end.branch_a == pytest.approx((400.0, 400.0), rel=1e-6)
    assert end.source_a == pytest.approx((400.0,), rel=1e-6)
    assert end.ohm == pytest.approx(0.030, rel=1e-6)


def test_two_batteries_in_parallel_add():
    network = Network(("0", "bar"), (), (Source("one", 1, 0), Source("two", 1, 0)))
    corner = Corner("c", (), (12.0, 12.0), (0.005, 0.005))
    (fault,) = faults_at(network, corner, [(1, 0)])
    assert fault.current_a == pytest.approx(4800.0, rel=1e-6)
    assert sum(fault.source_a) == pytest.approx(fault.current_a, rel=1e-6)


def test_a_charger_adds_its_limit():
    network, corner = ladder()
    stronger = Corner(
        "c", corner.branch_ohm, corner.source_v, corner.source_ohm, feeds=(FeedState(14.0, limit_a=40.0),)
    )
    (before,) = faults_at(network, corner, [(2, 0)])
    (after,) = faults_at(network, stronger, [(2, 0)])
    assert after.current_a - before.current_a == pytest.approx(40.0, rel=1e-4)


def test_a_node_that_nothing_reaches_has_no_fault_current():
    network = Network(("0", "bank", "lost"), (), (Source("bank", 1, 0),))
    (fault,) = faults_at(network, Corner("c", (), (12.0,), (0.005,)), [(2, 0)])
    assert fault.current_a == pytest.approx(0.0, abs=1e-6)
