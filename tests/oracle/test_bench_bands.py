"""Readings of fault-free supplies taken by ngspice: the stated 95 % bands hold 93 to 97 % of them.

Every uncertain figure is drawn within its bounds, the circuit goes to ngspice, and readings are made of its node
voltages alone; a meter then errs by its share, its counts and its clamp's zero.
"""

from pathlib import Path
from random import Random

import pytest

from ohmstead import open as open_site
from ohmstead.bench.expect import CONFIDENCE_FRACTION, expectations, solved
from ohmstead.bench.points import Point, run_named
from ohmstead.bench.situation import Bench, Situation, bench_of
from ohmstead.network.elements import Corner
from ohmstead.site.kinds import Device
from oracle.test_networks import simulated

EXAMPLES = Path(__file__).parents[2] / "examples"
SITES = {"observatory": "skerry/skerry-mended.yaml", "salt pan": "saltpan/saltpan.yaml", "cabin": "cabin/cabin.yaml"}
N_DRAW = 60


def points_of(bench: Bench) -> list[Point]:
    found = [Point("voltage", name) for name in bench.circuit.map.points]
    for run in bench.runs.values():
        found.append(Point("current", run.run.name, method="clamp"))
        found += [
            Point("drop", run.run.name, place) for place in (*(f"leg {pole}" for pole in run.poles), *run.resistors)
        ]
    return found


def exact(bench: Bench, values: list[float], corner: Corner, volts: list[float], point: Point) -> float:
    """A reading from node voltages and resistances alone."""
    if point.quantity == "voltage":
        return volts[bench.circuit.positive[point.at]] - volts[bench.circuit.negative[point.at]]
    run = run_named(bench, point.at)
    branch = run.branch_of(point.place) if point.quantity == "drop" else run.branches[0]
    ends = bench.circuit.network.branches[branch]
    current_a = (volts[ends.start] - volts[ends.end]) / corner.branch_ohm[branch]
    return current_a if point.quantity == "current" else current_a * run.place_ohm(values, point.place)[0]


@pytest.mark.needs_ngspice
@pytest.mark.parametrize("name", SITES)
def test_bands_hold_what_they_say_of_simulated_readings(name: str, outside) -> None:
    bench = bench_of(open_site(EXAMPLES / SITES[name]).operation)
    parts = bench.operation.site.parts.items()
    busy = {part: device.draws[-1].state for part, device in parts if isinstance(device, Device) and device.draws}
    situation, points, draw = Situation("busy", busy), points_of(bench), Random(17)
    rows, held, n_reading = expectations(bench, situation, points), 0, 0
    for _ in range(N_DRAW):
        changes = {p.id: draw.uniform(p.bounds.low, p.bounds.high) for p in bench.parameters}
        true = {key: value for key, value in changes.items() if not key.startswith("meter")}
        found = solved(bench, situation, true)
        volts = simulated(bench.circuit.network, found.corner, None)
        if volts is None:
            volts = simulated(bench.circuit.network, found.corner, found.point.voltage_v)
        assert volts is not None
        for row in rows:
            method = row.point.method
            reading = exact(bench, found.values, found.corner, volts, row.point)
            reading *= 1.0 + changes[f"meter {method} gain of meter"]
            reading += changes["meter clamp zero of meter"] if method == "clamp" else 0.0
            reading += draw.uniform(-row.noise_value, row.noise_value)
            held += row.low <= reading <= row.high
            n_reading += 1
    share = held / n_reading
    outside(
        source="ngspice", place="operating point", read="original",
        what=f"share of {n_reading} fault-free readings of the {name} within their 95 % bands",
        deviation=abs(share - CONFIDENCE_FRACTION),
    )  # fmt: skip
    assert 0.93 <= share <= 0.97
