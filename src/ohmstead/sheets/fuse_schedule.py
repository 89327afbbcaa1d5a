"""The fuse schedule, for the inside of the door: which fuse feeds what, and what goes dark without it."""

from collections.abc import Iterable, Iterator

from ..quantity.show import show
from ..site.kinds import Distribution
from ..site.record import record
from .asked import Asked
from .cutting.order import size_name
from .cutting.pieces import OPEN, tag_of
from .document import Block, Caution, Document, Heading, Table, Terms, Text
from .schedule.circuits import LEAST_A, Circuit, Expected, charger_of, circuits, in_words, ways_of

TITLE = "Fuse schedule"
PAPER = "sideways"
ORDER = 20

# An arc between opening contacts may stand above about 20 V and 1 A. From memory (common practice).
ARC_V = 20.0
# From here on an arc at a fuse or plug pulled under load is to be expected and burns. Common practice.
SURE_ARC_V = 40.0
MOST_NAMES = 12

INTRODUCTION = (
    "Idle and working: the largest current with the battery half full. Start: the largest while something behind the "
    "fuse starts, battery low; it lasts seconds. A current well away from these is a reason to look, not to fit a "
    "larger fuse. Calculated, not measured."
)
HEAD = ("way", "circuit", "fuse", "volts DC", "wire", "idle", "working", "start", "goes dark when pulled")
LINE_HEAD = ("where", *HEAD[1:])
WIDTHS = (0.05, 0.16, 0.15, 0.06, 0.17, 0.07, 0.07, 0.06, 0.21)
LINE_WIDTHS = (0.12, 0.13, 0.13, 0.06, 0.16, 0.07, 0.07, 0.06, 0.2)
RAW_HEAD = (
    "place",
    "way",
    "from",
    "to",
    "fuse",
    "rating_a",
    "fuse_rated_v",
    "highest_v",
    "wire_mm2",
    "idle_a",
    "idle_case",
    "working_a",
    "working_case",
    "start_a",
    "start_case",
    "goes_dark",
    "by_charger_only",
)
WAY_CAPTION = "{used} of {ways} ways used, {spare} spare."
IN_LINE = "Fuses in line and on terminals"
SPARE = "spare"
NO_FUSE = "no fuse"
ABSENT = "–"
EVERYTHING = "everything ({n} devices)"
AND_MORE = "{names} and {n} more"
CHARGER_KEEPS = "{names}, unless a charger delivers"
NOTHING = "nothing: fed another way too"
NO_CHARGE = "nothing; charging stops"
ON_END = "on {end}"
ALONG = "{end}, {length} on"
UNSAID = "at {end}, place not stated"
RAW_DIGITS = 6
CAUTION_TITLE = "Before you touch a fuse"
CAUTIONS = (
    "Switch off or unplug what the fuse feeds first, then pull it.",
    "The same kind, the same ampere, at least the same volts. Never a larger one: the wire behind it would burn.",
    "A fuse that opens twice has found a fault. Look for it before the third.",
    "Pulling the battery's fuse does not stop a charger: switch chargers off first.",
    "Converters hold charge after the fuse is out: wait a minute, then measure before you touch.",
)
ARC = (
    "Up to {volts} at these fuses. An arc may stand between contacts that part under load: never pull a fuse or a "
    "plug while current flows."
)
SURE_ARC = (
    "Up to {volts} at these fuses. AN ARC WILL STAND between contacts that part under load, and burns: never pull a "
    "fuse or a plug while current flows. Use the switch made for it."
)
NO_FUSES = "No run of this site holds a fuse, and there is no fuse block."


@record(frozen=True)
class Row:
    """A line of the schedule, printed and raw."""

    printed: tuple[str, ...]
    raw: tuple[object, ...]


def draw(asked: Asked, terms: Terms) -> Document:
    """One table for each block, one for the fuses in line."""
    return Document("fuse-schedule", TITLE, tuple(_blocks(asked)), PAPER)


def _blocks(asked: Asked) -> Iterator[Block]:
    found = circuits(asked)
    yield Caution(CAUTION_TITLE, cautions(max((circuit.high_v or 0.0 for circuit in found), default=0.0)))
    yield Text(INTRODUCTION)
    for part in asked.site.parts.values():
        if isinstance(part, Distribution):
            yield Heading(part.name)
            yield _block_table(asked, part, [c for c in found if c.block == part.name])
    in_line = [circuit for circuit in found if not circuit.block]
    if in_line:
        yield Heading(IN_LINE)
        rows = [_row(asked, circuit, where(circuit)) for circuit in in_line]
        yield _table("fuses-in-line", LINE_HEAD, rows, "")
    if not found:
        yield Text(NO_FUSES)


def cautions(highest_v: float) -> tuple[str, ...]:
    """The cautions that belong to the highest voltage at any fuse."""
    if highest_v <= ARC_V:
        return CAUTIONS
    arc = SURE_ARC if highest_v >= SURE_ARC_V else ARC
    return (arc.format(volts=show(highest_v, "voltage")), *CAUTIONS)


def _block_table(asked: Asked, part: Distribution, found: list[Circuit]) -> Table:
    by_way = {circuit.way: circuit for circuit in found}
    rows = []
    n_way = ways_of(part, found)
    for way in range(1, n_way + 1):
        circuit = by_way.get(way)
        if circuit is None:
            empty = ("",) * (len(HEAD) - 2)
            rows.append(Row((str(way), SPARE, *empty), (part.name, way, *(None,) * (len(RAW_HEAD) - 2))))
        else:
            rows.append(_row(asked, circuit, str(way)))
    spare = n_way - len(by_way)
    caption = WAY_CAPTION.format(used=len(by_way), ways=n_way, spare=spare)
    return _table(f"fuses-{part.name.replace(' ', '-')}", HEAD, rows, caption)


def _table(name: str, head: tuple[str, ...], rows: Iterable[Row], caption: str) -> Table:
    kept = list(rows)
    widths = WIDTHS if head is HEAD else LINE_WIDTHS
    return Table(
        name,
        head,
        tuple(row.printed for row in kept),
        "lllllrrrl",
        caption,
        widths,
        RAW_HEAD,
        tuple(row.raw for row in kept),
    )


def _row(asked: Asked, circuit: Circuit, label: str) -> Row:
    run, fuse = circuit.run, circuit.run.fuse
    wire = f"{tag_of(asked.site, run)} {size_name(run.wire) if run.cable is None else run.cable}"
    printed = (
        label,
        in_words(asked.site, run),
        fuse_name(circuit),
        show(fuse.family.rated_v, "voltage") if fuse else ABSENT,
        wire,
        _amperes(circuit.idle),
        _amperes(circuit.working),
        _amperes(circuit.start),
        dark_words(asked, circuit),
    )
    area_mm2 = run.wire.area_mm2 if run.wire else run.cable.area_mm2 if run.cable else None
    raw = (
        circuit.block or None,
        circuit.way,
        str(run.start),
        str(run.end),
        fuse_name(circuit),
        fuse.rating_a if fuse else None,
        fuse.family.rated_v if fuse else None,
        circuit.high_v,
        area_mm2,
        *_raw(circuit.idle),
        *_raw(circuit.working),
        *_raw(circuit.start),
        ", ".join(circuit.dark),
        ", ".join(circuit.by_day),
    )
    return Row(printed, raw)


def where(circuit: Circuit) -> str:
    """Where a fuse in line sits, from the written start of its run."""
    run, at_m = circuit.run, circuit.run.fuse_at_m
    if at_m is None:
        return UNSAID.format(end=run.start)
    if at_m == 0 or at_m >= run.length_m:
        return ON_END.format(end=run.end if at_m else run.start)
    return ALONG.format(end=run.start, length=show(at_m, "length"))


def fuse_name(circuit: Circuit) -> str:
    """Rating and kind of the fuse, or that it is open or missing."""
    fuse = circuit.run.fuse
    if fuse is not None:
        return f"{fuse.rating_a:g} A {fuse.family.title}"
    return OPEN if circuit.run.origin_of("fuse") == "choose" else NO_FUSE


def dark_words(asked: Asked, circuit: Circuit) -> str:
    """What goes dark, in words."""
    n_device = len(asked.evidence.devices)
    said = []
    if circuit.dark:
        said.append(EVERYTHING.format(n=n_device) if len(circuit.dark) == n_device > 3 else _listed(circuit.dark))
    if circuit.by_day:
        everything = len(circuit.by_day) == n_device > 3
        names = EVERYTHING.format(n=n_device) if everything else _listed(circuit.by_day)
        said.append(CHARGER_KEEPS.format(names=names))
    return "; ".join(said) or (NO_CHARGE if charger_of(asked.site, circuit.run) else NOTHING)


def _listed(names: tuple[str, ...]) -> str:
    shown = ", ".join(names[:MOST_NAMES])
    return shown if len(names) <= MOST_NAMES else AND_MORE.format(names=shown, n=len(names) - MOST_NAMES)


def _amperes(expected: Expected | None) -> str:
    if expected is None:
        return ABSENT
    return show(expected.current_a if expected.current_a >= LEAST_A else 0.0, "current", 2)


def _raw(expected: Expected | None) -> tuple[object, object]:
    return (None, None) if expected is None else (round(expected.current_a, RAW_DIGITS), expected.case)
