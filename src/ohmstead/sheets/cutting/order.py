"""Which wire to cut from what: pieces by type and colour, cut from own stock first, then from rolls to buy."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from math import ceil, floor

from ...parts.wire import Wire
from ...quantity.show import show_area_both
from ...site.record import record
from ...tables.reader import rows
from .packing import STEP_M, Bar, Cut, Plan
from .pieces import OPEN, Piece
from .plan import plan_cuts
from .stock import Offcut

ROLL_COST = 100  # a roll more weighs as much as 0.1 m more: of equal lengths the fewer rolls
STEP_COST = 10
OWN_COST = 100  # own lengths weigh a thousandth of bought ones: they go first, the shorter ones before the longer
PER_METRE = "{length:g} m by the metre"
PER_FOOT = "{length:g} ft by the foot"
OWN = "own {said} (stock line {line})"
FOOT_M = 0.3048


@record(frozen=True)
class Taken:
    """One bar with the pieces cut from it, in order, and what is left of it. `own` is "yes" or "no"."""

    name: str
    length_m: float
    own: str
    pieces: tuple[Piece, ...]
    left_m: float


@record(frozen=True)
class Batch:
    """All pieces of one wire in one colour and how they are cut. `plan` None: the wire is not yet chosen."""

    wire: Wire | None
    colour: str
    pieces: tuple[Piece, ...]
    taken: tuple[Taken, ...]
    plan: Plan | None
    too_long: tuple[Piece, ...] = ()

    @property
    def name(self) -> str:
        """The wire in words."""
        return type_name(self.wire)

    @property
    def length_m(self) -> float:
        """What is cut, slack counted. [m]"""
        return sum(piece.length_m for piece in self.pieces)

    @property
    def route_m(self) -> float:
        """What has to be spanned. [m]"""
        return sum(piece.route_m for piece in self.pieces)

    @property
    def bought_m(self) -> float:
        """What has to be bought. [m]"""
        return sum(bar.length_m for bar in self.taken if bar.own == "no")

    @property
    def left_m(self) -> float:
        """What remains, of bought and own lengths. [m]"""
        return sum(bar.left_m for bar in self.taken)


def type_key(wire: Wire | None) -> tuple[str, str, str, str, float, str]:
    """What makes two wires the same on the shelf."""
    if wire is None:
        return ("", "", "", "", 0.0, "")
    return (wire.system, wire.size, wire.metal, wire.insulation, wire.insulation_c, wire.strand_class)


def size_name(wire: Wire | None) -> str:
    """The size as sold, the other system beside it."""
    if wire is None:
        return OPEN
    if wire.system in ("AWG", "SAE"):
        sold = wire.size if "AWG" in wire.size or "SAE" in wire.size else f"{wire.size} {wire.system}"
        return f"{sold} ({wire.area_mm2:.3g} mm²)"
    kind = " vehicle" if wire.system == "vehicle" else ""
    return show_area_both(wire.area_mm2) + kind


def type_name(wire: Wire | None) -> str:
    """Size, metal and insulation."""
    if wire is None:
        return OPEN
    return f"{size_name(wire)} {wire.metal}, {wire.insulation} {wire.insulation_c:g} °C"


def batches(pieces: Iterable[Piece], offcuts: Sequence[Offcut]) -> tuple[Batch, ...]:
    """Pieces by type and colour, thinnest wire first, with their cutting plans. Own stock is used up in that order."""
    groups: dict[tuple[object, ...], list[Piece]] = defaultdict(list)
    for piece in pieces:
        groups[type_key(piece.wire), piece.colour].append(piece)
    left = {offcut.line: offcut.count for offcut in offcuts}
    found = []
    for group in sorted(groups.values(), key=lambda group: (_thickness(group[0].wire), type_key(group[0].wire))):
        found.append(_batch(group, offcuts, left))
    return tuple(found)


def _thickness(wire: Wire | None) -> float:
    return 1e9 if wire is None else wire.area_mm2


def _batch(group: Sequence[Piece], offcuts: Sequence[Offcut], left: dict[int, int]) -> Batch:
    wire, colour = group[0].wire, group[0].colour
    if wire is None:
        return Batch(None, colour, tuple(group), (), None)
    own = {bar.name: bar for bar in _own_bars(wire, colour, offcuts, left)}
    plan = plan_cuts([piece.steps for piece in group], [*own.values(), *_new_bars(wire, group)])
    waiting: dict[int, list[Piece]] = defaultdict(list)
    for piece in group:
        waiting[piece.steps].append(piece)
    taken = tuple(_taken(cut, waiting, "yes" if cut.bar.name in own else "no") for cut in plan.cuts)
    for line in left:
        left[line] -= sum(bar.own == "yes" and bar.name.endswith(f"line {line})") for bar in taken)
    return Batch(wire, colour, tuple(group), taken, plan, tuple(piece for rest in waiting.values() for piece in rest))


def _taken(cut: Cut, waiting: dict[int, list[Piece]], own: str) -> Taken:
    pieces = tuple(waiting[steps].pop(0) for steps in cut.pieces)
    return Taken(cut.bar.name, cut.bar.steps * STEP_M, own, pieces, cut.left * STEP_M)


def _own_bars(wire: Wire, colour: str, offcuts: Sequence[Offcut], left: dict[int, int]) -> list[Bar]:
    """Own lengths of this wire that are not used up. An unsaid colour fits any."""
    found = []
    for offcut in offcuts:
        steps = floor(offcut.length_m / STEP_M + 1e-9)
        if left[offcut.line] and steps and same_wire(offcut.wire, wire) and offcut.colour in ("", colour):
            name = OWN.format(said=offcut.said, line=offcut.line)
            found.append(Bar(name, steps, left[offcut.line], max(1, round(steps * STEP_COST / 1000)) + OWN_COST))
    return found


def same_wire(own: Wire, wanted: Wire) -> str:
    """A reason to take an own wire for a wanted one, empty when it will not do.

    Size and metal must be the same, its insulation must bear at least as much; strands only when both say them.
    """
    if (own.system, own.size, own.metal) != (wanted.system, wanted.size, wanted.metal):
        return ""
    if own.insulation_c < wanted.insulation_c:
        return ""
    unsaid = any(word.startswith(("class", "stranded")) for word in (*own.assumed, *wanted.assumed))
    return "same size" if unsaid or own.strand_class == wanted.strand_class else ""


def _new_bars(wire: Wire, group: Sequence[Piece]) -> list[Bar]:
    """Rolls to buy. Thick wire, and pieces longer than any roll, come in one length by the metre or foot."""
    system = "gauge" if wire.system in ("AWG", "SAE") else "metric"
    total_m = sum(piece.length_m for piece in group)
    rolls = [
        (str(row["roll"]), floor(float(row["length_m"]) / STEP_M + 1e-9))
        for row in rows("wire_rolls")
        if row["system"] == system and wire.area_mm2 <= float(row["thickest_mm2"])
    ]
    longest = max((steps for _, steps in rolls), default=0)
    bars = [Bar(name, steps, None, steps * STEP_COST + ROLL_COST) for name, steps in rolls]
    long_m = sum(piece.length_m for piece in group if piece.steps > longest) if rolls else total_m
    if long_m > 0:
        unit = FOOT_M if system == "gauge" else 1.0
        name = (PER_FOOT if system == "gauge" else PER_METRE).format(length=ceil(long_m / unit - 1e-9))
        steps = floor(ceil(long_m / unit - 1e-9) * unit / STEP_M + 1e-9)
        steps = max(steps, sum(piece.steps for piece in group if piece.steps > longest))
        bars.append(Bar(name, steps, None, steps * STEP_COST + ROLL_COST))
    return bars
