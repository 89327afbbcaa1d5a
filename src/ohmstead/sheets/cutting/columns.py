"""Cutting patterns by column generation (Gilmore and Gomory 1961, 1963), made whole by diving and branch and bound.

The linear programme over all patterns bounds every plan from below. Its patterns are found one by one: a knapsack
against the current prices of the pieces. Whole plans come from rounding down and going on with what is left, then
from a mixed-integer programme over every pattern met. Needs numpy and scipy, imported when first called. Limits are
counts, never seconds, so that the same input gives the same plan.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from math import ceil, floor, gcd
from typing import TYPE_CHECKING, Any

from ...site.record import record
from .packing import Bar, Cut

if TYPE_CHECKING:
    from numpy import ndarray

Pattern = tuple[int, tuple[int, ...]]
"""Which bar, and how many of each length are cut from it."""
TINY = 1e-7
MOST_ROUNDS = 2000
MOST_NODES = 2000
MOST_DIVES = 12
MOST_PATTERNS = 4000


@record(frozen=True)
class Order:
    """Distinct lengths, longest first, how many of each, and the bars."""

    lengths: tuple[int, ...]
    demand: tuple[int, ...]
    bars: tuple[Bar, ...]


@record(frozen=True)
class Whole:
    """A whole plan and the bound: no plan costs less."""

    cuts: tuple[Cut, ...]
    bound: int
    method: str


def order_of(pieces: Sequence[int], bars: Sequence[Bar]) -> Order:
    """Pieces of one length together."""
    counts = sorted(Counter(pieces).items(), reverse=True)
    return Order(tuple(length for length, _ in counts), tuple(count for _, count in counts), tuple(bars))


def cut_by_patterns(order: Order, start: Sequence[Cut]) -> Whole:
    """The cheapest plan that patterns give, never dearer than the plan `start`, with its bound. Raises ImportError."""
    first = _patterns_of(order, start)
    pool = dict.fromkeys([*first, *_singles(order)])
    every = all_patterns(order, MOST_PATTERNS)
    if every is not None:
        pool.update(dict.fromkeys(every))
        found, bound = _whole(order, list(pool))
        return Whole(_cuts(order, _cheaper(order, first, found)), bound, "every pattern tried")
    value = _generate(order, order.demand, _counts(order), pool)
    unit = _unit(order.bars)
    bound = ceil(value / unit - 1e-6) * unit
    best = first
    for choice in range(MOST_DIVES):
        if _cost(order, best) <= bound:
            break
        best = _cheaper(order, best, _dive(order, pool, choice))
    if _cost(order, best) > bound:
        best = _cheaper(order, best, _whole(order, list(pool))[0])
    return Whole(_cuts(order, best), bound, "patterns by column generation")


def _cheaper(order: Order, one: list[Pattern], other: list[Pattern]) -> list[Pattern]:
    """The cheaper of two whole plans; an empty one is none."""
    return other if other and _cost(order, other) < _cost(order, one) else one


def _singles(order: Order) -> Iterator[Pattern]:
    """One piece alone on a bar, so that the linear programme always has an answer."""
    for index, length in enumerate(order.lengths):
        for number, bar in enumerate(order.bars):
            if bar.count is None and bar.steps >= length:
                yield number, tuple(int(i == index) for i in range(len(order.lengths)))
                break


def all_patterns(order: Order, most: int) -> list[Pattern] | None:
    """Every pattern that holds no further piece, of every bar; None when there are more than `most`."""
    found: list[Pattern] = []
    for number, bar in enumerate(order.bars):
        for counts in _fillings(order, bar.steps):
            found.append((number, counts))
            if len(found) > most:
                return None
    return found


def _fillings(order: Order, steps: int) -> Iterator[tuple[int, ...]]:
    """Fillings of a bar that leave no room for a piece still asked for."""
    lengths, demand = order.lengths, order.demand

    def fill(index: int, room: int, counts: list[int]) -> Iterator[tuple[int, ...]]:
        if index == len(lengths):
            spare = min((l for l, n, d in zip(lengths, counts, demand, strict=True) if n < d), default=None)
            if any(counts) and (spare is None or spare > room):
                yield tuple(counts)
            return
        if not any(length <= room for length in lengths[index:]):
            yield from fill(len(lengths), room, counts + [0] * (len(lengths) - index))
            return
        for taken in range(min(demand[index], room // lengths[index]), -1, -1):
            yield from fill(index + 1, room - taken * lengths[index], [*counts, taken])

    return fill(0, steps, [])


def _generate(order: Order, demand: Sequence[int], counts: Sequence[int | None], pool: dict[Pattern, None]) -> float:
    """Patterns are added to the pool until the linear programme cannot get cheaper; its value. Keeps the order."""
    for _ in range(MOST_ROUNDS):
        value, _, prices, rents = _relaxed(order, demand, counts, list(pool))
        added = False
        for number, bar in enumerate(order.bars):
            if counts[number] == 0:
                continue
            worth, filling = _knapsack(order.lengths, demand, prices, bar.steps)
            if worth > bar.cost + rents[number] + TINY * max(1, bar.cost) and (number, filling) not in pool:
                pool[number, filling] = None
                added = True
        if not added:
            return value
    return 0.0


def _relaxed(
    order: Order, demand: Sequence[int], counts: Sequence[int | None], pool: Sequence[Pattern]
) -> "tuple[float, ndarray[Any, Any], ndarray[Any, Any], list[float]]":
    """The linear programme over the pool: value, shares, price of a piece of each length, rent of each bar kind."""
    import numpy as np
    from scipy.optimize import linprog

    cost = np.array([order.bars[number].cost for number, _ in pool], float)
    rows = [-np.array([counted[i] for _, counted in pool], float) for i in range(len(order.lengths))]
    limits = [-float(d) for d in demand]
    limited = [number for number, count in enumerate(counts) if count is not None]
    rows += [np.array([float(number == kind) for number, _ in pool]) for kind in limited]
    limits += [float(counts[kind] or 0) for kind in limited]
    solved = linprog(cost, A_ub=np.vstack(rows), b_ub=limits, method="highs")
    if solved.status != 0:
        raise ArithmeticError(f"the linear programme of the patterns was not solved: {solved.message}")
    marginals = solved.ineqlin.marginals
    rents = [0.0] * len(order.bars)
    for kind, marginal in zip(limited, marginals[len(order.lengths) :], strict=True):
        rents[kind] = -float(marginal)
    return float(solved.fun), solved.x, -marginals[: len(order.lengths)], rents


def _knapsack(
    lengths: Sequence[int], demand: Sequence[int], prices: "ndarray[Any, Any]", steps: int
) -> tuple[float, tuple[int, ...]]:
    """The filling of a bar that is worth most: bounded knapsack by dynamic programming over the steps."""
    import numpy as np

    best = np.zeros(steps + 1)
    choices: list[tuple[int, int, ndarray[Any, Any]]] = []
    for index, (length, wanted) in enumerate(zip(lengths, demand, strict=True)):
        most = min(wanted, steps // length)
        lot = 1
        while most > 0 and prices[index] > TINY:
            taken = min(lot, most)
            most, lot = most - taken, lot * 2
            width = taken * length
            with_it = best[: steps + 1 - width] + taken * prices[index]
            chosen = np.zeros(steps + 1, bool)
            chosen[width:] = with_it > best[width:] + TINY * 1e-3
            best = np.concatenate((best[:width], np.maximum(with_it, best[width:])))
            choices.append((index, taken, chosen))
    filling, room = [0] * len(lengths), steps
    for index, taken, chosen in reversed(choices):
        if chosen[room]:
            filling[index] += taken
            room -= taken * lengths[index]
    return float(best[steps]), tuple(filling)


def _dive(order: Order, pool: dict[Pattern, None], choice: int) -> list[Pattern]:
    """Whole patterns of the linear programme are kept, the largest broken one is rounded up, the rest starts anew.

    The first time it is not the largest but the one `choice` places after it. Empty when rounding up used a bar
    that a piece still waiting needed.
    """
    demand, counts = list(order.demand), list(_counts(order))
    found: list[Pattern] = []
    while any(demand):
        try:
            _generate(order, demand, counts, pool)
            known = list(pool)
            _, shares, _, _ = _relaxed(order, demand, counts, known)
        except ArithmeticError:
            return []
        kept = [(pattern, floor(share + 1e-6)) for pattern, share in zip(known, shares, strict=True)]
        if not any(times for _, times in kept):
            broken = sorted((-round(float(share), 6), i) for i, share in enumerate(shares) if share > TINY)
            kept = [(known[broken[min(choice, len(broken) - 1)][1]], 1)]
            choice = 0
        for (number, filling), times in kept:
            for _ in range(times):
                taken = tuple(min(n, d) for n, d in zip(filling, demand, strict=True))
                if any(taken):
                    found.append((number, taken))
                    demand = [d - n for d, n in zip(demand, taken, strict=True)]
                    left = counts[number]
                    counts[number] = None if left is None else left - 1
    return found


def _whole(order: Order, pool: Sequence[Pattern]) -> tuple[list[Pattern], int]:
    """The cheapest whole choice among the patterns of the pool, and what no choice among them is cheaper than.

    Empty when the search gave up before it had one.
    """
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import csr_matrix

    unit = _unit(order.bars)
    cost = np.array([order.bars[number].cost // unit for number, _ in pool], float)
    covers = csr_matrix(np.array([counted for _, counted in pool], float).T)
    rules = [LinearConstraint(covers, np.array(order.demand, float), np.inf)]
    for kind, count in enumerate(_counts(order)):
        if count is not None:
            row = np.array([[float(number == kind) for number, _ in pool]])
            rules.append(LinearConstraint(row, -np.inf, float(count)))
    solved = milp(
        cost, constraints=rules, integrality=np.ones(len(pool)), bounds=Bounds(0, np.inf),
        options={"node_limit": MOST_NODES, "mip_rel_gap": 0.0},
    )  # fmt: skip
    bound = 0 if solved.mip_dual_bound is None else ceil(float(solved.mip_dual_bound) - 1e-6) * unit
    if solved.x is None:
        return [], max(bound, 0)
    found, demand = [], list(order.demand)
    for (number, filling), times in zip(pool, solved.x, strict=True):
        for _ in range(round(times)):
            taken = tuple(min(n, d) for n, d in zip(filling, demand, strict=True))
            demand = [d - n for d, n in zip(demand, taken, strict=True)]
            found.append((number, taken))
    return [pattern for pattern in found if any(pattern[1])], bound


def _counts(order: Order) -> tuple[int | None, ...]:
    return tuple(bar.count for bar in order.bars)


def _unit(bars: Sequence[Bar]) -> int:
    """The largest whole number that divides every cost: plans cost multiples of it."""
    return max(1, gcd(*(bar.cost for bar in bars)))


def _cost(order: Order, found: Sequence[Pattern]) -> int:
    return sum(order.bars[number].cost for number, _ in found)


def _patterns_of(order: Order, cuts: Sequence[Cut]) -> list[Pattern]:
    numbers = {bar.name: number for number, bar in enumerate(order.bars)}
    return [(numbers[cut.bar.name], tuple(cut.pieces.count(length) for length in order.lengths)) for cut in cuts]


def _cuts(order: Order, found: Sequence[Pattern]) -> tuple[Cut, ...]:
    cuts = []
    for number, filling in found:
        pieces = tuple(length for length, times in zip(order.lengths, filling, strict=True) for _ in range(times))
        cuts.append(Cut(order.bars[number], pieces))
    return tuple(sorted(cuts, key=lambda cut: (-cut.bar.steps, cut.bar.name, [-piece for piece in cut.pieces])))
