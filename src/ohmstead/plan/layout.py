"""A placement: where every body stands and where the ducts run, with how good it is."""

from collections.abc import Mapping

from ..plate.box import Spot
from ..plate.duct import Duct, ducts_of
from ..site.record import record
from .body import Stand
from .problem import Problem

FIXED, BEST, NEAR = "stated", "best", "near"


@record(frozen=True)
class Layout:
    """Corners and turns by name, the ducts' edges, and the quality of the search.

    how: "stated" when nothing was left to find, "best" when no better one exists, "near" when the search was
    ended first. cost is copper in mm² times mm, plus heat times mm (see docs/methods/plan.md); bound is less
    than or equal to the least possible cost.
    """

    problem: Problem
    corners: Mapping[str, Spot]
    turns: Mapping[str, int]
    across: tuple[float, ...]
    upright: tuple[float, ...]
    how: str = FIXED
    cost: float = 0.0
    bound: float = 0.0

    @property
    def gap_fraction(self) -> float:
        """How far the cost can lie above the least possible one, as a share of it."""
        return 0.0 if self.cost <= 0 else max(0.0, 1.0 - self.bound / self.cost)

    def stands(self) -> tuple[Stand, ...]:
        """Every body in its place."""
        return tuple(Stand(body, self.corners[name], self.turns[name]) for name, body in self.problem.bodies.items())

    def ducts(self) -> tuple[Duct, ...]:
        """Its ducts."""
        section = self.problem.plate.ducts_mm
        if section is None:
            return ()
        return ducts_of(self.across, self.upright, section, self.problem.inner)
