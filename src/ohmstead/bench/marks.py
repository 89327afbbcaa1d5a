"""Probe marks: a number for every place where probes go, the same on the plan and on the drawing."""

from collections.abc import Mapping

from ..network.compile import Circuit
from ..site.record import record


@record(frozen=True)
class Marks:
    """`points` names the mark of a point of the network ("P3"), `runs` that of a run ("C7")."""

    points: Mapping[str, str]
    runs: Mapping[int, str]

    def listed(self, circuit: Circuit) -> tuple[tuple[str, str, str], ...]:
        """Mark, "point" or "run", and the name of what it stands at."""
        names = {number: path.run.name for number, path in circuit.paths.items()}
        return (
            *((mark, "point", point) for point, mark in self.points.items()),
            *((mark, "run", names[number]) for number, mark in self.runs.items()),
        )


def marks_of(circuit: Circuit) -> Marks:
    """Numbers in the order of the site file."""
    points = {point: f"P{k}" for k, point in enumerate(circuit.map.points, 1)}
    runs = {number: f"C{k}" for k, number in enumerate(circuit.paths, 1)}
    return Marks(points, runs)
