"""The cut list: every piece of wire, its tag, its ends, and what to cut it from."""

from collections.abc import Iterator, Sequence
from os.path import basename

from ..quantity.digits import figures
from ..tables.reader import rows
from .asked import Asked
from .cutting.colours import Colours, colours_of
from .cutting.lengths import both, long
from .cutting.order import Batch, batches, size_name
from .cutting.pieces import OPEN, Piece, cable_pieces, wire_pieces
from .cutting.plan import WITHOUT_SCIPY
from .cutting.stock import PRICE_LIST, Stock, own_stock, stock_path
from .document import Block, Caution, Document, Heading, Table, Terms, Text

TITLE = "Cut list"
PAPER = "sideways"
ORDER = 30

SLACK = (
    "Length is the route in the file and {bends} of it for bends and {end} at each end, but at an end no more than "
    "{share} of the route; rounded up to the centimetre. Measure the route before you cut."
)
COLOUR = (
    "Colours: positive {positive}, negative {negative}, after {title} ({read}), which goes with the "
    "site's {rules} tables. Another convention does as well if the whole site keeps to it; green-and-yellow never "
    "carries current. The tag decides, not the colour."
)
ENDS = (
    "Strip lengths and sleeves are the usual ones (from memory): the barrel of the terminal in hand decides. "
    "(by the stud), (by the inlet): taken from the part, as the file does not state the end."
)
UNKNOWN_TITLE = "Ends that the file does not state"
UNKNOWN = "{n} ends are marked with a question mark. Look at the part, then add `ends:` to the run: {tags}."
OPEN_TITLE = "Not yet chosen"
OPEN_LINES = "The wire of {tags} is still to be chosen: do not cut these."
NO_PLACE = "{tags}: where the fuse sits is not stated, so the wire is in one piece. Cut it where the holder goes."
STOCK_TITLE = "Stock file"
NAMELESS_STOCK = "the stock file"
STOCK_FAULTS = "These lines of {name} could not be used:"
STOCK_USED = "Own rolls and offcuts are taken from {name} and used first."
NO_STOCK = (
    "No stock file lies beside the site file, so everything is cut from rolls to buy. Write {name} with the columns "
    "wire,length,count,colour to have own rolls and offcuts used first."
)
SECTIONS = {
    "pieces": "Wires",
    "cables": "Network and data cables",
    "totals": "Totals by wire",
    "plan": "What to cut from what",
    "tags": "Tags at both ends",
}
PIECE_HEAD = ("tag", "length", "wire", "colour", "from", "end, strip, sleeve", "to", "end, strip, sleeve")
PIECE_WIDTHS = (0.07, 0.12, 0.17, 0.07, 0.12, 0.165, 0.12, 0.165)
PIECE_RAW = (
    "tag",
    "file_line",
    "sign",
    "route_m",
    "length_m",
    "wire",
    "area_mm2",
    "insulation",
    "colour",
    "from",
    "from_end",
    "from_strip_mm",
    "from_sleeve",
    "to",
    "to_end",
    "to_strip_mm",
    "to_sleeve",
)
CABLE_HEAD = ("tag", "length", "cable", "from", "end", "to", "end")
CABLE_RAW = ("tag", "file_line", "route_m", "length_m", "cable", "from", "from_end", "to", "to_end")
TOTAL_HEAD = ("wire", "colour", "pieces", "route", "cut", "to buy", "left over", "least?")
TOTAL_RAW = (
    "wire",
    "area_mm2",
    "colour",
    "pieces",
    "route_m",
    "cut_m",
    "bought_m",
    "left_m",
    "proven",
    "method",
    "cost",
    "bound",
)
PLAN_HEAD = ("cut from", "wire", "colour", "pieces in this order", "left over")
PLAN_WIDTHS = (0.14, 0.2, 0.08, 0.47, 0.11)
PLAN_RAW = ("cut_from", "own", "bar_m", "wire", "colour", "tags", "left_m")
TAG_HEAD = ("tag", "at the start", "at the far end")
TAG_RAW = ("tag", "start_label", "far_label")
LEAST = "least, proven"
NEAR_LEAST = "within {gap} of the least"
UNPROVEN = "least not proven; within {gap}"
PLAN_NOTE = (
    "Own lengths go first, then the least length to buy, of equal lengths in the fewest rolls. Wire of 10 mm² and "
    "more is bought by the metre or foot. What is left over of a roll is kept, not lost."
)
TOO_LONG = "No length holds {tags}: order these to measure."


def draw(asked: Asked, terms: Terms) -> Document:
    """Pieces, cables, totals, cutting plan and tags."""
    colours = colours_of(asked.site)
    stock = own_stock(asked.site.path, terms.prices)
    pieces = wire_pieces(asked.site, colours)
    return Document("cut-list", TITLE, tuple(_blocks(asked, terms, pieces, (colours, stock))), PAPER)


def _blocks(asked: Asked, terms: Terms, pieces: Sequence[Piece], basis: tuple[Colours, Stock]) -> Iterator[Block]:
    colours, stock = basis
    yield Text(slack_words(terms))
    yield Text(
        COLOUR.format(
            positive=colours.positive,
            negative=colours.negative,
            title=colours.title,
            read=colours.read,
            rules=asked.site.about.rules,
        )
    )
    yield Text(ENDS)
    cables = cable_pieces(asked.site)
    yield from _gaps(asked, (*pieces, *cables))
    yield Heading(SECTIONS["pieces"])
    yield piece_table(pieces, terms)
    if cables:
        yield Heading(SECTIONS["cables"])
        yield cable_table(cables, terms)
    found = batches(pieces, stock.offcuts)
    yield Heading(SECTIONS["totals"])
    yield total_table(found, terms)
    yield Heading(SECTIONS["plan"])
    yield from _stock_words(stock, asked.site.path, terms)
    yield Text(PLAN_NOTE)
    yield plan_table(found, terms)
    lost = [piece.tag for batch in found for piece in batch.too_long]
    if lost:
        yield Text(TOO_LONG.format(tags=", ".join(lost)))
    yield Heading(SECTIONS["tags"])
    tagged = tuple((piece.tag, *piece.labels) for piece in (*pieces, *cables))
    yield Table("wire-tags", TAG_HEAD, tagged, "lll", "", (0.12, 0.44, 0.44), TAG_RAW, tagged)


def slack_words(terms: Terms) -> str:
    """The rule of slack with the figures of its table."""
    rule = {name: float(value) for name, value in rows("wire_slack")[0].items()}
    share, bends = (f"{figures(rule[name] * 100)} %" for name in ("end_fraction", "route_fraction"))
    return SLACK.format(bends=bends, end=both(rule["end_m"], terms.units), share=share)


def _gaps(asked: Asked, pieces: Sequence[Piece]) -> Iterator[Block]:
    """What the builder has to settle before cutting."""
    unknown = [(piece.tag, end) for piece in pieces for end in (piece.start, piece.end) if end.how == "unknown"]
    if unknown:
        tags = ", ".join(dict.fromkeys(tag.partition("+")[0].partition("-")[0] for tag, _ in unknown))
        yield Caution(UNKNOWN_TITLE, (UNKNOWN.format(n=len(unknown), tags=tags),))
    still_open = [piece.tag for piece in pieces if piece.wire is None and piece.run.origin_of("wire") == "choose"]
    if still_open:
        yield Caution(OPEN_TITLE, (OPEN_LINES.format(tags=", ".join(still_open)),))
    assumed = [piece.tag for piece in pieces if piece.sign == "+" and piece.run.name in asked.evidence.at_m_assumed]
    if assumed:
        yield Text(NO_PLACE.format(tags=", ".join(assumed)))


def _stock_words(stock: Stock, path: str, terms: Terms) -> Iterator[Block]:
    name = basename(stock_path(path)) if terms.sharing == "named" and path else NAMELESS_STOCK
    if stock.name == PRICE_LIST:
        name = PRICE_LIST
    if stock.faults:
        yield Caution(STOCK_TITLE, (STOCK_FAULTS.format(name=name), *stock.faults))
    if stock.offcuts:
        yield Text(STOCK_USED.format(name=name))
    elif not stock.name:
        yield Text(NO_STOCK.format(name=name))


def piece_table(pieces: Sequence[Piece], terms: Terms) -> Table:
    """Every wire."""
    printed, raw = [], []
    for piece in pieces:
        start, end, wire = piece.start, piece.end, piece.wire
        printed.append(
            (
                piece.tag,
                both(piece.length_m, terms.units),
                _wire_words(piece),
                piece.colour,
                start.at,
                start.summary,
                end.at,
                end.summary,
            )
        )
        raw.append(
            (
                piece.tag,
                piece.run.place.line,
                piece.sign,
                piece.route_m,
                piece.length_m,
                wire.designation if wire else OPEN,
                wire.area_mm2 if wire else None,
                wire.insulation if wire else None,
                piece.colour,
                start.at,
                start.words,
                start.strip_mm,
                start.sleeve,
                end.at,
                end.words,
                end.strip_mm,
                end.sleeve,
            )
        )
    return Table("wire-pieces", PIECE_HEAD, tuple(printed), "lrllllll", "", PIECE_WIDTHS, PIECE_RAW, tuple(raw))


def _wire_words(piece: Piece) -> str:
    wire = piece.wire
    return OPEN if wire is None else f"{size_name(wire)} {wire.insulation}"


def cable_table(cables: Sequence[Piece], terms: Terms) -> Table:
    """Every network or data cable."""
    printed, raw = [], []
    for piece in cables:
        cable = str(piece.run.cable or piece.run.wire or "data cable")
        ends = (piece.start.at, piece.start.words, piece.end.at, piece.end.words)
        printed.append((piece.tag, both(piece.length_m, terms.units), cable, *ends))
        raw.append((piece.tag, piece.run.place.line, piece.route_m, piece.length_m, cable, *ends))
    return Table("network-cables", CABLE_HEAD, tuple(printed), "lrlllll", "", (), CABLE_RAW, tuple(raw))


def total_table(found: Sequence[Batch], terms: Terms) -> Table:
    """Totals by wire and colour, with what to buy."""
    printed, raw = [], []
    for batch in found:
        lengths = (batch.route_m, batch.length_m, batch.bought_m, batch.left_m)
        open_wire = batch.plan is None
        shown = [long(length, terms.units) for length in lengths[: 2 if open_wire else 4]] + ["–"] * 2 * open_wire
        printed.append((batch.name, batch.colour, str(len(batch.pieces)), *shown, least_words(batch)))
        plan = batch.plan
        raw.append(
            (
                batch.name,
                batch.wire.area_mm2 if batch.wire else None,
                batch.colour,
                len(batch.pieces),
                *(round(length, 4) for length in lengths),
                *((plan.proven, plan.method, plan.cost, plan.bound) if plan else (None,) * 4),
            )
        )
    widths = (0.28, 0.08, 0.06, 0.11, 0.11, 0.11, 0.11, 0.14)
    return Table("wire-totals", TOTAL_HEAD, tuple(printed), "llrrrrrl", "", widths, TOTAL_RAW, tuple(raw))


def least_words(batch: Batch) -> str:
    """How good the cutting plan is."""
    plan = batch.plan
    if plan is None:
        return OPEN
    if plan.proven == "yes":
        return LEAST
    gap = f"{figures((plan.cost / max(plan.bound, 1) - 1) * 100, 2)} %"
    return (NEAR_LEAST if plan.method != WITHOUT_SCIPY else UNPROVEN).format(gap=gap)


def plan_table(found: Sequence[Batch], terms: Terms) -> Table:
    """Each roll or offcut with the pieces cut from it."""
    printed, raw = [], []
    for batch in found:
        for bar in batch.taken:
            cuts = ", ".join(f"{piece.tag} {long(piece.length_m, terms.units)}" for piece in bar.pieces)
            printed.append((bar.name, batch.name, batch.colour, cuts, long(bar.left_m, terms.units)))
            raw.append(
                (
                    bar.name,
                    bar.own,
                    round(bar.length_m, 4),
                    batch.name,
                    batch.colour,
                    " ".join(piece.tag for piece in bar.pieces),
                    round(bar.left_m, 4),
                )
            )
    return Table("cutting-plan", PLAN_HEAD, tuple(printed), "llllr", "", PLAN_WIDTHS, PLAN_RAW, tuple(raw))
