"""Pieces cut from bars: the plan, first fit decreasing, and bounds that hold for any plan.

Lengths are whole steps (`STEP_M` each), so that sums are exact. A bar is a roll or an offcut: anything that pieces
are cut from, one after the other.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from math import ceil

from ...site.record import record

STEP_M = 0.01
"""Wire is cut to whole centimetres; a pair of cutters takes nothing away."""


@record(frozen=True)
class Bar:
    """A kind of roll or offcut. `count` None: as many as one likes to buy; `cost` is what the plan makes least."""

    name: str
    steps: int
    count: int | None
    cost: int


@record(frozen=True)
class Cut:
    """One bar and the pieces cut from it, longest first."""

    bar: Bar
    pieces: tuple[int, ...]

    @property
    def left(self) -> int:
        """What remains of the bar. [steps]"""
        return self.bar.steps - sum(self.pieces)


@record(frozen=True)
class Plan:
    """Bars with their cuts. No plan costs less than `bound`; `method` tells how it was found.

    `too_long` are pieces that no bar holds.
    """

    cuts: tuple[Cut, ...]
    bound: int
    method: str
    too_long: tuple[int, ...] = ()

    @property
    def cost(self) -> int:
        """What the bars of the plan cost together."""
        return sum(cut.bar.cost for cut in self.cuts)

    @property
    def proven(self) -> str:
        """ "yes" when no cheaper plan exists, else "no"."""
        return "yes" if self.cost <= self.bound else "no"

    @property
    def left(self) -> int:
        """What remains of all bars. [steps]"""
        return sum(cut.left for cut in self.cuts)


def first_fit_decreasing(pieces: Sequence[int], bars: Sequence[Bar]) -> tuple[Cut, ...]:
    """Longest piece first, into the first bar that takes it; a new bar is the one that costs least for what waits.

    Raises ValueError when a piece fits into nothing that is left.

    >>> roll = Bar("roll", 10, None, 10)
    >>> [cut.pieces for cut in first_fit_decreasing([3, 7, 6, 4], [roll])]
    [(7, 3), (6, 4)]
    """
    opened: list[tuple[Bar, list[int]]] = []
    used: Counter[str] = Counter()
    waiting = sorted(pieces, reverse=True)
    for index, piece in enumerate(waiting):
        home = next((cut for bar, cut in opened if bar.steps - sum(cut) >= piece), None)
        if home is None:
            bar = _next_bar(waiting[index:], bars, used)
            used[bar.name] += 1
            home = []
            opened.append((bar, home))
        home.append(piece)
    return tuple(Cut(bar, tuple(cut)) for bar, cut in opened)


def _next_bar(waiting: Sequence[int], bars: Sequence[Bar], used: Counter[str]) -> Bar:
    """The bar to open: cheapest for each step that the waiting pieces would fill of it, the smaller one if equal."""
    fits = [bar for bar in bars if bar.steps >= waiting[0] and (bar.count is None or used[bar.name] < bar.count)]
    if not fits:
        raise ValueError(f"no bar is left for a piece of {waiting[0]} steps")
    if all(bar.count is not None for bar in fits):  # too long for what can be bought: keep longer ones for longer
        return min(fits, key=lambda bar: (bar.steps, bar.name))
    return min(fits, key=lambda bar: (bar.cost / _filled(waiting, bar.steps), bar.steps, bar.name))


def _filled(waiting: Sequence[int], steps: int) -> int:
    """How much of a bar the waiting pieces fill, longest first."""
    room = steps
    for piece in waiting:
        if piece <= room:
            room -= piece
    return steps - room


def holds(plan_cuts: Iterable[Cut], pieces: Sequence[int], bars: Sequence[Bar]) -> str:
    """Empty when the cuts give exactly the pieces and no bar is overfilled or used too often, else the reason."""
    cuts = list(plan_cuts)
    given = Counter(piece for cut in cuts for piece in cut.pieces)
    if given != Counter(pieces):
        return "the cuts do not give the pieces that are asked for"
    if any(cut.left < 0 for cut in cuts):
        return "a bar is cut longer than it is"
    taken = Counter(cut.bar.name for cut in cuts)
    over = next((bar for bar in bars if bar.count is not None and taken[bar.name] > bar.count), None)
    return f"{over.name} is used too often" if over else ""


def length_bound(pieces: Sequence[int], bars: Sequence[Bar]) -> int:
    """No plan costs less than its length at the cheapest price of a step, finite bars filled first.

    >>> length_bound([6, 6], [Bar("roll", 10, None, 10)])
    12
    """
    need, cost = sum(pieces), 0.0
    for bar in sorted(bars, key=lambda bar: bar.cost / bar.steps):
        taken = need if bar.count is None else min(need, bar.steps * bar.count)
        cost += taken * bar.cost / bar.steps
        need -= taken
        if need <= 0:
            break
    return ceil(cost - 1e-9)


def count_bound(pieces: Sequence[int], steps: int) -> int:
    """Fewest bars of one length: the bound L2 of Martello and Toth (1990), over every threshold.

    Pieces longer than half a bar each need one of their own; pieces between the threshold and half fill what
    those leave; what remains needs further bars.

    >>> count_bound([6, 6, 6], 10)
    3
    """
    best = -(-sum(pieces) // steps)
    half = steps / 2
    for least in {0, *(piece for piece in pieces if piece <= half)}:
        large = [piece for piece in pieces if piece > steps - least]
        middle = [piece for piece in pieces if half < piece <= steps - least]
        small = sum(piece for piece in pieces if least <= piece <= half)
        room = len(middle) * steps - sum(middle)
        best = max(best, len(large) + len(middle) + max(0, -(-(small - room) // steps)))
    return best
