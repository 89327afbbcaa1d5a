"""The constraint programme of a placement: where bodies may stand. Lengths are whole millimetres.

With ducts, bodies stand side by side in rows between level ducts; without, anywhere. What is already fixed
enters as constants.
"""

from itertools import combinations
from math import ceil, floor
from typing import Any

from ..plate.box import SIDES, Box
from .body import KINDS, Body
from .problem import Problem


class Programme:
    """Variables and constraints; `reasons` are the kinds of free room that count."""

    def __init__(self, problem: Problem, rows: int, reasons: tuple[str, ...] = KINDS, optional: str = "no") -> None:
        from ortools.sat.python import cp_model

        self.problem, self.rows, self.reasons = problem, rows, reasons
        self.model: Any = cp_model.CpModel()
        self.plate = problem.plate
        self.edges = Box(
            ceil(problem.inner.left), ceil(problem.inner.top), floor(problem.inner.right), floor(problem.inner.bottom)
        )
        self.wide = ceil(self.plate.ducts_mm[0]) if self.plate.ducts_mm else 0
        self.x: dict[str, Any] = {}
        self.y: dict[str, Any] = {}
        self.turned: dict[str, dict[int, Any]] = {}
        self.present: dict[str, Any] = {}
        self.row: dict[str, list[Any]] = {}
        self.ways: dict[tuple[str, str], list[Any]] = {}
        self.optional = optional
        self.across = self._across()
        self.upright = self._upright()
        for name, body in problem.bodies.items():
            self._body(name, body)
            self._keep_in_band(name, body)
        if self.row and not self.plate.across_mm and optional == "no":
            for row in range(len(self.across) - 1):  # a row without a part would be a duct too many
                there = [literals[row] for literals in self.row.values() if literals]
                self.model.add_bool_or(there)
        for one, other in combinations(problem.bodies, 2):
            if problem.bodies[one].fixed is None or problem.bodies[other].fixed is None:
                self._apart(one, other)
        if problem.mains is not None:
            self._keep_mains_apart(problem.mains)

    def size(self, name: str, axis: int) -> Any:
        """Width (axis 0) or height (axis 1) as the body stands."""
        body = self.problem.bodies[name]
        return sum(ceil(body.size(turns)[axis]) * chosen for turns, chosen in self.turned[name].items())

    def room(self, name: str, side: str) -> Any:
        """Free millimetres on a side as the body stands."""
        body = self.problem.bodies[name]
        return sum(ceil(body.room(turns, self.reasons)[side]) * chosen for turns, chosen in self.turned[name].items())

    def _across(self) -> list[Any]:
        """Upper edges of the level ducts."""
        if self.plate.ducts_mm is None:
            return []
        if self.plate.across_mm:
            return [round(edge) for edge in self.plate.across_mm]
        top, low = int(self.edges.top), int(self.edges.bottom) - self.wide
        inner = [self._coordinate(top, low, f"duct {number}") for number in range(1, self.rows)]
        found = [top, *inner, low]
        for above, below in zip(found, found[1:], strict=False):
            self.model.add(below >= above + self.wide)
        return found

    def _upright(self) -> list[int]:
        """Left edges of the upright ducts: one along either side unless the file says where."""
        if self.plate.ducts_mm is None:
            return []
        stated = [round(edge) for edge in self.plate.upright_mm]
        return stated or [int(self.edges.left), int(self.edges.right) - self.wide]

    def _body(self, name: str, body: Body) -> None:
        model = self.model
        if body.fixed is not None:
            self.x[name], self.y[name] = round(body.fixed[0]), round(body.fixed[1])
        else:
            self.x[name] = self._coordinate(self.edges.left, self.edges.right, f"x {name}")
            self.y[name] = self._coordinate(self.edges.top, self.edges.bottom, f"y {name}")
        self.turned[name] = {turns: model.new_bool_var(f"{name} turned {turns}") for turns in body.turns}
        model.add_exactly_one(self.turned[name].values())
        self.present[name] = model.new_bool_var(f"{name} stands")
        if self.optional == "no" or body.fixed is not None:
            model.add(self.present[name] == 1)
        if self.plate.ducts_mm is None or body.fixed is not None and not self._between(body):
            self.row[name] = []
            if body.fixed is None:
                self._within(name)
            return
        rows = len(self.across) - 1
        self.row[name] = [model.new_bool_var(f"{name} in row {row}") for row in range(rows)]
        model.add_exactly_one(self.row[name])
        if body.fixed is None:
            self._within(name)
        for row, here in enumerate(self.row[name]):
            top, bottom = self.across[row] + self.wide, self.across[row + 1]
            free = body.fixed is None or not self.plate.across_mm  # ducts make way for parts that cannot
            room = {side: self.room(name, side) if free else 0 for side in SIDES}
            both = [here, self.present[name]]
            model.add(self.y[name] - room["top"] >= top).only_enforce_if(both)
            model.add(self.y[name] + self.size(name, 1) + room["bottom"] <= bottom).only_enforce_if(both)

    def _keep_in_band(self, name: str, body: Body) -> None:
        """The middle of a body as high or as low as the file says that it sits."""
        if body.band is not None and body.fixed is None:
            middle = 2 * self.y[name] + self.size(name, 1)
            self.model.add(middle >= round(2 * body.band[0])).only_enforce_if(self.present[name])
            self.model.add(middle <= round(2 * body.band[1])).only_enforce_if(self.present[name])

    def _between(self, body: Body) -> bool:
        """Can a fixed body stand between the level ducts where these are fixed too?"""
        if not self.plate.across_mm or body.fixed is None:
            return True
        top, bottom = round(body.fixed[1]), round(body.fixed[1]) + ceil(body.size(body.turns[0])[1])
        pairs = zip(self.across, self.across[1:], strict=False)
        return any(above + self.wide <= top and bottom <= below for above, below in pairs)

    def _coordinate(self, low: float, high: float, label: str) -> Any:
        from ortools.sat.python import cp_model

        grid = self.problem.grid
        steps = range(int(low), int(high) + 1, grid)
        return self.model.new_int_var_from_domain(cp_model.Domain.from_values(list(steps)), label)

    def _within(self, name: str) -> None:
        """Inside the plate, and clear of upright ducts, with the room it wants."""
        model, present = self.model, self.present[name]
        room = {side: self.room(name, side) for side in SIDES}
        left, right = self.x[name] - room["left"], self.x[name] + self.size(name, 0) + room["right"]
        model.add(left >= int(self.edges.left)).only_enforce_if(present)
        model.add(right <= int(self.edges.right)).only_enforce_if(present)
        if not self.row[name] and self.plate.ducts_mm is None:
            model.add(self.y[name] - room["top"] >= int(self.edges.top)).only_enforce_if(present)
            bottom = self.y[name] + self.size(name, 1) + room["bottom"]
            model.add(bottom <= int(self.edges.bottom)).only_enforce_if(present)
        for number, edge in enumerate(self.upright):
            before = model.new_bool_var(f"{name} left of upright {number}")
            model.add(right <= edge).only_enforce_if([before, present])
            model.add(left >= edge + self.wide).only_enforce_if([~before, present])

    def _apart(self, one: str, other: str) -> None:
        """Two bodies with the larger of the two rooms between them, beside or above one another."""
        model = self.model
        there = [self.present[one], self.present[other]]
        ways = [model.new_bool_var(f"{one}, {other}: {way}") for way in ("left", "right", "above", "below")]
        self.ways[one, other] = ways
        model.add_bool_or([*ways, ~there[0], ~there[1]])
        for way, (first, second, axis) in zip(
            ways, ((one, other, 0), (other, one, 0), (one, other, 1), (other, one, 1)), strict=True
        ):
            place = (self.x, self.y)[axis]
            near, far = (("right", "left"), ("bottom", "top"))[axis]
            end = place[first] + self.size(first, axis)
            for room in (self.room(first, near), self.room(second, far)):
                model.add(place[second] >= end + room).only_enforce_if([way, *there])
        if self.row[one] and self.row[other]:  # in one row they stand side by side
            for first_row, second_row in zip(self.row[one], self.row[other], strict=True):
                model.add_bool_or([ways[0], ways[1], ~first_row, ~second_row, ~there[0], ~there[1]])

    def _keep_mains_apart(self, area: Box) -> None:
        """Mains parts inside their area, all others away from it."""
        model, away = self.model, ceil(self.plate.mains_apart_mm)
        for name, body in self.problem.bodies.items():
            if body.fixed is not None:
                continue
            x, y, present = self.x[name], self.y[name], self.present[name]
            right, bottom = x + self.size(name, 0), y + self.size(name, 1)
            if body.mains == "yes":
                for rule in (
                    x >= ceil(area.left),
                    y >= ceil(area.top),
                    right <= floor(area.right),
                    bottom <= floor(area.bottom),
                ):
                    model.add(rule).only_enforce_if(present)
                continue
            sides = [model.new_bool_var(f"{name} {side} of mains") for side in SIDES]
            model.add_bool_or([*sides, ~present])
            for chosen, rule in zip(
                sides,
                (
                    bottom + away <= floor(area.top),
                    x >= ceil(area.right) + away,
                    y >= ceil(area.bottom) + away,
                    right + away <= floor(area.left),
                ),
                strict=True,
            ):
                model.add(rule).only_enforce_if([chosen, present])
