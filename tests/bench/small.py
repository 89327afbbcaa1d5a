"""A small supply for tests of the diagnosis, and readings of it as an exact meter would take them."""

from collections.abc import Mapping
from random import Random

from ohmstead.bench.expect import solved
from ohmstead.bench.observation import Observation
from ohmstead.bench.points import Point
from ohmstead.bench.situation import Bench, Situation, bench_of
from ohmstead.network.operate import operate
from ohmstead.site.read import read_text

TEXT = """ohmstead: 1
site: {name: Fell cabin}
battery:
  bank: {chemistry: LFP, cells: 8, capacity: 100 Ah, resistance: 4 mΩ}
parts:
  block: {kind: distribution, ways: 6, total: 100 A, per way: 30 A}
  lamps: {kind: device, input: 20..30 V, draws: {idle: 2 W, on: 24 W}}
  pump:  {kind: device, input: 20..30 V, draws: {idle: 1 W, on: 80 W}}
  rack supply: {kind: converter, type: buck, input: 20..32 V, output: 19 V ± 1 %, rating: 90 W,
                idle: 0.3 W, efficiency: 0.93}
  recorder: {kind: device, input: 17..21 V, draws: {idle: 7 W, on: 30 W}}   # on the shelf
runs:
  - {from: bank, to: block, length: 0.8 m, wire: 16 mm2, fuse: 60 A class T}
  - {from: block / 1, to: lamps, length: 6 m, wire: 1.5 mm2, fuse: 5 A blade}
  - {from: block / 2, to: pump, length: 4 m, wire: 2.5 mm2, fuse: 10 A blade}
  - {from: block / 3, to: rack supply, length: 1 m, wire: 2.5 mm2, fuse: 7.5 A blade}
  - {from: rack supply, to: recorder, length: 1.5 m, wire: 1.5 mm2}
"""
DEVICES = ("lamps", "pump", "recorder")


def bench(text: str = TEXT) -> Bench:
    return bench_of(operate(read_text(text)))


def readings(found: Bench, changes: Mapping[str, float], depth: str = "runs", seed: int = 1) -> list[Observation]:
    """Readings in the course of a switch-on; `depth` is "voltages", "runs" (currents too) or "joints" (every drop).

    The supply strays within its tolerance, and the meter by its counts, as the seed says; `changes` are added.
    """
    dice = Random(seed)
    values = {p.id: p.bounds.nominal + dice.uniform(-0.6, 0.6) * p.half for p in found.parameters}
    for name, more in changes.items():
        values[name] += more
    idle, on = dict.fromkeys(DEVICES, "idle"), dict.fromkeys(DEVICES, "on")
    numbers = (2, 3, 4)
    situations = [Situation("no load")]
    situations += [Situation(f"fuse {k}", idle, frozenset(numbers[k:])) for k in (1, 2, 3)]
    situations.append(Situation("all on", on))
    wanted: list[tuple[Point, Situation]] = []
    for situation in situations:
        wanted += [
            (Point("voltage", at), situation) for at in ("block", "lamps", "pump", "rack supply out", "recorder")
        ]
        if depth != "voltages":
            runs = [run for run in found.runs.values() if run.run.number not in situation.opened]
            wanted += [(Point("current", run.run.name, method="amps"), situation) for run in runs]
    if depth == "joints":
        wanted += [
            (Point("drop", r.run.name, place), situations[-1]) for r in found.runs.values() for place in r.places()
        ]
    taken = []
    for point, situation in wanted:
        exact = solved(found, situation, values).reading(point)
        noise = found.meter.function(point.method).counts(exact)
        taken.append(Observation(point, situation, exact + dice.uniform(-noise, noise)))
    return taken
