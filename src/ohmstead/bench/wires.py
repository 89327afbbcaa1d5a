"""A run taken apart into the places where resistance sits: joints, holder, fuse and wire, each pole."""

from collections.abc import Mapping, Sequence

from ..network.operate import Operation
from ..network.path import JACK_OHM, JOINT_OHM, Path
from ..quantity.span import Span
from ..site.kinds import Distribution
from ..site.model import Run
from ..site.record import record
from ..wiring.conductor import temperature_factor

JOINT_LOW, JOINT_HIGH = 0.25, 1.75  # a joint's resistance as a share of the usual one; common practice, no source
LENGTH_FRACTION = 0.05  # of a length measured along the route; and so much at least
LENGTH_M = 0.05
STATED_FRACTION = 0.05  # of a resistance that the builder measured
FUSE_FRACTION = 0.15  # below the cold and above the hot resistance: makers give typical values only
ENDS = ("near", "far")
LEGS = ("leg +", "leg -")

Piece = tuple[str, str, str, Span, str, str, str]  # as the fields of `Parameter`


@record(frozen=True)
class RunParts:
    """Indexes of a run's parameters. `near` is the end written first in the site file.

    `resistors` maps a place to its parameter: "near +", "near -", "far +", "far -", "holder", "fuse".
    The wire is one parameter for both poles; `poles` are "+", "-" or both.
    """

    run: Run
    branches: tuple[int, ...]
    poles: tuple[str, ...]
    metal: str
    length_m: float
    wire: int
    temperature: int
    length: int | None
    resistors: Mapping[str, int]

    def wire_ohm(self, values: Sequence[float]) -> float:
        """Conductors of the run, all poles together, at their temperature. [Ω]"""
        share = values[self.length] / self.length_m if self.length is not None else 1.0
        return values[self.wire] * share * temperature_factor(values[self.temperature], self.metal)

    def wire_slopes(self, values: Sequence[float]) -> dict[int, float]:
        """Change of `wire_ohm` with its parameters."""
        ohm = self.wire_ohm(values)
        warm = temperature_factor(values[self.temperature], self.metal)
        warmer = temperature_factor(values[self.temperature] + 1.0, self.metal)
        slopes = {self.wire: ohm / values[self.wire], self.temperature: ohm * (warmer / warm - 1.0)}
        if self.length is not None:
            slopes[self.length] = ohm / values[self.length]
        return slopes

    def places(self) -> tuple[str, ...]:
        """Every place across which a drop can be measured."""
        return (*self.resistors, *(f"wire {pole}" for pole in self.poles))

    def place_ohm(self, values: Sequence[float], place: str) -> tuple[float, dict[int, float]]:
        """Resistance of one place, or of a whole "leg +" or "leg -", and its change with the parameters.

        Raises KeyError for a place that the run has not. [Ω]
        """
        if place in LEGS:
            return self._together(values, self.in_leg(place))
        if place.startswith("wire "):
            share = 1.0 / len(self.poles)
            slopes = self.wire_slopes(values)
            return self.wire_ohm(values) * share, {k: slope * share for k, slope in slopes.items()}
        index = self.resistors[place]
        return values[index], {index: 1.0}

    def in_leg(self, leg: str) -> tuple[str, ...]:
        """The places from end to end of one pole."""
        return tuple(place for place in self.places() if place.endswith("-") == leg.endswith("-"))

    def _together(self, values: Sequence[float], places: Sequence[str]) -> tuple[float, dict[int, float]]:
        total, slopes = 0.0, dict[int, float]()
        for place in places:
            ohm, more = self.place_ohm(values, place)
            total += ohm
            for index, slope in more.items():
                slopes[index] = slopes.get(index, 0.0) + slope
        return total, slopes

    def branch_of(self, place: str) -> int:
        """The branch of the network in which a place lies."""
        return self.branches[-1] if place.endswith("-") else self.branches[0]

    def in_branch(self, branch: int) -> tuple[str, ...]:
        """The places that make up a branch."""
        return tuple(place for place in self.places() if self.branch_of(place) == branch)


def run_parts(operation: Operation, path: Path, air_c: Span | None, first: int) -> tuple[list[Piece], RunParts]:
    """The parameters of a run, numbered from `first`, and where each stands."""
    run, name = path.run, path.run.name
    poles = ("+", "-") if run.wires == "both" else ("+",) if run.wires == "positive" else ("-",)
    measured = run.resistance_ohm is not None or run.wire_ohm_per_km is not None
    low, high = max(path.conductor_best_ohm, 1e-7), max(path.conductor_ohm, 1e-7)
    middle = (low + high) / 2
    ohm = (
        Span(middle * (1 - STATED_FRACTION), middle, middle * (1 + STATED_FRACTION))
        if measured
        else Span(low, middle, high)
    )
    how = "stated" if measured else "table"
    air = air_c or path.air
    pieces: list[Piece] = [
        ("wire", name, "ohm", ohm, "uniform", "resistance", how),
        ("wire", name, "temperature", Span.between(air.low, air.high), "uniform", "temperature", "assumed"),
    ]
    length = None
    if run.resistance_ohm is None and run.length_m > 0.0:
        length = first + len(pieces)
        stray = max(LENGTH_FRACTION * run.length_m, min(LENGTH_M, 0.5 * run.length_m))
        span = Span(run.length_m - stray, run.length_m, run.length_m + stray)
        pieces.append(("wire", name, "length", span, "uniform", "length", "stated"))
    resistors: dict[str, int] = {}
    for place, span, origin in _resistors(operation, path, poles):
        resistors[place] = first + len(pieces)
        kind, aspect = (place, "") if place in ("holder", "fuse") else ("joint", place)
        pieces.append((kind, name, aspect, span, "uniform", "resistance", origin))
    branches = operation.circuit.run_branches[run.number]
    return pieces, RunParts(run, branches, poles, path.metal, run.length_m, first, first + 1, length, resistors)


def _resistors(operation: Operation, path: Path, poles: tuple[str, ...]) -> list[tuple[str, Span, str]]:
    run = path.run
    if run.resistance_ohm is not None:
        return []
    found = []
    low, high = JOINT_LOW, JOINT_HIGH
    if run.joint_ohm is not None and run.measured_fraction is not None:
        low, high = max(1.0 - run.measured_fraction, 0.0), 1.0 + run.measured_fraction
    for place, (ohm, how) in _joints(run).items():
        for pole in poles:
            found.append((f"{place} {pole}", Span.between(low * ohm, high * ohm), how))
    if "+" in poles:
        way = _way_ohm(operation, run)
        if way > 0.0:
            found.append(("holder", Span.between(JOINT_LOW * way, JOINT_HIGH * way), "assumed"))
        if run.fuse is not None:
            low, high = path.fuse_cold_ohm * (1 - FUSE_FRACTION), path.fuse_hot_ohm * (1 + FUSE_FRACTION)
            found.append(("fuse", Span.between(low, high), "table"))
    return found


def _joints(run: Run) -> dict[str, tuple[float, str]]:
    """One joint of one pole at each end, and how it is known. [Ω]"""
    if run.joint_ohm is not None:
        return dict.fromkeys(ENDS, (run.joint_ohm, "stated"))
    if run.cable is not None:
        return dict.fromkeys(ENDS, (JACK_OHM / max(run.pairs, 1), "assumed"))
    ends = (*run.ends, None, None)
    return {
        place: (end.contact_ohm, "table") if end is not None else (JOINT_OHM, "assumed")
        for place, end in zip(ENDS, ends, strict=False)
    }


def _way_ohm(operation: Operation, run: Run) -> float:
    parts = operation.site.parts
    return sum(
        part.contact_ohm
        for end in (run.start, run.end)
        if end.way is not None and isinstance(part := parts.get(end.part), Distribution)
    )
