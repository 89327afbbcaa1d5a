"""Laws that hold in every network: Kirchhoff, energy, monotony, order, reciprocity."""

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from ohmstead.network.elements import Branch, Corner, Load, LoadState, Network, Source
from ohmstead.network.margin import loading_margin
from ohmstead.network.solve import solve
from ohmstead.network.thevenin import fault_at
from oracle.grow import at_margin, grow, scaled

calm = settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@st.composite
def supplies(draw):
    """A grown network at some loading margin, with cut-offs on some loads."""
    network, corner = grow(draw(st.integers(0, 5000)))
    corner = at_margin(network, corner, draw(st.sampled_from([0.8, 1.05, 1.5, 4.0])))
    if draw(st.booleans()):
        share = draw(st.floats(5.0, 9.5))
        corner = replace(corner, loads=tuple(replace(law, cutoff_v=share * law.floor_v) for law in corner.loads))
    return network, corner


@st.composite
def resistive(draw):
    """A tree of wires with a few cross ties, one or two batteries and resistive loads."""
    n_node = draw(st.integers(3, 12))
    branches = [Branch(f"b{k}", draw(st.integers(1, k - 1)), k) for k in range(2, n_node)]
    for k in range(draw(st.integers(0, 3))):
        a, b = draw(st.integers(1, n_node - 1)), draw(st.integers(1, n_node - 1))
        if a != b:
            branches.append(Branch(f"t{k}", a, b))
    ohms = [draw(st.floats(1e-3, 2.0)) for _ in branches]
    loads = [Load(f"l{k}", k, 0) for k in range(1, n_node) if draw(st.booleans())]
    laws = [LoadState(conductance_s=draw(st.floats(1e-3, 2.0))) for _ in loads]
    sources = (Source("bank", 1, 0), Source("other", draw(st.integers(1, n_node - 1)), 0))
    network = Network(("0", *(f"n{k}" for k in range(1, n_node))), tuple(branches), sources, tuple(loads))
    emf_v = draw(st.floats(5.0, 60.0))
    return network, Corner("r", tuple(ohms), (emf_v, emf_v), (0.01, 0.05), tuple(laws))


@calm
@given(supplies())
def test_currents_balance_at_every_node(supply):
    network, corner = supply
    point = solve(network, corner)
    total = [0.0] * len(network.nodes)
    for branch, a in zip(network.branches, point.branch_a, strict=True):
        total[branch.start] += a
        total[branch.end] -= a
    for load, a in zip(network.loads, point.load_a, strict=True):
        total[load.positive] += a
        total[load.negative] -= a
    for elements, amps in ((network.sources, point.source_a), (network.feeds, point.feed_a)):
        for element, a in zip(elements, amps, strict=True):
            total[element.positive] -= a
            total[element.negative] += a
    for c, taken, given_a in zip(network.converters, point.converter_in_a, point.converter_out_a, strict=True):
        total[c.input_positive] += taken
        total[c.input_negative] -= taken
        total[c.output_positive] -= given_a
        total[c.output_negative] += given_a
    assert max(map(abs, total)) < 1e-6
    assert point.residual_a < 1e-6


@calm
@given(supplies())
def test_energy_balances(supply):
    """What batteries and chargers give is what loads take and what wires, batteries and converters lose."""
    network, corner = supply
    point = solve(network, corner)
    v = point.voltage_v
    given_w = sum(e * a for e, a in zip(corner.source_v, point.source_a, strict=True))
    given_w += sum(a * (v[f.positive] - v[f.negative]) for f, a in zip(network.feeds, point.feed_a, strict=True))
    taken_w = sum(u * a for u, a in zip(point.load_v, point.load_a, strict=True))
    lost_w = sum(r * a * a for r, a in zip(corner.branch_ohm, point.branch_a, strict=True) if a)
    lost_w += sum(r * a * a for r, a in zip(corner.source_ohm, point.source_a, strict=True))
    for i, c in enumerate(network.converters):
        in_w = point.converter_in_a[i] * (v[c.input_positive] - v[c.input_negative])
        out_w = point.converter_out_a[i] * (v[c.output_positive] - v[c.output_negative])
        law, mode = corner.converters[i], point.converter_mode[i]
        if mode in ("regulating", "limiting"):
            loss_w = law.loss_w + law.loss_fraction * out_w + law.loss_per_w * out_w**2
            assert in_w - out_w == pytest.approx(loss_w, rel=1e-6, abs=1e-6)
        if mode != "off":
            assert in_w >= out_w - 1e-6
        lost_w += in_w - out_w
    assert given_w == pytest.approx(taken_w + lost_w, rel=1e-7, abs=1e-5)


@calm
@given(supplies())
def test_no_current_flows_uphill_and_no_voltage_is_higher_than_its_source(supply):
    network, corner = supply
    point = solve(network, corner)
    v = point.voltage_v
    for branch, a in zip(network.branches, point.branch_a, strict=True):
        assert a * (v[branch.start] - v[branch.end]) >= 0.0
    highest = max([*corner.source_v, *(f.set_v for f in corner.feeds), *(c.set_v for c in corner.converters)])
    assert max(point.load_v, default=0.0) <= highest + 1e-6
    assert min(point.load_v, default=0.0) >= -1e-6


@calm
@given(resistive(), st.data())
def test_a_thicker_wire_never_takes_less_from_the_batteries(supply, data):
    """Rayleigh: no resistance that falls makes the resistance between two points of a passive net rise."""
    network, corner = supply
    place = data.draw(st.integers(0, len(network.branches) - 1))
    ohms = list(corner.branch_ohm)
    ohms[place] *= data.draw(st.floats(0.05, 0.95))
    before, after = solve(network, corner), solve(network, replace(corner, branch_ohm=tuple(ohms)))
    assert sum(after.source_a) >= sum(before.source_a) - 1e-9


@calm
@given(resistive(), st.data())
def test_a_thicker_wire_never_lowers_a_voltage_behind_it(supply, data):
    """In a tree fed at its root: what lies beyond the wire gains (what lies before it may well lose a little)."""
    network, corner = supply
    n_wire = sum(branch.name.startswith("b") for branch in network.branches)
    network = replace(network, branches=network.branches[:n_wire], sources=network.sources[:1])
    corner = replace(corner, source_v=corner.source_v[:1], source_ohm=corner.source_ohm[:1])
    place = data.draw(st.integers(0, n_wire - 1))
    ohms = list(corner.branch_ohm[:n_wire])
    before = solve(network, replace(corner, branch_ohm=tuple(ohms)))
    ohms[place] *= data.draw(st.floats(0.05, 0.95))
    after = solve(network, replace(corner, branch_ohm=tuple(ohms)))
    beyond = {network.branches[place].end}
    for branch in network.branches:
        if branch.start in beyond:
            beyond.add(branch.end)
    for load, a, b in zip(network.loads, before.load_v, after.load_v, strict=True):
        assert load.positive not in beyond or b >= a - 1e-9


@calm
@given(resistive())
def test_reciprocity(supply):
    """An ampere drawn here moves the voltage there as much as an ampere drawn there moves it here."""
    network, corner = supply
    a, b = 1, len(network.nodes) - 1
    taps = (*network.loads, Load("here", a, 0), Load("there", b, 0))
    wide = replace(network, loads=taps)

    def moved(first_a, second_a):
        laws = (*corner.loads, LoadState(current_a=first_a, floor_v=1e-3), LoadState(current_a=second_a, floor_v=1e-3))
        return solve(wide, replace(corner, loads=laws)).voltage_v

    idle, here, there = moved(0.0, 0.0), moved(0.01, 0.0), moved(0.0, 0.01)
    assert idle[b] - here[b] == pytest.approx(idle[a] - there[a], rel=1e-6, abs=1e-12)
    assert fault_at(wide, replace(corner, loads=(*corner.loads, LoadState(), LoadState())), a).ohm > 0.0


@calm
@given(supplies(), st.randoms(use_true_random=False))
def test_the_order_of_elements_does_not_matter(supply, dice):
    network, corner = supply

    def shuffled(elements, *laws):
        order = list(range(len(elements)))
        dice.shuffle(order)
        return order, [tuple(x[k] for k in order) for x in (elements, *laws)]

    branch_order, (branches, ohms) = shuffled(network.branches, corner.branch_ohm)
    load_order, (loads, laws) = shuffled(network.loads, corner.loads)
    converter_order, (converters, settings_of) = shuffled(network.converters, corner.converters)
    mixed = replace(network, branches=branches, loads=loads, converters=converters)
    mixed_corner = replace(corner, branch_ohm=ohms, loads=laws, converters=settings_of)
    one, other = solve(network, corner), solve(mixed, mixed_corner)
    assert one.voltage_v == pytest.approx(other.voltage_v, rel=1e-6, abs=1e-6)
    assert [one.branch_a[k] for k in branch_order] == pytest.approx(list(other.branch_a), rel=1e-5, abs=1e-5)
    assert [one.load_on[k] for k in load_order] == list(other.load_on)
    assert [one.converter_mode[k] for k in converter_order] == list(other.converter_mode)
    assert {(e.kind, e.element) for e in one.events} == {(e.kind, e.element) for e in other.events}


@calm
@given(st.integers(0, 5000))
def test_the_margin_is_where_the_operating_point_ends(seed):
    network, corner = grow(seed)
    factor = loading_margin(network, corner).factor
    if not 1e-3 < factor < 1e3:
        return
    # a converter's input current jumps a little where it stops regulating: there the end is known to a percent
    assert solve(network, scaled(corner, 0.99 * factor)).events == ()
    assert loading_margin(network, scaled(corner, 0.5 * factor)).factor == pytest.approx(2.0, rel=1e-2)
