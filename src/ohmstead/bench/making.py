"""What the stages of the plan share: marks, the order of circuits, and steps made from expected readings."""

from collections.abc import Sequence

from ..network.operate import Operation
from ..site.kinds import Converter, Device, EthernetSource
from ..site.model import Run
from . import words
from .expect import Solved, expectation_at, solved
from .marks import Marks, marks_of
from .meter import Meter
from .order import Feeding, feeding_of, fused_in_order
from .parameters import Surroundings
from .points import Point
from .situation import Bench, Situation, bench_of
from .step import Step

ARC_V = 20.0  # above about this an arc between opening contacts stays; common practice, no source
TOUCH_V = 60.0  # IEC 60364-4-41: extra-low voltage without ripple, dry
ROUNDING = 9
CLAMP_FROM_A = 1.0  # below this a clamp tells too little; common practice, no source


class Making:
    """A plan while it is made. Stages add to it; nothing else sees it."""

    def __init__(self, operation: Operation, surroundings: Surroundings, meter: Meter) -> None:
        self.operation, self.site = operation, operation.site
        self.bench: Bench = bench_of(operation, surroundings, meter)
        self.feeding: Feeding = feeding_of(self.bench.circuit)
        self.marks: Marks = marks_of(self.bench.circuit)
        self.fused: tuple[int, ...] = fused_in_order(self.feeding)
        self.sources: frozenset[str] = frozenset(n for n, p in self.site.parts.items() if isinstance(p, EthernetSource))
        self._solved: tuple[Situation, Solved] | None = None

    def name(self, part: str) -> str:
        """How a point of the network is called on a step."""
        return part

    def solve(self, situation: Situation) -> Solved:
        """The situation solved; the last one is kept, since several steps read it."""
        if self._solved is None or self._solved[0] is not situation:
            self._solved = (situation, solved(self.bench, situation))
        return self._solved[1]

    def read(self, step: Step, situation: Situation, point: Point, causes: tuple[str, str]) -> Step:
        """The step with the expected value and band of a point, its probes and its causes (too low, too high)."""
        expected = expectation_at(self.solve(situation), point)
        return filled(
            step,
            probes=self.probes(point),
            marks=(self.mark(point),),
            dimension=point.dimension,
            value=round(expected.value, ROUNDING) + 0.0,  # what rounding leaves of a current is none
            low=expected.low,
            high=expected.high,
            point=point,
            situation=situation,
            causes_low=words.CAUSES[causes[0]],
            causes_high=words.CAUSES[causes[1]],
            cautions=(*step.cautions, *self.cautions(point, expected.value)),
        )

    def run(self, number: int) -> Run:
        """The run of a number."""
        return self.bench.runs[number].run

    def mark(self, point: Point) -> str:
        """The probe mark of a point."""
        if point.quantity == "voltage" or point.at in self.site.batteries:
            return self.marks.points[point.at]
        return self.marks.runs[self.bench.run_of[point.at].run.number]

    def probes(self, point: Point) -> str:
        """Where the probes go, in words."""
        mark = self.mark(point)
        if point.quantity == "voltage":
            return words.PROBES["voltage"].format(name=self.name(point.at), mark=mark)
        if point.quantity == "current":
            found = self.bench.run_of.get(point.at)
            fused = found is not None and found.run.number in self.fused
            how = "clamp" if point.method == "clamp" else "amps" if fused else "series"
            return words.PROBES[how].format(name=point.at, mark=mark)
        run = self.bench.run_of[point.at].run
        how = point.place if point.place in words.PROBES else "joint"
        return words.PROBES[how].format(name=run.name, near=run.start, far=run.end, place=point.place, mark=mark)

    def cautions(self, point: Point, value: float) -> tuple[str, ...]:
        """What to mind at this reading."""
        found = []
        if point.quantity == "current" and point.method == "amps":
            found.append("jack")
        if point.quantity == "voltage" and value > TOUCH_V:
            found.append("touch")
        return tuple(words.CAUTIONS[key] for key in found)

    def arcs(self, point: str) -> tuple[str, ...]:
        """The caution about arcs, where a point stands high enough."""
        high = max(self.operation.voltage_v(solved, point) for solved in self.operation.points)
        return (words.CAUTIONS["arc"],) if high > ARC_V else ()

    def current_at(self, number: int, current_a: float) -> Point:
        """The point for the current of a run: in series when small, by clamp when large."""
        method = "clamp" if abs(current_a) >= CLAMP_FROM_A else "amps"
        return Point("current", self.run(number).name, method=method)

    def capacitance_f(self, names: Sequence[str], assumed_f: float) -> float:
        """Input capacitance of parts, as stated, or assumed where a converter says nothing. [F]"""
        total = 0.0
        for name in names:
            part = self.site.parts.get(name)
            if isinstance(part, Converter | EthernetSource | Device):
                total += part.capacitance_f or (0.0 if isinstance(part, Device) else assumed_f)
        return total


def filled(step: Step, **figures: object) -> Step:
    """The step with some of its fields filled."""
    return Step(**{**{name: getattr(step, name) for name in step.__dataclass_fields__}, **figures})


def slug(*names: object) -> str:
    """Names as a part of a step's id: "hide block / 1 -> fridge" becomes "hide-block-1-fridge"."""
    kept = "".join(sign if sign.isalnum() else " " for sign in " ".join(map(str, names)))
    return "-".join(kept.lower().split())
