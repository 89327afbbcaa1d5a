"""When the parts do not all fit: which demands collide, and which parts are left over."""

from dataclasses import replace

from .body import KINDS
from .model import Programme
from .place import row_counts, solver_of
from .problem import Problem
from .shelves import shelved

ENOUGH = 0.15  # deterministic time for one question
OUTLINES, MAINS, DUCTS, HEIGHTS = "outlines", "mains", "ducts", "heights"


def collisions(problem: Problem) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Demands that cannot all be met, none of which can be left out of the list; and bodies without a place.

    A demand is dropped from the list when the rest still collides without it. "outlines" are always in it.
    """
    demands = [*KINDS, *([MAINS] if problem.mains else []), *([DUCTS] if problem.plate.ducts_mm else [])]
    demands += [HEIGHTS] if any(body.band for body in problem.bodies.values()) else []
    kept = list(demands)
    for demand in demands:
        fewer = [other for other in kept if other != demand]
        if not _fits(problem, fewer):
            kept = fewer
    return (OUTLINES, *kept), left_over(problem)


def _fits(problem: Problem, demands: list[str]) -> bool:
    """Is a placement found when only these demands count?"""
    lesser = _with(problem, demands)
    reasons = tuple(kind for kind in KINDS if kind in demands)
    for rows in row_counts(lesser):
        if reasons == KINDS and shelved(lesser, rows, 0) is not None:
            return True
        solver = solver_of(ENOUGH)
        if solver.status_name(solver.solve(Programme(lesser, rows, reasons).model)) in ("OPTIMAL", "FEASIBLE"):
            return True
    return False


def _with(problem: Problem, demands: list[str]) -> Problem:
    plate = problem.plate
    if DUCTS not in demands:
        plate = replace(plate, ducts_mm=None, across_mm=(), upright_mm=())
    if MAINS not in demands:
        plate = replace(plate, mains_at_mm=None, mains_size_mm=None)
    bodies = problem.bodies
    if HEIGHTS not in demands:
        bodies = {name: replace(body, band=None) for name, body in bodies.items()}
    return replace(problem, plate=plate, bodies=bodies)


def left_over(problem: Problem) -> tuple[str, ...]:
    """The bodies that stay without a place when as much area as can be found is placed."""
    best: tuple[float, tuple[str, ...]] | None = None
    for rows in row_counts(problem):
        programme = Programme(problem, rows, optional="yes")
        areas = {name: round(body.width * body.height / 100) for name, body in problem.bodies.items()}
        programme.model.maximize(sum(areas[name] * programme.present[name] for name in areas))
        solver = solver_of(2 * ENOUGH)
        if solver.status_name(solver.solve(programme.model)) not in ("OPTIMAL", "FEASIBLE"):
            continue
        left = tuple(name for name in areas if not solver.value(programme.present[name]))
        if best is None or solver.objective_value > best[0]:
            best = solver.objective_value, left
    return best[1] if best is not None else tuple(problem.bodies)
