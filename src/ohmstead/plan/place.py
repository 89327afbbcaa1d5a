"""Finds places for the bodies that have none, by a constraint solver; the same input gives the same places.

One worker, a fixed seed and limits in the solver's own deterministic time, so that neither the clock nor the
number of cores decides. Needs OR-tools (extra `plan`).
"""

from dataclasses import replace
from typing import Any

from .aims import Aims
from .layout import BEST, FIXED, NEAR, Layout
from .model import Programme
from .problem import Problem
from .shelves import LONGER, shelved

SEED = 1
TRY_TIME, STEP_TIME, BOUND_TIME = 0.12, 0.03, 0.2  # deterministic time, about seconds
STEPS = 2  # how often some bodies are let loose and placed anew
LOOSE = 6  # how many at a time
MOST_ROWS = 5


class NoPlace(Exception):
    """The bodies do not all fit, as far as the search could tell."""


def place(problem: Problem, steps: int = STEPS) -> Layout:
    """A layout of the problem. Raises NoPlace, and ImportError when OR-tools is not installed."""
    if all(body.fixed is not None for body in problem.bodies.values()):
        return stated(problem)
    counts = row_counts(problem)
    tried = [(layout, n) for n in counts if (layout := shelved(problem, n)) is not None]
    for effort in (TRY_TIME, 10 * TRY_TIME):
        tried = tried or [(layout, n) for n in counts if (layout := _solve(problem, n, effort)) is not None]
    if not tried:
        raise NoPlace
    best, rows = min(tried, key=lambda pair: (pair[0].cost, pair[1]))
    longer = shelved(problem, rows, LONGER) if best.how != BEST else None
    if longer is not None and longer.cost < best.cost:
        best = longer
    if best.how != BEST:
        best = _improved(problem, rows, best, steps if problem.plate.ducts_mm else 3 * steps)
    bounds = [best.bound]
    if best.how != BEST:
        known = _solve(problem, rows, BOUND_TIME, best, "bound")
        if known is not None:
            best = known if known.cost < best.cost else best
            bounds = [max(best.bound, known.bound)]
    bounds += [_bound(problem, n) for n in counts if n != rows]
    bound = min([best.cost, *bounds])
    return replace(best, bound=bound, how=BEST if bound >= best.cost - 1e-6 else NEAR)


def _bound(problem: Problem, rows: int) -> float:
    """No placement in so many rows costs less; without end when there is none."""
    programme = Programme(problem, rows)
    Aims(programme)
    solver = solver_of(TRY_TIME / 2)
    solver.parameters.use_objective_lb_search = True
    status = solver.status_name(solver.solve(programme.model))
    return float("inf") if status == "INFEASIBLE" else max(0.0, float(solver.best_objective_bound))


def _improved(problem: Problem, rows: int, layout: Layout, steps: int) -> Layout:
    """Let a few neighbouring bodies loose, place them anew, keep what is better; again and again."""
    from random import Random

    chance = Random(SEED)
    names = [name for name, body in problem.bodies.items() if body.fixed is None]
    if len(names) <= LOOSE:
        return _solve(problem, rows, STEP_TIME * steps, layout) or layout
    near = neighbours(problem)
    for step in range(steps):
        first = names[step % len(names)]
        others = [name for name in near[first] if name in names]
        chance.shuffle(others)
        rest = [name for name in names if name != first and name not in others]
        loose = {first, *others[: LOOSE // 2]}
        loose |= set(chance.sample(rest, min(len(rest), LOOSE - len(loose))))
        better = _solve(problem, rows, STEP_TIME, layout, "loose", frozenset(loose))
        if better is not None and better.cost < layout.cost:
            layout = replace(better, bound=layout.bound, how=NEAR)
    return layout


def neighbours(problem: Problem) -> dict[str, list[str]]:
    """The bodies that a cord joins to each body, in the order of the file."""
    found: dict[str, list[str]] = {name: [] for name in problem.bodies}
    for link in problem.links:
        one, other = link.ends[0].body, link.ends[1].body
        if one and other:
            found[one].append(other)
            found[other].append(one)
    return found


def row_counts(problem: Problem) -> tuple[int, ...]:
    """How many rows to try."""
    plate = problem.plate
    if plate.ducts_mm is None:
        return (1,)
    if plate.across_mm:
        return (len(plate.across_mm) - 1,)
    if plate.rows:
        return (plate.rows,)
    return tuple(rows for rows in range(1, MOST_ROWS + 1) if _wide_enough(problem, rows)) or (MOST_ROWS,)


def _wide_enough(problem: Problem, rows: int) -> bool:
    """Can the parts stand side by side in so many rows at all? Their narrower sides count where they may turn."""
    narrow = [min(body.size(turns)[0] for turns in body.turns) for body in problem.bodies.values()]
    wide = problem.plate.ducts_mm[0] if problem.plate.ducts_mm else 0.0
    return rows <= len(narrow) and sum(narrow) <= rows * (problem.inner.width - 2 * wide)


def stated(problem: Problem) -> Layout:
    """The layout as the file states it: every body has its place, ducts stand where they are said or evenly."""
    plate, inner = problem.plate, problem.inner
    across, upright = plate.across_mm, plate.upright_mm
    if plate.ducts_mm is not None:
        wide = plate.ducts_mm[0]
        rows = plate.rows or 1
        across = across or tuple(inner.top + (inner.height - wide) * number / rows for number in range(rows + 1))
        upright = upright or (inner.left, inner.right - wide)
    corners = {name: body.fixed or (0.0, 0.0) for name, body in problem.bodies.items()}
    turns = {name: body.turns[0] for name, body in problem.bodies.items()}
    return Layout(problem, corners, turns, across, upright, FIXED)


def _solve(
    problem: Problem,
    rows: int,
    effort: float,
    hint: Layout | None = None,
    search: str = "",
    loose: frozenset[str] = frozenset(),
) -> Layout | None:
    """The best layout found; with `search` "bound" the effort goes into the bound, with "loose" only some move."""
    programme = Programme(problem, rows)
    Aims(programme)
    if hint is not None:
        _hint(programme, hint)
        if search == "loose":
            _hold(programme, hint, loose)
    solver = solver_of(effort)
    solver.parameters.use_objective_lb_search = search == "bound"
    status = solver.status_name(solver.solve(programme.model))
    if status not in ("OPTIMAL", "FEASIBLE"):
        return None
    cost, bound = solver.objective_value, solver.best_objective_bound
    how = BEST if status == "OPTIMAL" and search != "loose" else NEAR
    return layout_of(programme, solver, how, (cost, min(bound, cost)))


def _hold(programme: Programme, layout: Layout, loose: frozenset[str]) -> None:
    """All but the loose bodies stay in their rows and in their order."""
    stands = {stand.name: stand.box for stand in layout.stands()}
    for name, literals in programme.row.items():
        for row, literal in enumerate(literals):
            top, bottom = layout.across[row], layout.across[row + 1]
            if name not in loose and top <= stands[name].top and stands[name].bottom <= bottom:
                programme.model.add(literal == 1)
    for (one, other), ways in programme.ways.items():
        if one in loose or other in loose:
            continue
        first, second = stands[one], stands[other]
        true = (
            first.right <= second.left,
            second.right <= first.left,
            first.bottom <= second.top,
            second.bottom <= first.top,
        )
        programme.model.add(ways[true.index(True)] == 1)


def solver_of(effort: float) -> Any:
    """A solver that gives the same answer each time."""
    from ortools.sat.python import cp_model

    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = SEED
    solver.parameters.linearization_level = 2
    solver.parameters.max_deterministic_time = effort
    return solver


def layout_of(programme: Programme, solver: Any, how: str, quality: tuple[float, float]) -> Layout:
    """The places that a solver found."""
    problem = programme.problem
    corners = {
        name: body.fixed or (float(solver.value(programme.x[name])), float(solver.value(programme.y[name])))
        for name, body in problem.bodies.items()
    }
    turns = {
        name: next(count for count, chosen in programme.turned[name].items() if solver.value(chosen))
        for name in problem.bodies
    }
    across = problem.plate.across_mm or tuple(float(solver.value(edge)) for edge in programme.across)
    upright = problem.plate.upright_mm or tuple(float(edge) for edge in programme.upright)
    return Layout(problem, corners, turns, across, upright, how, *quality)


def _hint(programme: Programme, layout: Layout) -> None:
    """Begin with a layout found before: its places first, then every other variable as these make it."""
    model = programme.model
    for name, body in programme.problem.bodies.items():
        for turns, chosen in programme.turned[name].items():
            model.add_hint(chosen, int(layout.turns[name] == turns))
        if body.fixed is None:
            model.add_hint(programme.x[name], round(layout.corners[name][0]))
            model.add_hint(programme.y[name], round(layout.corners[name][1]))
    for edge, value in zip(programme.across[1:-1], layout.across[1:-1], strict=True):
        if not isinstance(edge, int):
            model.add_hint(edge, round(value))
    first = solver_of(TRY_TIME)
    first.parameters.fix_variables_to_their_hinted_value = True
    if first.status_name(first.solve(model)) in ("OPTIMAL", "FEASIBLE"):
        model.clear_hints()
        for index in range(len(model.proto.variables)):
            variable = model.get_int_var_from_proto_index(index)
            model.add_hint(variable, first.value(variable))
