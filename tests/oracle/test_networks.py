"""Operating points of generated networks against ngspice, node by node."""

from collections.abc import Sequence

import pytest

from ohmstead.network.elements import Corner, Network
from ohmstead.network.margin import loading_margin
from ohmstead.network.netlist import OPTIONS, elements, netlist, nodeset
from ohmstead.network.solve import solve
from oracle.grow import at_margin, grow, scaled
from oracle.spice import batch, voltages

AGREEMENT = 1e-3  # asked for: 0.1 % of every node voltage
EXPECTED = 1e-6  # what two exact solvers reach, also at a loading margin of 1.02
SEEDS = range(240)
MARGINS = (1.02, 1.1, 1.3, 1.8, 3.0, 8.0)


def simulated(network: Network, corner: Corner, start_v: tuple[float, ...] | None) -> list[float] | None:
    """Node voltages by ngspice from the flat start, or from given voltages."""
    lines = elements(network, corner)
    if start_v is not None:
        lines = [line for line in lines if not line.startswith(".nodeset")] + nodeset(start_v)
    return voltages(["generated", *lines, OPTIONS], len(network.nodes))


def deviation(ours: tuple[float, ...], theirs: list[float]) -> float:
    """Largest difference relative to the voltage, to one volt where it is lower."""
    return max(abs(a - b) / max(1.0, abs(b)) for a, b in zip(ours, theirs, strict=True))


@pytest.mark.needs_ngspice
@pytest.mark.parametrize("margin", MARGINS)
def test_every_node_voltage_agrees(margin, outside):
    worst, n_solved, n_nudged = 0.0, 0, 0
    modes: set[str] = set()
    for seed in SEEDS:
        if MARGINS[seed % len(MARGINS)] != margin:
            continue
        network, corner = grow(seed)
        corner = at_margin(network, corner, margin)
        point = solve(network, corner)
        if point.events:
            continue  # collapsed: see test_collapse
        found = simulated(network, corner, None)
        if found is None or deviation(point.voltage_v, found) > AGREEMENT:
            # ngspice lost its way from the flat start: let it judge our answer by its own equations
            n_nudged += 1
            found = simulated(network, corner, point.voltage_v)
        assert found is not None, f"ngspice finds no operating point in {corner.name}"
        off = deviation(point.voltage_v, found)
        assert off < EXPECTED, f"{corner.name}: {off:.2e}"
        assert point.residual_a < 1e-6
        worst = max(worst, off)
        n_solved += 1
        modes.update(point.converter_mode, point.feed_mode)
    outside(
        source="ngspice",
        place="operating point",
        read="original",
        what=f"every node voltage of {n_solved} generated networks at a loading margin of {margin}",
        deviation=worst,
    )
    assert n_solved >= 30
    assert n_nudged <= 0.2 * n_solved
    assert {"regulating", "passing"} <= modes


@pytest.mark.needs_ngspice
def test_the_netlist_runs_as_it_is_exported(outside):
    network, corner = grow(19)
    printed = batch(netlist(network, corner))
    point = solve(network, corner)
    found = [0.0] + [printed[f"v(n{k})"] for k in range(1, len(network.nodes))]
    worst = deviation(point.voltage_v, found)
    outside(source="ngspice", place="batch mode", read="original", what="exported netlist, as is", deviation=worst)
    assert worst < EXPECTED


def stays_up(network: Network, corner: Corner, start_v: tuple[float, ...]) -> bool:
    """Whether ngspice, with constant power that has no resistive limb at all, finds an operating point nearby.

    Nearby: every load and converter input within a fifth of its voltage in `start_v`. Behind a converter that
    falls into its current limit there may be another point at a fraction of the voltage: that is a collapse.
    """
    lines = []
    for line in elements(network, corner):
        if line.startswith("bl"):  # i = volts > floor ? power/volts + current : limb*volts
            head, law = line.split(" ? ")
            line = head.rsplit("i=", 1)[0] + "i=" + law.split(" : ")[0]
        if not line.startswith(".nodeset"):
            lines.append(line)
    v = voltages(["no limb", *lines, *nodeset(start_v), OPTIONS], len(network.nodes))
    return v is not None and not fell(network, start_v, v)


def fell(network: Network, before_v: Sequence[float], after_v: Sequence[float]) -> bool:
    """Whether a load or a converter input is more than a fifth away from its voltage before."""
    ends = [(e.positive, e.negative) for e in network.loads]
    ends += [(c.input_positive, c.input_negative) for c in network.converters]
    pairs = [(before_v[a] - before_v[b], after_v[a] - after_v[b]) for a, b in ends]
    return any(abs(after - before) > 0.2 * before for before, after in pairs)


@pytest.mark.needs_ngspice
def test_collapse_is_seen_by_both(outside):
    step = 2e-4
    checked = 0
    for seed in range(300, 370):
        network, corner = grow(seed)
        margin = loading_margin(network, corner)
        if not 0.01 < margin.factor < 1e3:
            continue
        below, above = (scaled(corner, margin.factor * (1.0 + sign * step)) for sign in (-1.0, 1.0))
        point = solve(network, below)
        assert point.events == (), corner.name
        gone = solve(network, above)
        fallen = fell(network, point.voltage_v, gone.voltage_v)
        assert fallen or [event.kind for event in gone.events][:1] == ["collapsed"], corner.name
        assert stays_up(network, below, point.voltage_v), f"{corner.name} below the nose"
        assert not stays_up(network, above, point.voltage_v), f"{corner.name} above the nose"
        checked += 1
    outside(
        source="ngspice",
        place="operating point, constant power without a limb",
        read="original",
        what=f"point of collapse of {checked} generated networks, bracketed from both sides",
        deviation=step,
    )
    assert checked >= 40


def n_loop(network: Network) -> int:
    """Branches beyond those of a forest."""
    home = list(range(len(network.nodes)))
    for branch in network.branches:
        a, b = home[branch.start], home[branch.end]
        home = [b if island == a else island for island in home]
    return len(network.branches) - (len(network.nodes) - len(set(home)))


def test_the_generator_covers_what_it_promises():
    sizes = [len(grow(seed)[0].nodes) - 1 for seed in SEEDS]
    networks = [grow(seed)[0] for seed in SEEDS]
    assert min(sizes) <= 3
    assert max(sizes) >= 78
    assert sum(len(network.sources) > 1 for network in networks) > 20
    assert sum(n_loop(network) > 0 for network in networks) > 20
    assert sum(len(network.converters) > 3 for network in networks) > 40
