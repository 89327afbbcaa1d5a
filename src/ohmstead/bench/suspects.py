"""What could be wrong: every single fault with its odds before any reading and the sizes it may have.

The size of a fault is a mixture of normal distributions, so that the probability of the readings can be had in
closed form. Odds and sizes are common practice, no source: they say how often a builder meets each in a new
supply, and they only decide where readings leave the matter open.
"""

from collections.abc import Iterator, Sequence
from math import exp, log

import numpy as np

from ..parts.fuse import Fuse, with_rating
from ..parts.wire import Wire, like_wire, standard_sizes
from ..site.record import record
from ..wiring.fuse_heat import cold_resistance_ohm, hot_resistance_ohm
from .parameters import Parameter
from .situation import Bench
from .watched import OFFSETS, Floats
from .wires import RunParts

# How likely each is to be there, for one place of its kind.
ODDS = {
    "joint": 0.003,
    "set-point": 0.02,
    "charger": 0.01,
    "idle": 0.01,
    "draw": 0.005,
    "wire": 0.004,
    "fuse": 0.008,
    "swap": 0.001,
    "battery": 0.01,
    "zero": 0.005,
    "gain": 0.003,
    "misread": 0.0004,
}
JOINT_OHM = (2e-3, 5.0)  # a bad joint adds from 2 mΩ to 5 Ω
RISES = (0.35, 6.0)  # idle and draws are higher by this share of themselves
FALLS = (0.35, 0.9)
SHIFTS = (0.012, 0.4)  # a set-point is off by this share
ZERO_V, ZERO_A, GAIN = (0.005, 1.0), (0.005, 1.0), (0.01, 0.15)
MISREAD = (0.03, 3.0)  # of the reading
NEIGHBOURS = 2  # sizes to each side that a wire or fuse is mixed up with
STEP = 1.6  # ratio of neighbouring sizes in a mixture
_BY_KIND = {
    "joint": "joint", "holder": "joint", "contact": "joint", "set-point": "set-point", "idle": "idle",
    "own use": "idle", "draw": "draw", "charger voltage": "charger", "battery resistance": "battery",
}  # fmt: skip


@record(frozen=True)
class Suspect:
    """One fault that could be there.

    `kind` is a key of `ODDS`; `subject` the run, part or meter, `place` the joint, state or pole. `column` is the
    parameter that it moves; -1 - i for reading i taken alone. `sizes`, `variances` and `shares` are the mixture, in
    the unit of the parameter; a variance may be below zero, where the part that is there instead strays less.
    `names` says what each size stands for, such as "1.5 mm2".
    """

    kind: str
    subject: str
    place: str
    column: int
    odds: float
    sizes: Floats
    variances: Floats
    shares: Floats
    names: tuple[str, ...] = ()

    @property
    def id(self) -> str:
        """What it is called in a list of explanations."""
        return " ".join(word for word in (self.kind, self.place, "of", self.subject) if word)


def suspects_of(bench: Bench, values: Sequence[float]) -> tuple[Suspect, ...]:
    """Every fault of parts and meter, and each of the readings, `values`, misread."""
    found: list[Suspect] = []
    for k, parameter in enumerate(bench.parameters):
        found += _of_parameter(bench, k, parameter)
    for number, run in bench.runs.items():
        found += _of_run(bench, number, run)
    n = len(bench.parameters)
    for i, (word, limits) in enumerate(zip(OFFSETS, (ZERO_V, ZERO_A), strict=True)):
        found.append(_mixed("zero", bench.meter.name, word, n + i, both_ways(*limits)))
    for i, value in enumerate(values):
        size = max(abs(value), 10.0 * bench.meter.volts.counts(value))
        found.append(_mixed("misread", str(i), "", -1 - i, both_ways(MISREAD[0] * size, MISREAD[1] * size)))
    return tuple(found)


Mixture = tuple[Floats, Floats, Floats]


def one_way(low: float, high: float) -> Mixture:
    """Sizes spread evenly over their logarithm, each with room up to its neighbours."""
    n = max(2, round(log(high / low) / log(STEP)) + 1)
    sizes = np.array([low * exp(log(high / low) * k / (n - 1)) for k in range(n)])
    return sizes, 0.28 * sizes, np.full(n, 1.0 / n)


def both_ways(low: float, high: float) -> Mixture:
    """The same to both sides of zero."""
    sizes, spreads, shares = one_way(low, high)
    return np.concatenate([sizes, -sizes]), np.concatenate([spreads] * 2), np.concatenate([shares] * 2) / 2


def _mixed(kind: str, subject: str, place: str, column: int, mixture: Mixture) -> Suspect:
    sizes, spreads, shares = mixture
    return Suspect(kind, subject, place, column, ODDS[kind], sizes, spreads**2, shares)


def _of_parameter(bench: Bench, column: int, parameter: Parameter) -> Iterator[Suspect]:
    kind = _BY_KIND.get(parameter.kind, "")
    usual = parameter.bounds.nominal
    place = parameter.aspect if parameter.kind != "holder" else "holder"
    if parameter.kind == "meter" and parameter.aspect.endswith("gain"):
        yield _mixed("gain", parameter.subject, parameter.aspect.removesuffix(" gain"), column, both_ways(*GAIN))
    elif parameter.kind == "meter":
        yield _mixed("zero", parameter.subject, "clamp", column, both_ways(0.05, 2.0))
    elif kind == "joint":
        yield _mixed(kind, parameter.subject, place, column, one_way(*JOINT_OHM))
    elif kind == "set-point" or kind == "charger":
        least = max(SHIFTS[0] * usual, 0.6 * parameter.half)
        yield _mixed(kind, parameter.subject, "", column, both_ways(least, SHIFTS[1] * usual))
    elif kind == "battery":
        yield _mixed(
            kind, parameter.subject, "", column, one_way(0.5 * parameter.bounds.high, 20.0 * parameter.bounds.high)
        )
    elif kind in ("idle", "draw") and usual > 0.0:
        sizes, spreads, shares = one_way(max(RISES[0] * usual, 0.7 * parameter.half), RISES[1] * usual)
        if kind == "draw":
            less, narrow, share = one_way(FALLS[0] * usual, FALLS[1] * usual)
            sizes, spreads = np.concatenate([sizes, -less]), np.concatenate([spreads, 0.5 * narrow])
            shares = np.concatenate([0.75 * shares, 0.25 * share])
        yield _mixed(kind, parameter.subject, place, column, (sizes, spreads, shares))


def _of_run(bench: Bench, number: int, run: RunParts) -> Iterator[Suspect]:
    wire = run.run.wire
    if wire is not None and run.run.resistance_ohm is None:
        usual = bench.parameters[run.wire].bounds.nominal
        others = _neighbours(wire)
        if others:
            ratios = np.array([other.resistance_20_ohm_per_km / wire.resistance_20_ohm_per_km for other in others])
            shares = _thin_first([other.area_mm2 < wire.area_mm2 for other in others])
            names = tuple(other.size for other in others)
            sizes = usual * (ratios - 1.0)
            variances = _instead(bench.parameters[run.wire].sigma, ratios, 0.03 * usual * ratios)
            yield Suspect("wire", run.run.name, "", run.wire, ODDS["wire"], sizes, variances, shares, names)
    fuse = run.run.fuse
    if fuse is not None and "fuse" in run.resistors:
        column = run.resistors["fuse"]
        usual = bench.parameters[column].bounds.nominal
        ratings = sorted(fuse.family.ratings_a, key=lambda a: abs(log(a / fuse.rating_a)))[1 : 2 * NEIGHBOURS + 1]
        found = [(_fuse_ohm(fuse, a), a) for a in ratings]
        if found:
            sizes = np.array([ohm - usual for ohm, _ in found])
            ratios = np.array([ohm / usual for ohm, _ in found])
            variances = _instead(bench.parameters[column].sigma, ratios, 0.05 * usual * ratios)
            shares = _thin_first([a > fuse.rating_a for _, a in found])
            names = tuple(f"{a:g} A" for _, a in found)
            yield Suspect("fuse", run.run.name, "", column, ODDS["fuse"], sizes, variances, shares, names)


def _instead(sigma: float, ratios: Floats, spreads: Floats) -> Floats:
    """Variances of what is there instead, less those of what should be: tolerances go with the size."""
    return np.asarray(spreads**2 + sigma**2 * (ratios**2 - 1.0), dtype=np.float64)


def _neighbours(wire: Wire) -> list[Wire]:
    """The sizes next to a wire's own, as they can be bought."""
    sizes = [like_wire(wire, text) for text in standard_sizes(wire.system)]
    below = [other for other in sizes if other.area_mm2 < 0.97 * wire.area_mm2][-NEIGHBOURS:]
    above = [other for other in sizes if other.area_mm2 > 1.03 * wire.area_mm2][:NEIGHBOURS]
    return [*below, *above]


def _fuse_ohm(fuse: Fuse, rating_a: float) -> float:
    """Usual resistance of another rating of the same family. [Ω]"""
    other = with_rating(fuse, rating_a)
    return (cold_resistance_ohm(other) + hot_resistance_ohm(other)) / 2


def _thin_first(common: Sequence[bool]) -> Floats:
    """Shares of a mixture in which the mistakes that are made more often have thrice the weight of the others."""
    weights = np.array([3.0 if often else 1.0 for often in common])
    return np.asarray(weights / weights.sum(), dtype=np.float64)
