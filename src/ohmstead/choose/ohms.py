"""Resistance of every run as a sum over options: what each wire and each fuse would put in the way."""

from dataclasses import replace

from ..network.path import Path, path_of
from ..parts.fuse import Fuse
from ..parts.wire import Wire
from ..site.model import Run, Site
from ..site.record import record
from ..wiring.ampacity import Laid, ampacity_a
from ..wiring.conductor import temperature_factor
from ..wiring.fuse_heat import cold_resistance_ohm, hot_resistance_ohm
from .ends import with_ends
from .programme import Programme

COLD, HOT, LARGEST, SMALLEST = "cold", "hot", "largest fault", "smallest fault"


@record(frozen=True)
class Sum:
    """A fixed part and one part for each column. [Ω]"""

    fixed: float
    terms: dict[int, float]


class Ohms:
    """Resistances of the runs of a site, option by option."""

    def __init__(self, site: Site, programme: Programme) -> None:
        self.site, self.programme = site, programme
        self.paths: dict[int, list[Path]] = {}
        self.bears: dict[int, list[float]] = {}
        self._kept: dict[tuple[int, str, float], Sum] = {}
        for run in site.runs:
            if run.carries == "power":
                fitted = [with_ends(site, replace(run, wire=wire)) for wire in self._wires(run)]
                self.paths[run.number] = [path_of(site, one) for one in fitted]
                self.bears[run.number] = [self._bears_a(path) for path in self.paths[run.number]]

    def _wires(self, run: Run) -> list[Wire | None]:
        decision = self.programme.by_run.get((run.number, "wire"))
        if decision is None:
            return [run.wire]
        return [option.thing for option in decision.options if isinstance(option.thing, Wire)]

    def _bears_a(self, path: Path) -> float:
        """What a wire carries for hours in its place. [A]"""
        run = path.run
        if run.ampacity_a is not None:
            return run.ampacity_a
        if path.wire is None:
            return float("inf")
        laid = Laid(run.laid.method, run.laid.circuits)
        return ampacity_a(path.wire, laid, path.air.high, self.site.about.rules).value_a

    def is_open(self, number: int) -> str:
        """ "yes" when anything of a run is left to choose."""
        known = self.programme.by_run
        return "yes" if (number, "wire") in known or (number, "fuse") in known else "no"

    def wire(self, number: int, regime: str, current_a: float = 0.0) -> Sum:
        """Conductors and joints, in a regime; hot copper is as warm as a current makes it."""
        key = (number, f"wire {regime}", current_a if regime == HOT else 0.0)
        if key not in self._kept:
            self._kept[key] = self._wire(number, regime, current_a)
        return self._kept[key]

    def _wire(self, number: int, regime: str, current_a: float) -> Sum:
        values = [
            self._value(path, bears, regime, current_a)
            for path, bears in zip(self.paths[number], self.bears[number], strict=True)
        ]
        decision = self.programme.by_run.get((number, "wire"))
        if decision is None:
            return Sum(values[0], {})
        return Sum(0.0, dict(zip(self.programme.columns(decision), values, strict=True)))

    def _value(self, path: Path, bears_a: float, regime: str, current_a: float) -> float:
        most = max(path.limit_c, path.air.high)
        if regime == LARGEST:
            return path.conductor_best_ohm * temperature_factor(path.air.low, path.metal)
        conductor_c = path.air.low
        if regime == SMALLEST:
            conductor_c = most
        elif regime == HOT:
            share = min(1.0, (current_a / bears_a) ** 2) if bears_a > 0 else 1.0
            conductor_c = min(path.air.high + max(0.0, path.limit_c - path.air.high) * share, most)
        return path.conductor_ohm * temperature_factor(conductor_c, path.metal) + path.joint_ohm

    def fuse(self, number: int, regime: str) -> Sum:
        """The fuse, cold for the largest fault and hot otherwise."""
        key = (number, "cold fuse" if regime == LARGEST else "hot fuse", 0.0)
        if key not in self._kept:
            self._kept[key] = self._fuse(number, regime)
        return self._kept[key]

    def _fuse(self, number: int, regime: str) -> Sum:
        path = self.paths[number][0]
        ohm = cold_resistance_ohm if regime == LARGEST else hot_resistance_ohm
        decision = self.programme.by_run.get((number, "fuse"))
        if decision is None:
            return Sum(path.fuse_cold_ohm if regime == LARGEST else path.fuse_hot_ohm, {})
        if path.run.resistance_ohm is not None:
            return Sum(0.0, {})  # measured with everything in it
        fuses = [option.thing for option in decision.options]
        values = [ohm(fuse) if isinstance(fuse, Fuse) else 0.0 for fuse in fuses]
        return Sum(0.0, dict(zip(self.programme.columns(decision), values, strict=True)))

    def whole(self, number: int, regime: str) -> Sum:
        """Wire, joints and fuse together."""
        wire, fuse = self.wire(number, regime), self.fuse(number, regime)
        return Sum(wire.fixed + fuse.fixed, {**wire.terms, **fuse.terms})
