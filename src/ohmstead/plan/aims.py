"""What a good placement costs: the copper of its wires, and hot parts low down or out of the air stream."""

from typing import Any

from ..plate.turning import turned_side
from .model import Programme
from .problem import End, Link, Problem

COPPER = 2  # cost of a millimetre of 1 mm²; whole numbers only
HEAT_MM2_PER_W = 0.5  # a watt that stands a millimetre too low weighs as much as a millimetre of 0.5 mm²; ours
FARTHEST = 20_000


class Aims:
    """The cost of a programme's placement, added to it as what is to be least."""

    def __init__(self, programme: Programme) -> None:
        self.programme, self.model = programme, programme.model
        self.terms: list[Any] = []
        for number, link in enumerate(programme.problem.links):
            self.terms.append(max(1, round(COPPER * link.cord.weight)) * self._length(number, link))
        self._heat()
        self.model.minimize(sum(self.terms))

    def _heat(self) -> None:
        problem = self.programme.problem
        for name, body in problem.bodies.items():
            weight = round(COPPER * HEAT_MM2_PER_W * body.heat_w)
            if not weight or body.fixed is not None:
                continue
            if problem.plate.stream_mm is None:
                self.terms.append(weight * (self.programme.y[name] - int(self.programme.edges.top)))
                continue
            low, high = (round(edge) for edge in problem.plate.stream_mm)
            away = self.model.new_int_var(0, FARTHEST, f"{name} from the stream")
            self.model.add(2 * away >= 2 * low - 2 * self.programme.x[name] - self.programme.size(name, 0))
            self.model.add(2 * away >= 2 * self.programme.x[name] + self.programme.size(name, 0) - 2 * high)
            self.terms.append(weight * away)

    def _length(self, number: int, link: Link) -> Any:
        """The way of a link along the plate."""
        label = f"link {number}"
        (x1, y1), (x2, y2) = (self._spot(end) for end in link.ends)
        if not self.programme.across:
            across, down = self._distance(x1, x2, f"{label} across"), self._distance(y1, y2, f"{label} down")
            return across + down
        lines = [2 * edge + self.programme.wide for edge in self.programme.across]  # twice the middle lines
        duct1, duct2 = (self._duct(end, f"{label} {which}") for which, end in enumerate(link.ends))
        mid1, mid2 = (self._line(duct, lines, f"{label} line {which}") for which, duct in enumerate((duct1, duct2)))
        stub1 = self._half_distance(2 * y1, mid1, f"{label} stub 1")
        stub2 = self._half_distance(2 * y2, mid2, f"{label} stub 2")
        down = self._half_distance(mid1, mid2, f"{label} down")
        across = self.model.new_int_var(0, FARTHEST, f"{label} across")
        self.model.add(across >= x1 - x2)
        self.model.add(across >= x2 - x1)
        same = self.model.new_bool_var(f"{label} in one duct")
        for one, other in zip(duct1, duct2, strict=True):
            self.model.add(one == other).only_enforce_if(same)
        by = [self.model.new_bool_var(f"{label} by upright {place}") for place in range(len(self.programme.upright))]
        self.model.add_bool_or([same, *by])
        for chosen, edge in zip(by, self.programme.upright, strict=True):
            middle = 2 * edge + self.programme.wide
            for first in (2 * x1 - middle, middle - 2 * x1):
                for second in (2 * x2 - middle, middle - 2 * x2):
                    self.model.add(2 * across >= first + second).only_enforce_if(chosen)
        return stub1 + stub2 + down + across

    def _spot(self, end: End) -> tuple[Any, Any]:
        """Where an end is; the first entry stands for all that a link may take."""
        programme = self.programme
        if end.terminal is None:
            spot = programme.problem.entries[end.entries[0]]
            return round(spot[0]), round(spot[1])
        body, chosen = programme.problem.bodies[end.body], programme.turned[end.body]
        spots = {turns: body.spot_of(end.terminal, turns) for turns in chosen}
        return (
            programme.x[end.body] + sum(round(spots[turns][0]) * one for turns, one in chosen.items()),
            programme.y[end.body] + sum(round(spots[turns][1]) * one for turns, one in chosen.items()),
        )

    def _duct(self, end: End, label: str) -> list[Any]:
        """Which level duct an end goes into: the one its side faces, either where it faces none."""
        programme, model = self.programme, self.model
        found = [model.new_bool_var(f"{label} into duct {number}") for number in range(len(programme.across))]
        model.add_exactly_one(found)
        if end.terminal is None:
            for number in barred(programme.problem, end.entries[0], len(found)):
                model.add(found[number] == 0)
            return found
        if not programme.row[end.body]:
            return found
        for row, here in enumerate(programme.row[end.body]):
            for turns, turned in programme.turned[end.body].items():
                side = turned_side(end.terminal.side, turns)
                may = {"top": [found[row]], "bottom": [found[row + 1]]}.get(side, [found[row], found[row + 1]])
                model.add_bool_or([*may, ~here, ~turned])
        return found

    def _line(self, duct: list[Any], lines: list[Any], label: str) -> Any:
        middle = self.model.new_int_var(0, 2 * FARTHEST, label)
        for chosen, line in zip(duct, lines, strict=True):
            self.model.add(middle == line).only_enforce_if(chosen)
        return middle

    def _distance(self, one: Any, other: Any, label: str) -> Any:
        found = self.model.new_int_var(0, FARTHEST, label)
        self.model.add(found >= one - other)
        self.model.add(found >= other - one)
        return found

    def _half_distance(self, one: Any, other: Any, label: str) -> Any:
        """At least half the distance of two that are given twice."""
        found = self.model.new_int_var(0, FARTHEST, label)
        self.model.add(2 * found >= one - other)
        self.model.add(2 * found >= other - one)
        return found


def barred(problem: Problem, entry: str, count: int) -> range:
    """Level ducts that wires from an entry cannot go into at once: all but the last from an entry below it, say."""
    wide = problem.plate.ducts_mm[0] if problem.plate.ducts_mm else 0.0
    down = problem.entries[entry][1]
    if down >= problem.inner.bottom - wide:
        return range(count - 1)
    return range(1, count) if down <= problem.inner.top + wide else range(0)
