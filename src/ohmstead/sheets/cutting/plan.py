"""The cheapest way to cut pieces from what there is and what can be bought."""

from collections.abc import Sequence

from .columns import cut_by_patterns, order_of
from .packing import Bar, Plan, count_bound, first_fit_decreasing, holds, length_bound

WITHOUT_SCIPY = "first fit, longest piece first (scipy is not installed, so nothing better was looked for)"
FITTED = "first fit, longest piece first, and nothing can be cheaper"


def plan_cuts(pieces: Sequence[int], bars: Sequence[Bar]) -> Plan:
    """Cut pieces from bars at least cost. Lengths in steps; at least one bar must be without a count.

    First fit decreasing gives a plan and the lengths give a bound. Where they meet, that is all; else patterns are
    tried with scipy. The plan tells how it was found and a bound below which no plan can be.

    >>> plan = plan_cuts([60, 50, 40, 30, 20], [Bar("roll", 100, None, 100)])
    >>> len(plan.cuts), plan.bound, plan.proven
    (2, 200, 'yes')
    """
    fitting, too_long = _placeable(pieces, bars)
    if not fitting:
        return Plan((), 0, FITTED, too_long)
    start = first_fit_decreasing(fitting, bars)
    bound = _bound(fitting, bars)
    first = Plan(start, bound, FITTED, too_long)
    if first.proven == "yes":
        return first
    try:
        found = cut_by_patterns(order_of(fitting, bars), start)
    except ImportError:
        return Plan(start, bound, WITHOUT_SCIPY, too_long)
    reason = holds(found.cuts, fitting, bars)
    if reason:
        raise ArithmeticError(f"the cutting plan is not sound: {reason}")
    return Plan(found.cuts, max(bound, found.bound), found.method, too_long)


def _placeable(pieces: Sequence[int], bars: Sequence[Bar]) -> tuple[list[int], tuple[int, ...]]:
    """Pieces that can be cut, longest first, and those that cannot.

    A piece longer than every roll that can be bought needs an own bar; the longest such pieces go first.
    """
    buyable = max((bar.steps for bar in bars if bar.count is None), default=0)
    own = sorted((bar.steps for bar in bars if bar.count is not None for _ in range(bar.count)), reverse=True)
    fitting, too_long = [], []
    for piece in sorted(pieces, reverse=True):
        if piece <= buyable:
            fitting.append(piece)
            continue
        home = next((i for i in reversed(range(len(own))) if own[i] >= piece), None)
        if home is None:
            too_long.append(piece)
        else:
            own.pop(home)
            fitting.append(piece)
    return fitting, tuple(too_long)


def _bound(pieces: Sequence[int], bars: Sequence[Bar]) -> int:
    """The better of the bounds that need no programme."""
    if len(bars) == 1 and bars[0].count is None:
        return count_bound(pieces, bars[0].steps) * bars[0].cost
    return length_bound(pieces, bars)
