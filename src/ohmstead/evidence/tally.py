"""Worst values over all cases, each with the case that made it."""

from collections.abc import Callable, Iterator

from ..network.cases import Case
from ..network.elements import OperatingPoint
from ..network.operate import ROUNDING, Operation
from ..site.kinds import Device
from .asked import asked_points
from .views import Worst

Figure = Callable[[OperatingPoint], float]
NOTHING = Worst(0.0, "")


class Tally:
    """Looks through the operating points of one operation."""

    def __init__(self, operation: Operation) -> None:
        self.operation = operation
        self.pairs: tuple[tuple[Case, OperatingPoint], ...] = tuple(zip(operation.cases, operation.points, strict=True))
        # With what stopped kept on, for currents that wire and fuse carry until then.
        self.asked: tuple[tuple[Case, OperatingPoint], ...] = tuple(
            zip(operation.cases, asked_points(operation), strict=True)
        )
        self.starts: tuple[tuple[Case, OperatingPoint, float], ...] = tuple(
            (case, point, seconds)
            for case, point in self.asked
            if not case.lasts and (seconds := brief_seconds(operation, case)) > 0
        )

    def lasting(self) -> Iterator[tuple[Case, OperatingPoint]]:
        """The cases that can go on for hours."""
        return (pair for pair in self.pairs if pair[0].lasts)

    def highest(self, figure: Figure) -> Worst:
        """Largest of all cases."""
        return _most(self.pairs, figure)

    def highest_lasting(self, figure: Figure) -> Worst:
        """Largest of the cases that last."""
        return _most(self.lasting(), figure)

    def most(self, figure: Figure) -> Worst:
        """Largest current of all cases, that of what stops counted."""
        return _most(self.asked, figure)

    def most_lasting(self, figure: Figure) -> Worst:
        """Largest current of the cases that last, that of what stops counted."""
        return _most([pair for pair in self.asked if pair[0].lasts], figure)

    def lowest(self, figure: Figure, counts: Callable[[Case, OperatingPoint], bool]) -> Worst | None:
        """Least of the cases that count; None when none does."""
        found = [Worst(round(figure(point), ROUNDING), case.name) for case, point in self.pairs if counts(case, point)]
        return min(found, key=lambda worst: worst.value) if found else None

    def named(self, name: str) -> tuple[Case, OperatingPoint] | None:
        """The case of that name, if the site has it."""
        return next((pair for pair in self.pairs if pair[0].name == name), None)

    def heaviest(self) -> tuple[Case, OperatingPoint] | None:
        """Battery low, hot, everything busy: the case in which the batteries give most."""
        busy = [p for p in self.pairs if p[0].battery == "low" and p[0].temperature == "hot" and p[0].kind == "busy"]
        return max(busy, key=lambda pair: sum(pair[1].source_a), default=None)

    def run_a(self, number: int) -> Figure:
        """Magnitude of the current in a run."""
        return lambda point: abs(self.operation.run_a(point, number))

    def volts(self, name: str) -> Figure:
        """Voltage at a point."""
        return lambda point: self.operation.voltage_v(point, name)


def brief_seconds(operation: Operation, case: Case) -> float:
    """The longest brief state among the devices of a case. [s]"""
    longest = 0.0
    for name, state in case.states.items():
        part = operation.site.parts.get(name)
        if isinstance(part, Device):
            longest = max([longest] + [d.seconds for d in part.draws if d.state == state and d.seconds is not None])
    return longest


def _most(pairs: object, figure: Figure) -> Worst:
    best = None
    for case, point in pairs:  # type: ignore[attr-defined]
        value = round(figure(point), ROUNDING)
        if best is None or value > best.value:
            best = Worst(value, case.name)
    return best or NOTHING
