"""Invented supplies with invented faults: the true supply, and what its builder believes.

Wrong wires, wrong fuses and swapped circuits are written into a second site file, the true one; other faults
move a parameter of it. A meter that errs is part of the invention. Everything follows from a seed.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from math import exp, log
from random import Random

from ohmstead.bench.diagnosis import Fault
from ohmstead.bench.observation import Observation
from ohmstead.bench.points import Point
from ohmstead.bench.situation import Bench, Situation, bench_of
from ohmstead.network.operate import operate
from ohmstead.parts.wire import standard_sizes
from ohmstead.site.kinds import Converter, Device
from ohmstead.site.read import read_text

SIZES = [float(text.split()[0]) for text in standard_sizes("mm2")]
BLADES = (1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30)
FAMILIES = ("joint", "joint", "joint", "set-point", "idle", "draw", "wire", "fuse", "swap", "meter")


@dataclass
class Way:
    """One circuit of a block as it is written in the file."""

    block: str
    way: int
    to: str
    length_m: float
    size_mm2: float
    fuse_a: float


@dataclass
class Invention:
    """A supply as data; `text` writes it as a site file."""

    cells: int
    capacity_ah: int
    main: list[str]
    parts: list[str]
    ways: list[Way]
    behind: list[str]
    faults: list[tuple[str, str, str]] = field(default_factory=list)  # kind, subject, place, as of a suspect
    moved: list[tuple[str, float]] = field(default_factory=list)  # parameter id, what is added to it
    zero_v: float = 0.0

    def text(self, ways: Sequence[Way]) -> str:
        runs = [
            f"  - {{from: {w.block} / {w.way}, to: {w.to}, length: {w.length_m} m, "
            f"wire: {w.size_mm2:g} mm2, fuse: {w.fuse_a:g} A blade}}"
            for w in ways
        ]
        return "\n".join(
            [
                "ohmstead: 1",
                "site: {name: invented}",
                "battery:",
                f"  bank: {{chemistry: LFP, cells: {self.cells}, capacity: {self.capacity_ah} Ah}}",
                "parts:", *self.parts, "runs:", *self.main, *runs, *self.behind, "",
            ]
        )  # fmt: skip


def supply(dice: Random) -> Invention:
    """A battery, one or two fuse blocks, converters and devices."""
    cells = dice.choice((4, 8, 16))
    volts = 3.2 * cells
    found = Invention(cells, dice.choice((50, 100, 280)), [], [], [], [])
    blocks = ["block"] if dice.random() < 0.6 else ["block", "far block"]
    for block in blocks:
        found.parts.append(f"  {block}: {{kind: distribution, ways: 8, total: 100 A, per way: 30 A}}")
    found.main.append("  - {from: bank, to: block, length: 0.8 m, wire: 16 mm2, fuse: 60 A class T}")
    if len(blocks) == 2:
        length = round(dice.uniform(3, 8), 1)
        found.main.append(f"  - {{from: block, to: far block, length: {length} m, wire: 10 mm2, fuse: 40 A strip}}")
    for k in range(dice.randint(3, 7)):
        block = dice.choice(blocks)
        number = 1 + sum(w.block == block for w in found.ways)
        if dice.random() < 0.35:
            name, watts = _converter(found, dice, k, volts)
        else:
            name, watts = f"lamp {k}", dice.uniform(3, 0.7 * volts * 3)
            found.parts.append(_device(dice, name, f"{0.7 * volts:.1f}..{1.3 * volts:.1f} V", watts))
        most_a = watts / volts
        fuse = next(a for a in BLADES if a >= 1.6 * most_a)
        length = round(dice.uniform(0.5, 9.0), 1)
        need = max(0.036 * length * most_a / (0.03 * volts), fuse / 8.0, 0.75)
        size = next(s for s in SIZES if s >= need)
        found.ways.append(Way(block, number, name, length, size, fuse))
    return found


def _device(dice: Random, name: str, window: str, watts: float) -> str:
    idle = watts * dice.uniform(0.1, 0.5)
    return f"  {name}: {{kind: device, input: {window}, draws: {{idle: {idle:.2f} W, on: {watts:.2f} W}}}}"


def _converter(found: Invention, dice: Random, k: int, volts: float) -> tuple[str, float]:
    name, set_v = f"supply {k}", dice.choice((5.0, 12.0, 19.0, 48.0))
    kind = "buck" if set_v < 0.8 * volts else "boost" if set_v > 1.3 * volts else "buck-boost"
    rating = dice.choice((30, 60, 100))
    found.parts.append(
        f"  {name}: {{kind: converter, type: {kind}, input: {0.7 * volts:.1f}..{1.3 * volts:.1f} V, "
        f"output: {set_v:g} V ± 1 %, rating: {rating} W, idle: {dice.uniform(0.1, 0.5):.2f} W, efficiency: 0.9}}"
    )
    n = dice.randint(1, 2)
    for m in range(n):
        watts = dice.uniform(0.1, 0.35) * rating
        device = f"box {k}{'ab'[m]}"
        found.parts.append(_device(dice, device, f"{0.85 * set_v:.2f}..{1.15 * set_v:.2f} V", watts))
        size = next(s for s in SIZES if s >= max(0.75, watts / set_v / 4))
        found.behind.append(
            f"  - {{from: {name}, to: {device}, length: {dice.uniform(0.4, 2):.1f} m, wire: {size:g} mm2}}"
        )
    return name, rating / 0.9 / 1.5


@dataclass
class Case:
    """What the builder believes, what is true, and what the faults are called."""

    invention: Invention
    believed: Bench
    true: Bench
    values: list[float]
    names: dict[str, str]  # run as believed -> run that the probes really meet there
    opened: dict[int, int]  # number of a run as believed -> number of the run that its fuse really opens


def invent(seed: int, n_fault: int) -> Case:
    """A supply with so many faults."""
    dice = Random(seed)
    found = supply(dice)
    believed = bench_of(operate(read_text(found.text(found.ways))))
    true_ways, names, opened = [replace(w) for w in found.ways], {}, {}
    while len(found.faults) < n_fault:
        _add_fault(found, dice, believed, true_ways, (names, opened))
    true = bench_of(operate(read_text(found.text(true_ways))))
    values = [
        dice.uniform(p.bounds.low, p.bounds.high) if p.shape == "uniform" else dice.gauss(p.bounds.nominal, p.sigma)
        for p in true.parameters
    ]
    for name, more in found.moved:
        values[true.at[_true_id(name, names)]] += more
    return Case(found, believed, true, values, names, opened)


def _true_id(name: str, names: dict[str, str]) -> str:
    """The parameter of the run that is really there."""
    head, _, run = name.partition(" of ")
    return f"{head} of {names.get(run, run)}"


def _log_uniform(dice: Random, low: float, high: float) -> float:
    return exp(dice.uniform(log(low), log(high)))


def _add_fault(
    found: Invention, dice: Random, bench: Bench, ways: list[Way], swapped: tuple[dict[str, str], dict[int, int]]
) -> None:
    kind = dice.choice(FAMILIES)
    site, used = bench.operation.site, {name for _, *both in found.faults for name in both}
    runs = [run for run in bench.runs.values() if run.run.name not in used]
    if kind == "joint":
        run = dice.choice(runs)
        place = dice.choice([p for p in run.resistors if p != "fuse"])
        far = run.run.end.part
        watts = max([d.power_w.high for d in getattr(site.parts.get(far), "draws", ())], default=60.0)
        volts = site.parts[far].input_v.nominal if getattr(site.parts[far], "input_v", None) else 3.2 * found.cells
        most = 0.08 * volts**2 / max(watts, 1.0) if "block" not in far else 0.05  # nobody overlooks a brown-out
        ohm = _log_uniform(dice, 0.01, min(2.0, max(most, 0.02)))
        head = "holder" if place == "holder" else f"joint {place}"
        found.moved.append((f"{head} of {run.run.name}", ohm))
        found.faults.append(("joint", run.run.name, place))
    elif kind in ("set-point", "idle"):
        names = [n for n, p in site.parts.items() if isinstance(p, Converter) and n not in used]
        if not names:
            return
        name = dice.choice(names)
        usual = bench.parameters[bench.at[f"{kind} of {name}"]].bounds.nominal
        share = dice.choice((-1, 1)) * dice.uniform(0.03, 0.1) if kind == "set-point" else dice.uniform(0.6, 3.0)
        found.moved.append((f"{kind} of {name}", share * usual))
        found.faults.append((kind, name, ""))
    elif kind == "draw":
        device = dice.choice([p for n, p in site.parts.items() if isinstance(p, Device) and n not in used])
        state = dice.choice(device.draws)
        found.moved.append((f"draw {state.state} of {device.name}", dice.uniform(0.6, 1.5) * state.power_w.nominal))
        found.faults.append(("draw", device.name, state.state))
    elif kind == "meter" and "meter" not in used:
        if dice.random() < 0.5:
            found.zero_v = dice.choice((-1, 1)) * _log_uniform(dice, 0.02, 0.5)
            found.faults.append(("zero", "meter", "volts"))
        else:
            found.moved.append(("meter volts gain of meter", dice.choice((-1, 1)) * dice.uniform(0.03, 0.1)))
            found.faults.append(("gain", "meter", "volts"))
    elif kind in ("wire", "fuse", "swap"):
        _in_the_file(found, dice, ways, swapped, kind)


def _in_the_file(
    found: Invention, dice: Random, ways: list[Way], swapped: tuple[dict[str, str], dict[int, int]], kind: str
) -> None:
    used = {name for _, *both in found.faults for name in both}
    names = {w.to: f"{w.block} / {w.way} -> {w.to}" for w in found.ways}
    free = [k for k, w in enumerate(found.ways) if names[w.to] not in used and w.to not in used]
    if not free or (kind == "swap" and swapped[0]):
        return
    k = dice.choice(free)
    way = ways[k]
    if kind == "wire":
        at = SIZES.index(way.size_mm2)
        way.size_mm2 = SIZES[max(0, at - dice.choice((1, 1, 2)))] if dice.random() < 0.75 and at else SIZES[at + 1]
        found.faults.append(("wire", names[way.to], ""))
    elif kind == "fuse":
        at = BLADES.index(way.fuse_a)
        way.fuse_a = BLADES[min(at + dice.choice((1, 2)), len(BLADES) - 1)]
        found.faults.append(("fuse", names[way.to], ""))
    else:
        others = [m for m in free if m != k and ways[m].block == way.block]
        if not others:
            return
        other = ways[dice.choice(others)]
        pair = sorted((names[way.to], names[other.to]))
        believed = [(w.block, w.way, w.to) for w in found.ways]
        way.way, other.way = other.way, way.way
        way.fuse_a, other.fuse_a = other.fuse_a, way.fuse_a
        for mine, its in ((way, other), (other, way)):
            # probes at way n of the block meet the cable of the other device
            swapped[0][names[its.to]] = f"{mine.block} / {mine.way} -> {mine.to}"
            assert (mine.block, mine.way, its.to) in believed
        first = 1 + len(found.main)
        a, b = found.ways.index(next(w for w in found.ways if w.to == way.to)), 0
        b = found.ways.index(next(w for w in found.ways if w.to == other.to))
        swapped[1].update({first + a: first + b, first + b: first + a})
        found.faults.append(("swap", pair[0], pair[1]))


def full_readings(bench: Bench) -> list[tuple[Point, Situation]]:
    """Everything a patient builder reads: one fuse after the other, then every voltage, current and drop."""
    site = bench.operation.site
    devices = [p for p in site.parts.values() if isinstance(p, Device)]
    numbers = [r.run.number for r in bench.runs.values() if r.run.start.way is not None]
    idle = {d.name: "idle" for d in devices}
    found: list[tuple[Point, Situation]] = []
    bare = Situation("no load", {}, frozenset())
    for name, part in site.parts.items():
        if isinstance(part, Converter):
            supply_run = next(r.run.name for r in bench.runs.values() if r.run.end.part == name)
            found += [(Point("voltage", f"{name} out"), bare), (Point("current", supply_run, method="amps"), bare)]
    for k, number in enumerate(numbers, 1):
        situation = Situation(f"fuse {k}", idle, frozenset(numbers[k:]))
        run = bench.runs[number].run
        found += [(Point("current", run.name, method="amps"), situation), (Point("voltage", "block"), situation)]
        found.append((Point("voltage", run.end.part if f"{run.end.part} in" not in bench.circuit.positive
                            else f"{run.end.part} in"), situation))  # fmt: skip
    for situation in (Situation("all idle", idle), Situation("all on", {d.name: "on" for d in devices})):
        found += [(Point("voltage", point), situation) for point in bench.circuit.map.points]
        for run in bench.runs.values():
            found.append((Point("current", run.run.name, method="amps"), situation))
            if situation.name == "all on":
                found += [(Point("drop", run.run.name, place), situation) for place in run.places()]
    return found


def really(case: Case, point: Point, situation: Situation) -> tuple[Point, Situation]:
    """Where the probes and fuses really are: the way of a block that the builder means carries another cable."""
    opened = frozenset(case.opened.get(number, number) for number in situation.opened)
    at = point.at
    if point.quantity == "current" or (
        point.quantity == "drop" and point.place in ("near +", "near -", "holder", "fuse")
    ):
        at = case.names.get(point.at, point.at)
    elif point.quantity == "drop":  # wire and far end are followed from the device
        at = _at_device(case, point.at)
    return replace(point, at=at), replace(situation, opened=opened)


def _at_device(case: Case, run: str) -> str:
    device = run.rpartition(" -> ")[2]
    return next((name for name in case.names.values() if name.endswith(f" -> {device}")), run)


def observed(
    case: Case, wanted: Sequence[tuple[Point, Situation]], exact: Sequence[float], seed: int
) -> list[Observation]:
    """What the meter shows of exact readings: its gain, its zero, its counts, its last digit."""
    dice = Random(seed)
    meter, at = case.true.meter, case.true.at
    found = []
    for (point, situation), true in zip(wanted, exact, strict=True):
        value = true * (1.0 + case.values[at[f"meter {point.method} gain of meter"]])
        value += case.invention.zero_v if point.method == "volts" else 0.0
        function = meter.function(point.method)
        noise, digit = function.counts(value), function.scale(value).digit_value
        value = round((value + dice.uniform(-noise, noise)) / digit) * digit
        found.append(Observation(point, situation, value))
    return found


def named(faults: Sequence[Fault]) -> set[tuple[str, str, str]]:
    """Faults of an explanation as the inventions name them; of swapped circuits in the order of their names."""
    return {(f.kind, *sorted((f.subject, f.place))) if f.kind == "swap" else f.key for f in faults}
