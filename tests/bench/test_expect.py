"""Expected readings: sensitivities against the solver itself, bands against many random sites."""

from pathlib import Path
from random import Random

import numpy as np
import pytest

import ohmstead
from ohmstead.bench.band import half_width
from ohmstead.bench.expect import CONFIDENCE_FRACTION, Expectation, expectations, matrix, predict, solved
from ohmstead.bench.parameters import Surroundings
from ohmstead.bench.points import Point
from ohmstead.bench.situation import Bench, Situation, bench_of
from ohmstead.network.batch import solve_batch
from ohmstead.site.kinds import Device
from ohmstead.study import from_text

EXAMPLES = Path(__file__).parents[2] / "examples"
SITES = ("skerry/skerry-mended.yaml", "cabin/cabin.yaml", "saltpan/saltpan.yaml")
SLOPE_TOLERANCE = 1e-5  # of the reading's own band; what central differences leave

APART = """
ohmstead: 1
battery:
  bank: {chemistry: LFP, cells: 4, capacity: 100 Ah}
parts:
  bar: {kind: busbar}
  back: {kind: busbar}
  lamp: {kind: device, input: 9..16 V, draws: {on: 20 W}, behaves: resistance}
  fan: {kind: device, input: 9..16 V, draws: {on: 6 W}, behaves: constant current}
runs:
  - {from: bank, to: bar, length: 2 m, wire: 6 mm2, wires: positive, fuse: 30 A blade}
  - {from: bank, to: back, length: 2.5 m, wire: 10 mm2, wires: negative}
  - {from: bar, to: lamp, length: 4 m, wire: 1.5 mm2, wires: positive, fuse: 5 A blade}
  - {from: back, to: lamp, length: 3 m, wire: 2.5 mm2, wires: negative}
  - {from: bar, to: fan, length: 4 m, wire: 1.5 mm2, wires: positive, fuse: 3 A blade}
  - {from: back, to: fan, length: 3 m, wire: 2.5 mm2, wires: negative}
"""


def _bench(site: str) -> Bench:
    study = from_text(APART) if site == "apart" else ohmstead.open(EXAMPLES / site)
    return bench_of(study.operation)


def _busy(bench: Bench) -> Situation:
    parts = bench.operation.site.parts.items()
    states = {name: part.draws[-1].state for name, part in parts if isinstance(part, Device) and part.draws}
    return Situation("busy", states)


def _points(bench: Bench) -> list[Point]:
    points = [Point("voltage", name) for name in bench.circuit.map.points]
    points += [Point("current", name) for name in bench.circuit.source_of]
    for run in bench.runs.values():
        points.append(Point("current", run.run.name, method="clamp"))
        points += [Point("drop", run.run.name, place) for place in ("run", *run.places())]
    return [
        Point(p.quantity, p.at, p.place, "amps") if p.method == "volts" and p.quantity == "current" else p
        for p in points
    ]


@pytest.mark.parametrize("site", [*SITES, "apart"])
def test_sensitivities_are_those_of_the_solver(site: str) -> None:
    bench = _bench(site)
    opened = frozenset(run.run.number for run in list(bench.runs.values())[-1:])
    for situation in (_busy(bench), Situation("one run open", _busy(bench).states, opened)):
        points = _points(bench)
        rows = expectations(bench, situation, points)
        for k, parameter in Random(7).sample(list(enumerate(bench.parameters)), 60 if site != "apart" else 40):
            step = parameter.half * 1e-3
            if step < 1e-9:
                continue
            up, down = (
                predict(bench, situation, points, {parameter.id: parameter.bounds.nominal + s}) for s in (step, -step)
            )
            for row, high, low in zip(rows, up, down, strict=True):
                stray = abs((high - low) / (2 * step) - row.slopes.get(k, 0.0)) * parameter.half
                assert stray <= SLOPE_TOLERANCE * (row.high - row.low) + 1e-9, (parameter.id, row.point.id)


def test_drops_add_up_to_the_voltage_lost() -> None:
    bench = _bench("skerry/skerry-mended.yaml")
    run = next(run for run in bench.runs.values() if run.run.name.endswith("-> fridge"))
    name = run.run.name
    places = [Point("drop", name, place) for place in run.places()]
    whole, near, far, *parts = predict(
        bench,
        _busy(bench),
        [Point("drop", name, "run"), Point("voltage", "hide block"), Point("voltage", "fridge"), *places],
    )
    assert whole == pytest.approx(sum(parts), rel=1e-12)
    assert whole == pytest.approx(near - far, rel=1e-9)


def test_the_matrix_is_the_rows() -> None:
    bench = _bench("apart")
    rows = expectations(bench, _busy(bench), [Point("voltage", "lamp")])
    full = matrix(bench, rows)
    assert len(full[0]) == len(bench.parameters)
    assert {k: slope for k, slope in enumerate(full[0]) if slope} == {k: s for k, s in rows[0].slopes.items() if s}


@pytest.mark.parametrize(
    ("limits", "sigma"), [([1.0], 0.3), ([1.0, 0.5], 0.2), ([1, 1, 1, 1], 0.0), ([0.3, 0.02], 1.0), ([1.0, 0.01], 0.0)]
)
def test_half_widths_hold_what_they_say(limits: list[float], sigma: float) -> None:
    draw = np.random.default_rng(11)
    total = sum(draw.uniform(-a, a, 400_000) for a in limits) + draw.normal(0.0, 1.0, 400_000) * sigma
    held = float(np.mean(np.abs(total) <= half_width(limits, sigma)))
    assert held == pytest.approx(CONFIDENCE_FRACTION, abs=0.005)


@pytest.mark.parametrize("site", SITES)
def test_bands_hold_what_they_say(site: str, outside) -> None:
    """Random sites within the tolerances, each solved in full; random errors of the meter on every reading."""
    bench = _bench(site)
    situation, points = _busy(bench), _points(bench)
    rows = expectations(bench, situation, points)
    held = _held(bench, situation, rows, 400)
    overall = float(held.mean())
    worst = float(held.mean(axis=0).min())
    outside(
        source="Monte Carlo",
        place=f"JCGM 101:2008, 7; 400 draws of {site}",
        read="computed",
        what="share of fault-free readings within their 95 % band",
        deviation=abs(overall - CONFIDENCE_FRACTION),
    )
    assert 0.93 <= overall <= 0.97
    assert worst > 0.90  # no single point may be far off; 400 draws of 95 % stray by 1 %


def _held(bench: Bench, situation: Situation, rows: tuple[Expectation, ...], n_case: int) -> np.ndarray:
    draw = np.random.default_rng(5)
    out = np.zeros((n_case, len(rows)), dtype=bool)
    for case in range(n_case):
        changes = {}
        for parameter in bench.parameters:
            b = parameter.bounds
            strayed = (
                draw.uniform(b.low, b.high) if parameter.shape == "uniform" else draw.normal(b.nominal, parameter.sigma)
            )
            changes[parameter.id] = strayed
        found = solved(bench, situation, changes)
        for k, row in enumerate(rows):
            noise = draw.uniform(-row.noise_value, row.noise_value)
            out[case, k] = row.low <= found.reading(row.point) + noise <= row.high
    return out


def test_the_batch_solver_says_the_same() -> None:
    """The same draws solved side by side: node voltages agree with those solved one by one."""
    bench = _bench("skerry/skerry-mended.yaml")
    situation, draw = _busy(bench), Random(3)
    moved = [
        p
        for p in bench.parameters
        if p.kind in ("joint", "fuse", "set-point", "idle", "battery voltage", "battery resistance")
    ]
    many = [{p.id: draw.uniform(p.bounds.low, p.bounds.high) for p in moved} for _ in range(20)]
    single = [solved(bench, situation, changes) for changes in many]
    vary = {}
    for i in range(len(bench.circuit.network.branches)):
        vary["branch_ohm", i] = np.array([s.corner.branch_ohm[i] for s in single])
    for i in range(len(bench.circuit.network.sources)):
        vary["source_v", i] = np.array([s.corner.source_v[i] for s in single])
        vary["source_ohm", i] = np.array([s.corner.source_ohm[i] for s in single])
    for i in range(len(bench.circuit.network.converters)):
        vary["set_v", i] = np.array([s.corner.converters[i].set_v for s in single])
        vary["loss_w", i] = np.array([s.corner.converters[i].loss_w for s in single])
    batch = solve_batch(bench.circuit.network, single[0].corner, vary)
    for k, one in enumerate(single):
        assert batch.voltage_v[k] == pytest.approx(np.array(one.point.voltage_v), abs=1e-6)


def test_a_measured_battery_narrows_the_bands_and_the_meters_error_cancels() -> None:
    bench = _bench("skerry/skerry-mended.yaml")
    known = bench_of(bench.operation, Surroundings(battery_v={"bank": 26.4}))
    points = [Point("voltage", "main bar"), Point("voltage", "fridge")]
    idle = Situation("nothing plugged in")
    before, after = expectations(bench, idle, points), expectations(known, idle, points)
    for wide, narrow in zip(before, after, strict=True):
        assert narrow.high - narrow.low < 0.3 * (wide.high - wide.low)
        gain = narrow.slopes[known.at["meter volts gain of meter"]]
        assert abs(gain) < 0.05 * 26.4
