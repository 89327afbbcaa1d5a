"""The mixed-integer programme: one column an option, one row a limit, rows gathered by the demand they serve."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from math import inf
from typing import Any

from ..site.record import record
from .assign import Picks
from .options import Decision
from .worth import Bundle, Worth

MONEY_FIRST = 1e5  # in the choice between equals: money of fuses outweighs every preference
CENT = 1e-6
LARGE = 150  # decisions; a larger site is solved to a small stated gap instead of to the last gram
LARGE_GAP = 0.002
LARGE_S = 5.0
FEASIBLE, INFEASIBLE, OUT_OF_TIME = "solved", "infeasible", "out of time"


@record(frozen=True)
class Row:
    """low <= sum of terms <= high, over columns."""

    terms: Mapping[int, float]
    low: float
    high: float


@dataclass(slots=True)
class Demand:
    """What one thing asks for, in words, with the rows that say it."""

    words: str
    rows: list[Row] = field(default_factory=list)


@record(frozen=True)
class Solution:
    """What the programme found: picks, objective, and the least that any picks could cost."""

    status: str
    picks: Picks
    objective: float = 0.0
    bound: float = 0.0


class Programme:
    """Columns for all options, demands by key. Rows may be added between solves."""

    def __init__(self, decided: tuple[Decision, ...], worth: Worth) -> None:
        self.decided = decided
        self.worth = worth
        self.first: dict[tuple[str, str], int] = {}
        self.by_key = {decision.key: decision for decision in decided}
        self.by_run = {(d.number, d.attribute): d for d in decided if d.number}
        n = 0
        for decision in decided:
            self.first[decision.key] = n
            n += len(decision.options)
        self.n_column = n
        self.demands: dict[tuple[str, str], Demand] = {}
        self.wish: dict[int, int] = {}  # column -> how many near misses it brings
        self.dropped: set[int] = set()  # columns not offered at all
        self.refused: set[int] = set()  # columns that their own place forbids, with the dropped ones
        self.notes: dict[tuple[str, int], str] = {}  # rule and column -> what that option would break there

    def column(self, decision: Decision, index: int) -> int:
        """The column of an option."""
        return self.first[decision.key] + index

    def columns(self, decision: Decision) -> range:
        """The columns of all options of a decision."""
        first = self.first[decision.key]
        return range(first, first + len(decision.options))

    def demand(self, kind: str, subject: str, words: str, rows: Iterable[Row]) -> None:
        """Add rows to a demand."""
        found = self.demands.setdefault((kind, subject), Demand(words))
        found.rows.extend(rows)

    def forbid(self, kind: str, subject: str, words: str, columns: Iterable[int]) -> None:
        """None of these options may be picked."""
        terms = dict.fromkeys(columns, 1.0)
        if terms:
            self.demand(kind, subject, words, [Row(terms, -inf, 0.0)])

    def cost_of(self, picks: Picks) -> float:
        """Objective of picks, preferences left out."""
        own = sum(self.worth.cost(d, d.options[picks[d.key]]) for d in self.decided)
        return own + sum(bundle.price * max(0.0, self._need(bundle, picks) - bundle.own) for bundle in self._bundles())

    def _need(self, bundle: Bundle, picks: Picks) -> float:
        return sum(need for (key, index), need in bundle.needs.items() if picks[key] == index)

    def _bundles(self) -> tuple[Bundle, ...]:
        return self.worth.bundles(self.decided)

    def mass_kg(self, picks: Picks) -> float:
        """Metal of the picked wires. [kg]"""
        return sum(d.options[picks[d.key]].mass_kg for d in self.decided)

    def solve(self, keep: Iterable[tuple[str, str]] | None = None, seconds: float = 20.0) -> Solution:
        """The cheapest picks that meet all demands, or only those in `keep`; of equal ones the preferred fuses."""
        wanted = list(self.demands if keep is None else keep)
        large = len(self.decided) > LARGE
        first = self._run(wanted, self._cost(), {}, min(seconds, LARGE_S) if large else seconds)
        if not first.picks or keep is not None:
            return first
        held = {self.column(d, first.picks[d.key]): 1.0 for d in self.decided if d.attribute == "wire"}
        second = self._run(wanted, self._preference(), held, seconds)
        if not second.picks or self.cost_of(second.picks) > self.cost_of(first.picks) + CENT:
            return first
        return Solution(first.status, second.picks, first.objective, first.bound)

    def _cost(self) -> dict[int, float]:
        return {
            self.column(decision, index): self.worth.cost(decision, option)
            for decision in self.decided
            for index, option in enumerate(decision.options)
        }

    def _preference(self) -> dict[int, float]:
        """Near misses weigh most, then the order in which options are offered; money stays in it."""
        cost = {}
        for decision in self.decided:
            for index, option in enumerate(decision.options):
                column = self.column(decision, index)
                shy = self.wish.get(column, 0) * len(decision.options)
                cost[column] = MONEY_FIRST * self.worth.cost(decision, option) + option.rank + shy
        return cost

    def _run(
        self, wanted: list[tuple[str, str]], costs: Mapping[int, float], held: Mapping[int, float], seconds: float
    ) -> Solution:
        import numpy as np
        from scipy.optimize import Bounds, LinearConstraint, milp

        bundles = self._bundles()
        n = self.n_column + len(bundles)
        cost, low, top = np.zeros(n), np.zeros(n), np.ones(n)
        for column, value in costs.items():
            cost[column] = value
        for column in self.dropped:
            top[column] = 0.0
        for column in held:
            low[column] = 1.0
        rows = [Row(dict.fromkeys(self.columns(d), 1.0), 1.0, 1.0) for d in self.decided]
        for offset, bundle in enumerate(bundles):
            extra = self.n_column + offset
            cost[extra], top[extra] = bundle.price * (MONEY_FIRST if held else 1.0), inf
            terms = {self.first[key] + index: -need for (key, index), need in bundle.needs.items()}
            rows.append(Row({**terms, extra: 1.0}, -bundle.own, inf))
        for key in wanted:
            for row in self.demands[key].rows:
                if row.low == -inf and row.high == 0.0 and min(row.terms.values()) >= 0.0:
                    for column, term in row.terms.items():
                        top[column] = 0.0 if term > 0 else top[column]
                else:
                    rows.append(row)
        if np.any(low > top):
            return Solution(INFEASIBLE, {})
        integral = np.concatenate([np.ones(self.n_column), np.zeros(len(bundles))])
        found = milp(
            cost,
            integrality=integral,
            bounds=Bounds(low, top),
            constraints=LinearConstraint(*_matrix(rows, n)),
            options={"time_limit": seconds, "mip_rel_gap": LARGE_GAP if len(self.decided) > LARGE else 0.0},
        )
        if found.x is None:
            return Solution(INFEASIBLE if found.status == 2 else OUT_OF_TIME, {})
        picks = {
            d.key: int(np.argmax(found.x[self.first[d.key] : self.first[d.key] + len(d.options)])) for d in self.decided
        }
        bound = found.mip_dual_bound if found.mip_dual_bound is not None else found.fun
        return Solution(FEASIBLE if found.status == 0 else OUT_OF_TIME, picks, float(found.fun), float(bound))


def _matrix(rows: list[Row], n: int) -> tuple[Any, list[float], list[float]]:
    from scipy.sparse import csr_matrix

    data: list[float] = []
    at: list[int] = []
    starts = [0]
    for row in rows:
        data.extend(row.terms.values())
        at.extend(row.terms)
        starts.append(len(at))
    return csr_matrix((data, at, starts), shape=(len(rows), n)), [r.low for r in rows], [r.high for r in rows]
