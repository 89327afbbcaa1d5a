"""The solver on networks small enough to check by hand."""

import re
from dataclasses import replace
from math import inf, sqrt

import pytest

from ohmstead.network.elements import (
    OPEN_OHM,
    Branch,
    Converter,
    ConverterState,
    Corner,
    Feed,
    FeedState,
    Load,
    LoadState,
    Network,
    Source,
)
from ohmstead.network.emit import source_of
from ohmstead.network.margin import loading_margin
from ohmstead.network.plan import make_plan
from ohmstead.network.solve import solve, solve_all
from oracle.grow import grow


def line(watts=60.0, ohm=0.1, emf_v=12.0, **law):
    """One load at the end of a line of `ohm` in all."""
    network = Network(("0", "bank", "end"), (Branch("line", 1, 2),), (Source("bank", 1, 0),), (Load("load", 2, 0),))
    return network, Corner("line", (ohm - 1e-6,), (emf_v,), (1e-6,), (LoadState(watts, **law),))


def star(powers, ohms, cutoffs, emf_v=12.0, bank_ohm=0.05):
    """Loads on lines of their own from one bar behind a battery with resistance."""
    n = len(powers)
    network = Network(
        ("0", "bar", *(f"end {i}" for i in range(n))),
        tuple(Branch(f"line {i}", 1, 2 + i) for i in range(n)),
        (Source("bank", 1, 0),),
        tuple(Load(f"load {i}", 2 + i, 0) for i in range(n)),
    )
    loads = tuple(LoadState(p, cutoff_v=c) for p, c in zip(powers, cutoffs, strict=True))
    return network, Corner("star", tuple(ohms), (emf_v,), (bank_ohm,), loads)


def converting(kind, set_v, in_v, load, **law):
    """A battery, a short line, a converter, a short line, a load."""
    network = Network(
        ("0", "bank", "in", "out", "end"),
        (Branch("feeder", 1, 2), Branch("tail", 3, 4)),
        (Source("bank", 1, 0),),
        (Load("load", 4, 0),),
        (Converter("converter", kind, 2, 0, 3, 0),),
    )
    return network, Corner("c", (0.02, 0.05), (in_v,), (0.01,), (load,), (ConverterState(set_v, **law),))


def remote(volts, ohms):
    """The published remote station: 7.5 W at the end of pairs, at least 21 V."""
    network, corner = line(7.5, ohms, volts, cutoff_v=21.0)
    return solve(network, corner)


def test_limits_of_remote_powering(outside):
    """Above twice the least voltage the line's power limit rules, below it the voltage limit; both at 42 V."""
    worst = 0.0
    for volts, voltage_ohm, power_ohm in ((48.0, None, 76.8), (36.0, 42.0, 43.2)):
        limit_ohm = voltage_ohm or power_ohm
        assert remote(volts, 0.999 * limit_ohm).events == ()
        (event,) = remote(volts, 1.001 * limit_ohm).events
        assert event.kind == ("collapsed" if voltage_ohm is None else "browned out")
        network, corner = line(7.5, 0.5 * power_ohm, volts)
        worst = max(worst, abs(loading_margin(network, corner).factor - 2.0) / 2.0)
    at_limit = remote(42.0, 0.999 * 58.8)
    assert at_limit.events == ()
    assert at_limit.load_v[0] == pytest.approx(21.0, rel=0.05)
    outside(
        source="remote-powering-handbook",
        place="longest line by voltage and by power",
        read="second-hand",
        what="where a constant-power load browns out and where it collapses",
        deviation=worst,
    )
    assert worst < 1e-6


@pytest.mark.parametrize(("emf_v", "watts", "volts"), [(10.5, 120.0, 9.195), (12.0, 120.0, 10.90), (10.5, 260.0, 6.5)])
def test_operating_point_of_constant_power(emf_v, watts, volts):
    network, corner = line(watts, 0.1, emf_v)
    point = solve(network, corner)
    assert point.load_v[0] == pytest.approx(0.5 * (emf_v + sqrt(emf_v**2 - 0.4 * watts)), rel=1e-5)
    assert point.load_v[0] == pytest.approx(volts, abs=0.005)
    assert point.residual_a < 1e-6


def test_no_operating_point_is_a_collapse_and_goes_on_as_a_resistance():
    network, corner = line(280.0, 0.1, 10.5, floor_v=1.0)
    point = solve(network, corner)
    (event,) = point.events
    assert (event.kind, event.element) == ("collapsed", "load")
    assert event.voltage_v == pytest.approx(5.25, rel=0.05)  # half of the source, where the curve turns
    assert point.load_on == (True,)
    assert point.load_v[0] == pytest.approx(10.5 / (1.0 + 0.1 * 280.0), rel=1e-4)
    margin = loading_margin(network, corner)
    assert margin.factor == pytest.approx(10.5**2 / 0.4 / 280.0, rel=1e-5)
    assert margin.element == "load"


def test_a_load_below_its_floor_without_a_jump_is_no_collapse():
    network, corner = line(2.0, 0.1, 0.8, floor_v=1.0)
    point = solve(network, corner)
    assert point.events == ()
    assert point.load_v[0] == pytest.approx(0.8 / 1.2, rel=1e-4)


def test_margin_is_endless_without_constant_power():
    network, corner = line(0.0, 0.1, 12.0, conductance_s=0.5)
    assert loading_margin(network, corner).factor == inf


def test_brown_out_is_named_and_its_healthy_neighbour_is_not_blamed():
    # load 0 drags the bar to 8.9 V, where load 1 on a thin line would brown out too
    network, corner = star((200.0, 6.0), (0.05, 0.6), (10.5, 9.0), bank_ohm=0.15)
    point = solve(network, corner)
    assert [(e.kind, e.element) for e in point.events] == [("collapsed", "load 0")]
    assert point.load_on == (False, True)
    assert point.load_v[1] > 9.0
    point = solve(network, replace(corner, loads=(replace(corner.loads[0], power_w=130.0), corner.loads[1])))
    assert [(e.kind, e.element) for e in point.events] == [("browned out", "load 0")]
    assert point.events[0].voltage_v < point.events[0].needed_v == 10.5


def test_the_deepest_goes_first_and_frees_the_other():
    network, corner = star((40.0, 40.0), (0.05, 0.20), (10.6, 10.6), bank_ohm=0.1)
    point = solve(network, corner)
    assert [e.element for e in point.events] == ["load 1"]
    assert point.load_on == (True, False)


def test_every_true_brown_out_is_reported():
    network, corner = star((10.0, 10.0, 10.0), (0.01, 0.01, 0.01), (13.0, 11.0, 12.5), emf_v=12.0)
    assert {e.element for e in solve(network, corner).events} == {"load 0", "load 2"}


def test_lock_out_is_named_and_its_loads_are_dead_but_not_blamed():
    network, corner = converting("boost", 19.0, 10.0, LoadState(20.0, cutoff_v=17.0), lockout_v=10.5)
    point = solve(network, corner)
    assert [(e.kind, e.element, e.needed_v) for e in point.events] == [("locked out", "converter", 10.5)]
    assert point.converter_mode == ("off",)
    assert point.load_on == (False,)
    assert point.load_v == (0.0,)


def test_a_regulating_converter_balances_its_power():
    network, corner = converting(
        "boost", 19.0, 12.0, LoadState(40.0), output_ohm=0.02, loss_w=0.6, loss_fraction=0.03, loss_per_w=5e-4
    )
    point = solve(network, corner)
    out_w = point.voltage_v[3] * point.converter_out_a[0]
    in_w = point.voltage_v[2] * point.converter_in_a[0]
    assert point.converter_mode == ("regulating",)
    assert point.voltage_v[3] == pytest.approx(19.0 - 0.02 * point.converter_out_a[0], rel=1e-9)
    assert in_w == pytest.approx(out_w + 0.6 + 0.03 * out_w + 5e-4 * out_w**2, rel=1e-9)


def test_a_converter_at_its_limit_gives_its_limit():
    network, corner = converting("buck", 12.0, 26.0, LoadState(conductance_s=1.0), limit_a=5.0)
    point = solve(network, corner)
    assert point.converter_mode == ("limiting",)
    assert point.converter_out_a[0] == pytest.approx(5.0)
    assert point.load_v[0] == pytest.approx(5.0)


def test_constant_power_beyond_the_limit_collapses():
    network, corner = converting("buck", 19.0, 26.0, LoadState(100.0, cutoff_v=15.0), limit_a=5.0)
    assert [(e.kind, e.element) for e in solve(network, corner).events] == [("collapsed", "load")]
    assert loading_margin(network, corner).factor == pytest.approx(5.0 * (19.0 - 5.0 * 0.051) / 100.0, rel=1e-4)


def test_a_boost_below_its_input_passes_it_through():
    network, corner = converting("boost", 19.0, 25.0, LoadState(25.0), pass_ohm=0.03, pass_drop_v=0.5, loss_w=0.2)
    point = solve(network, corner)
    a = point.converter_out_a[0]
    assert point.converter_mode == ("passing",)
    assert point.voltage_v[3] == pytest.approx(point.voltage_v[2] - 0.5 - 0.03 * a, rel=1e-9)
    assert point.converter_in_a[0] == pytest.approx(a + 0.2 / point.voltage_v[2], rel=1e-9)


def test_a_buck_above_its_input_follows_it():
    network, corner = converting("buck", 19.0, 16.0, LoadState(10.0), pass_drop_v=0.3)
    point = solve(network, corner)
    assert point.converter_mode == ("passing",)
    assert 15.0 < point.load_v[0] < 16.0


def test_the_higher_of_two_converters_carries_a_shared_output():
    network = Network(
        ("0", "bank", "out"),
        (),
        (Source("bank", 1, 0),),
        (Load("load", 2, 0),),
        (Converter("low", "buck", 1, 0, 2, 0), Converter("high", "buck", 1, 0, 2, 0)),
    )
    converters = (ConverterState(11.8, loss_w=0.1), ConverterState(12.2, loss_w=0.1))
    point = solve(network, Corner("two", (), (24.0,), (0.01,), (LoadState(24.0),), converters))
    assert point.converter_out_a[0] == 0.0
    assert point.converter_out_a[1] == pytest.approx(24.0 / point.load_v[0])
    assert point.converter_in_a[0] == pytest.approx(0.1 / point.voltage_v[1])  # awake all the same


@pytest.mark.parametrize(
    ("law", "mode", "amps"),
    [
        (FeedState(14.4, 1e-3, 10.0), "current limit", 10.0),
        (FeedState(14.4, 1e-3, 50.0, 130.0), "power limit", 130.0 / 12.98),
        (FeedState(12.9, 1e-3, 50.0), "holding", None),
        (FeedState(11.0, 1e-3, 50.0), "off", 0.0),
        (FeedState(14.4, 1e-3, 10.0, running=False), "off", 0.0),
    ],
)
def test_charger_modes(law, mode, amps):
    network = Network(("0", "bar"), (), (Source("bank", 1, 0),), (Load("load", 1, 0),), (), (Feed("charger", 1, 0),))
    corner = Corner("charging", (), (12.8,), (0.02,), (LoadState(10.0),), (), (law,))
    point = solve(network, corner)
    assert point.feed_mode == (mode,)
    if amps is not None:
        assert point.feed_a[0] == pytest.approx(amps, rel=0.01)
    assert point.source_a[0] + point.feed_a[0] == pytest.approx(point.load_a[0])


@pytest.mark.parametrize("watts", [0.0, 20.0])
def test_the_higher_of_two_chargers_carries_a_supply_without_its_battery(watts):
    """By hand: the battery switch is open; the lower charger is pushed back, the higher one carries the load."""
    network = Network(
        ("0", "bar", "far"),
        (Branch("line", 1, 2),),
        (),
        (Load("lamp", 2, 0),),
        (),
        (Feed("high", 1, 0), Feed("low", 2, 0)),
    )
    feeds = (FeedState(10.001, 0.0005, 4.5, inf), FeedState(9.0, 0.002, 3.7, inf))
    point = solve(network, Corner("no battery", (0.0,), (), (), (LoadState(watts),), feeds=feeds))
    assert point.feed_mode == ("holding", "off") and not point.events
    assert point.voltage_v[1] == pytest.approx(10.0, abs=0.002)
    assert point.feed_a == pytest.approx((watts / 10.0, 0.0), rel=1e-3, abs=1e-9)


def test_an_open_branch_leaves_a_dead_island_at_zero_without_blame():
    network, corner = star((10.0, 20.0), (0.05, OPEN_OHM), (10.0, 10.0))
    point = solve(network, corner)
    assert point.events == ()
    assert point.load_on == (True, False)
    assert point.voltage_v[3] == 0.0
    assert point.load_a[1] == point.branch_a[1] == 0.0


def test_an_open_return_leaves_the_load_without_current():
    network = Network(
        ("0", "bank", "plus", "minus"),
        (Branch("out", 1, 2), Branch("back", 3, 0)),
        (Source("bank", 1, 0),),
        (Load("load", 2, 3),),
    )
    whole = Corner("whole", (0.1, 0.1), (12.0,), (0.01,), (LoadState(20.0),))
    point = solve(network, whole)
    assert point.voltage_v[3] == pytest.approx(0.1 * point.load_a[0])
    point = solve(network, replace(whole, branch_ohm=(0.1, OPEN_OHM)))
    assert point.load_a == (0.0,)
    assert point.events == ()


def test_an_isolated_secondary_floats_at_the_reference():
    network = Network(
        ("0", "bank", "plus", "minus"),
        (),
        (Source("bank", 1, 0),),
        (Load("load", 2, 3),),
        (Converter("isolated", "buck-boost", 1, 0, 2, 3),),
    )
    point = solve(network, Corner("iso", (), (24.0,), (0.01,), (LoadState(24.0),), (ConverterState(48.0, 0.01),)))
    assert point.voltage_v[3] == 0.0
    assert point.load_v[0] == pytest.approx(48.0 - 0.01 * 0.5, abs=1e-4)


def test_two_batteries_share_by_resistance():
    network = Network(("0", "bar"), (), (Source("a", 1, 0), Source("b", 1, 0)), (Load("load", 1, 0),))
    corner = Corner("share", (), (12.8, 12.8), (0.01, 0.03), (LoadState(current_a=40.0),))
    assert solve(network, corner).source_a == pytest.approx((30.0, 10.0))


def test_nothing_at_all():
    network = Network(("0",))
    point = solve(network, Corner("empty", (), (), ()))
    assert point.voltage_v == (0.0,)
    assert point.events == ()


def test_many_corners_in_their_order():
    network, corner = line(20.0)
    corners = [replace(corner, name=str(i), source_v=(11.0 + i,)) for i in range(4)]
    assert [p.corner for p in solve_all(network, corners)] == ["0", "1", "2", "3"]


def test_modes_at_their_edges_come_to_rest():
    """Limits, pass-through and chargers placed at each other's edges never make the search run in circles."""
    for offset in range(-5, 6):
        step = offset * 1e-7
        network, corner = converting("boost", 19.0 + step, 19.0 + 0.4, LoadState(30.0), pass_drop_v=0.4, limit_a=1.57)
        point = solve(network, corner)
        assert point.residual_a < 1e-6
        network, corner = converting("buck", 12.0, 12.0 + step, LoadState(0.0, conductance_s=0.4), limit_a=4.79)
        assert solve(network, corner).residual_a < 1e-6


def test_the_program_is_made_of_numbers_and_fixed_letters_only():
    network, _ = grow(19)
    hostile = replace(network, nodes=tuple(f"__import__('os') {n}" for n in network.nodes))
    hostile = replace(hostile, loads=tuple(replace(load, name="x = 1\nimport os") for load in network.loads))
    text = source_of(hostile, make_plan(hostile))
    assert text == source_of(network, make_plan(network))
    words = set(re.findall(r"[A-Za-z]{2,}", text))
    assert words <= {"def", "prepare", "step", "finish", "return", "go", "to", "eo", "ka", "kb", "kc"}
