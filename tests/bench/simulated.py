"""ngspice takes the readings of an invented supply: all situations of a supply in one run of the program."""

import re
from collections.abc import Sequence

from bench.invented import Case, really
from ohmstead.bench.points import Point, reading_of
from ohmstead.bench.situation import Setting, Situation
from ohmstead.bench.watched import key_of
from ohmstead.network.elements import OPEN_OHM, Corner, Network, OperatingPoint
from ohmstead.network.netlist import OPTIONS, elements
from oracle.spice import batch

NAMES = re.compile(r"\b(n|e|rw|vs|rs|bl|rl|bco|bci|bf|rp)(\d+)\b")


def exact_readings(case: Case, wanted: Sequence[tuple[Point, Situation]]) -> list[float] | None:
    """What an exact meter reads by ngspice, None where it finds no operating point."""
    bench, network = case.true, case.true.circuit.network
    meant = [really(case, point, situation) for point, situation in wanted]
    settings = {key_of(situation): Setting(bench, situation, case.values) for _, situation in meant}
    place = {key: k for k, key in enumerate(settings)}
    lines = ["invented"]
    for key, setting in settings.items():
        for line in elements(network, setting.corner):
            if not line.startswith("*"):
                lines.append(NAMES.sub(rf"\1\2_{place[key]}", line.partition(" ;")[0]))
    nodes = [f"n{k}_{p}" for p in place.values() for k in range(1, len(network.nodes))]
    prints = [f"print v({node})" for node in nodes]
    printed = batch("\n".join([*lines, OPTIONS, ".control", "set numdgt=14", "op", *prints, ".endc", ".end", ""]))
    if not printed:
        return None
    points = {}
    for key, setting in settings.items():
        v = [0.0, *(printed[f"v(n{k}_{place[key]})"] for k in range(1, len(network.nodes)))]
        points[key] = _operating(network, setting.corner, v)
    found = []
    for point, situation in meant:
        key = key_of(situation)
        found.append(reading_of(bench, list(case.values), settings[key].corner, points[key], point))
    return found


def _operating(network: Network, corner: Corner, v: list[float]) -> OperatingPoint:
    """Node voltages with the currents that follow from them by Ohm's law alone."""
    branch = [
        (v[b.start] - v[b.end]) / ohm if ohm < OPEN_OHM else 0.0
        for b, ohm in zip(network.branches, corner.branch_ohm, strict=True)
    ]
    sources = zip(network.sources, corner.source_v, corner.source_ohm, strict=True)
    given = [(volts - v[s.positive] + v[s.negative]) / ohm for s, volts, ohm in sources]
    return OperatingPoint(
        corner.name, tuple(v), tuple(branch), tuple(given), (), (), (), (), (), (), (), (), (), 0.0, 0
    )
