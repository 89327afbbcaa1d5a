"""The diagnosis on a small supply: what is found, what cannot be told apart, what to read next."""

from dataclasses import replace

import numpy as np
import pytest

from bench.small import TEXT, bench, readings
from ohmstead.bench.diagnose import diagnose
from ohmstead.bench.expect import expectations
from ohmstead.bench.expect import solved as solve_at
from ohmstead.bench.in_words import differing_words, explanation_words
from ohmstead.bench.points import Point
from ohmstead.bench.situation import Situation, bench_of
from ohmstead.bench.suspects import suspects_of
from ohmstead.bench.telling import Foreseen, information_bits
from ohmstead.bench.watched import block_of, nominal, slopes_of
from ohmstead.bench.weigh import gains
from ohmstead.network.operate import operate
from ohmstead.site.read import read_text

LAMPS = "block / 1 -> lamps"
CRIMP = {f"joint far + of {LAMPS}": 0.3}


@pytest.fixture(scope="module")
def supply():
    return bench()


def first(diagnosis):
    return {fault.key for fault in diagnosis.explanations[0].faults}


def test_nothing_wrong_is_said_so(supply):
    for seed in range(5):
        diagnosis = diagnose(supply, readings(supply, {}, seed=seed))
        assert diagnosis.verdict == "fine"
        assert diagnosis.explanations[0].faults == ()


@pytest.mark.parametrize(
    ("changes", "fault"),
    [
        (CRIMP, ("joint", LAMPS, "far +")),
        ({"holder of block / 2 -> pump": 0.02}, ("joint", "block / 2 -> pump", "holder")),
        ({"set-point of rack supply": 2.5}, ("set-point", "rack supply", "")),
        ({"idle of rack supply": 0.4}, ("idle", "rack supply", "")),
        ({"draw idle of pump": 2.0}, ("draw", "pump", "idle")),
        ({"meter volts gain of meter": 0.06}, ("gain", "meter", "volts")),
    ],
)
def test_one_fault_is_found_by_joint_readings(supply, changes, fault):
    diagnosis = diagnose(supply, readings(supply, changes, "joints"))
    assert diagnosis.verdict == "found"
    assert first(diagnosis) == {fault}
    assert diagnosis.explanations[0].probability_fraction > 0.9
    found, true = diagnosis.explanations[0].faults[0], next(iter(changes.values()))
    own = supply.parameters[supply.at[next(iter(changes))]].half  # the part itself strays as well
    assert abs(found.size - true) < 4.0 * found.uncertainty + own


def test_a_zero_error_of_the_meter_is_found(supply):
    shifted = [
        replace(o, value=o.value + 0.2) if o.point.method == "volts" else o for o in readings(supply, {}, "joints")
    ]
    diagnosis = diagnose(supply, shifted)
    assert first(diagnosis) == {("zero", "meter", "volts")}
    assert diagnosis.explanations[0].faults[0].size == pytest.approx(0.2, abs=0.01)


@pytest.mark.parametrize(
    ("written", "built", "fault", "name"),
    [
        ("wire: 1.5 mm2, fuse: 5 A", "wire: 0.75 mm2, fuse: 5 A", ("wire", LAMPS, ""), "0.75 mm2"),
        ("fuse: 7.5 A blade", "fuse: 15 A blade", ("fuse", "block / 3 -> rack supply", ""), "15 A"),
    ],
)
def test_the_wrong_wire_and_the_wrong_fuse_are_named(supply, written, built, fault, name):
    assert written in TEXT
    diagnosis = diagnose(supply, readings(bench(TEXT.replace(written, built)), {}, "joints"))
    assert first(diagnosis) == {fault}
    assert diagnosis.explanations[0].faults[0].name == name


def test_swapped_circuits_are_found(supply):
    """The cables of lamps and pump at each other's way: the probes at way 1 meet the pump."""
    text = (
        TEXT.replace("block / 1, to: lamps", "block / X, to: lamps")
        .replace("block / 2, to: pump", "block / 1, to: pump")
        .replace("block / X", "block / 2")
        .replace("fuse: 5 A", "fuse: X")
        .replace("fuse: 10 A", "fuse: 5 A")
        .replace("fuse: X", "fuse: 10 A")
    )
    true, behind = bench(text), {2: 3, 3: 2}  # numbers of the runs as they stand in the file
    at_way = {LAMPS: "block / 1 -> pump", "block / 2 -> pump": "block / 2 -> lamps"}
    taken = []
    for o in readings(supply, {}):
        opened = frozenset(behind.get(number, number) for number in o.situation.opened)
        point = replace(o.point, at=at_way.get(o.point.at, o.point.at))
        exact = solve_at(true, replace(o.situation, opened=opened)).reading(point)
        taken.append(replace(o, value=exact))
    diagnosis = diagnose(supply, taken)
    assert first(diagnosis) == {("swap", LAMPS, "block / 2 -> pump")}
    assert "swapped" in explanation_words(diagnosis.explanations[0])


def test_two_faults_are_found(supply):
    changes = {**CRIMP, "set-point of rack supply": 1.0}
    diagnosis = diagnose(supply, readings(supply, changes, "joints"))
    assert first(diagnosis) == {("joint", LAMPS, "far +"), ("set-point", "rack supply", "")}
    shares = {s.fault.key: s.probability_fraction for s in diagnosis.suspicions}
    assert shares["set-point", "rack supply", ""] > 0.99


def test_what_cannot_be_told_apart_and_what_would_tell(supply):
    diagnosis = diagnose(supply, readings(supply, CRIMP, "runs"))
    alike = {key for k in diagnosis.alike[0] for key in {f.key for f in diagnosis.explanations[k].faults}}
    joints = {("joint", LAMPS, place) for place in ("near +", "near -", "far +", "far -", "holder")}
    assert joints <= alike
    best = diagnosis.next_readings[0]
    assert (best.point.quantity, best.point.at) == ("drop", LAMPS)
    assert best.bits > 0.5
    told = differing_words([diagnosis.explanations[k] for k in diagnosis.alike[0]])
    assert len(set(told)) == len(told)


def test_the_next_reading_tells(supply):
    """Taking the proposed readings one after the other ends with the true joint alone."""
    taken = readings(supply, CRIMP, "runs")
    every = {(o.point.id, o.situation.name): o for o in readings(supply, CRIMP, "joints")}
    for _ in range(5):
        diagnosis = diagnose(supply, taken)
        if not diagnosis.next_readings:
            break
        best = diagnosis.next_readings[0]
        taken.append(every[best.point.id, best.situation.name])
    assert first(diagnose(supply, taken)) == {("joint", LAMPS, "far +")}


def test_readings_of_another_supply_are_not_explained(supply):
    dice = np.random.default_rng(7)
    wild = [replace(o, value=o.value * dice.uniform(0.4, 1.6)) for o in readings(supply, {}, "runs")]
    assert diagnose(supply, wild).verdict == "unexplained"


def test_probabilities_are_probabilities(supply):
    for depth in ("voltages", "runs", "joints"):
        diagnosis = diagnose(supply, readings(supply, CRIMP, depth))
        shares = [e.probability_fraction for e in diagnosis.explanations]
        assert shares == sorted(shares, reverse=True)
        assert 0.9 < sum(shares) <= 1.0 + 1e-9
        assert all(0.0 <= s.probability_fraction <= 1.0 for s in diagnosis.suspicions)


def test_a_single_reading_accuses_nobody(supply):
    one = readings(supply, {}, "voltages")[:1]
    diagnosis = diagnose(supply, one)
    assert diagnosis.explanations[0].faults == ()
    with pytest.raises(ValueError, match="no readings"):
        diagnose(supply, [])


def test_the_dense_slopes_are_those_of_the_adjoint_method(supply):
    on = Situation("all on", {"lamps": "on", "pump": "on", "recorder": "on"})
    points = [Point("voltage", at) for at in supply.circuit.map.points]
    points += [Point("current", r.run.name, method=m) for r in supply.runs.values() for m in ("amps", "clamp")]
    points += [Point("drop", r.run.name, place) for r in supply.runs.values() for place in ("run", *r.places())]
    found = solve_at(supply, on)
    dense = slopes_of(found, points, np.array([found.reading(p) for p in points]))
    rows = expectations(supply, on, points)
    sparse = np.array([[row.slopes.get(k, 0.0) for k in range(len(supply.parameters))] for row in rows])
    assert np.max(np.abs(dense - sparse)) < 1e-9 * np.max(np.abs(sparse))


def test_the_straight_line_is_that_of_the_exact_solver(supply):
    on = Situation("all on", {"lamps": "on", "pump": "on", "recorder": "on"})
    points = (Point("voltage", "lamps"), Point("drop", LAMPS, "far +"), Point("current", LAMPS, method="amps"))
    column, step = supply.at[f"joint far + of {LAMPS}"], 1e-4
    at = nominal(supply)
    moved = at.copy()
    moved[column] += step
    here, there = (block_of(supply, on, (0, 1, 2), points, values) for values in (at, moved))
    assert (there.y - here.y) / step == pytest.approx(here.slopes[:, column], rel=1e-3)


def test_gains_are_the_integral_over_sizes(supply):
    """Against numerical integration of prior times likelihood."""
    suspect = next(s for s in suspects_of(supply, []) if s.id == f"joint far + of {LAMPS}")
    x, y = 900.0, 250.0
    for k in (0, 4, len(suspect.sizes) - 1):
        c, s = suspect.sizes[k], np.sqrt(suspect.variances[k])
        grid = np.linspace(c - 10 * s, c + 10 * s, 400_001)
        prior = np.exp(-0.5 * ((grid - c) / s) ** 2) / (s * np.sqrt(2 * np.pi))
        whole = np.trapezoid(prior * np.exp(y * grid - 0.5 * x * grid**2 - y * y / x / 2), grid)
        expected = np.log(suspect.shares[k] * whole) + y * y / x / 2
        assert gains(suspect, x, y)[k] == pytest.approx(expected, rel=1e-6, abs=1e-6)


def test_information_is_bounded_by_what_is_open():
    weights = np.array([0.7, 0.2, 0.1])
    open_bits = -float(np.sum(weights * np.log2(weights)))
    near = [Foreseen(np.array([m]), np.array([1.0])) for m in (0.0, 0.5, 1.0)]
    far = [Foreseen(np.array([m]), np.array([1.0])) for m in (0.0, 60.0, 120.0)]
    alike = [Foreseen(np.array([3.0]), np.array([1.0]))] * 3
    assert float(information_bits(weights, far)[0]) == pytest.approx(open_bits, rel=1e-6)
    assert 0.0 < float(information_bits(weights, near)[0]) < open_bits
    assert float(information_bits(weights, alike)[0]) == pytest.approx(0.0, abs=1e-9)


def test_a_supply_of_two_wires_apart(supply):
    """The negative wire of its own run: its joint is told from the positive one by the drops."""
    text = TEXT.replace(
        "  - {from: block / 1, to: lamps, length: 6 m, wire: 1.5 mm2, fuse: 5 A blade}",
        "  - {from: block / 1, to: lamps, length: 6 m, wire: 1.5 mm2, wires: positive, fuse: 5 A blade}\n"
        "  - {from: block, to: lamps, length: 6 m, wire: 1.5 mm2, wires: negative}",
    )
    apart = bench_of(operate(read_text(text)))
    run = next(r.run.name for r in apart.runs.values() if "negative" in r.run.name)
    diagnosis = diagnose(apart, readings(apart, {f"joint far - of {run}": 0.3}, "joints"))
    assert first(diagnosis) == {("joint", run, "far -")}
