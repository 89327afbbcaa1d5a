"""The parts list: what to buy, by shape and standard, with spares."""

from collections.abc import Iterable, Iterator

from ..choose.worth import Stock
from ..parts.wire import Wire
from ..site.model import Site
from .asked import Asked
from .buying.cost import Cost, costs
from .buying.equipment import equipment_items
from .buying.fuses import fuse_items, holder_items, spare_rule
from .buying.item import Item
from .buying.wires import cable_items, end_items, sleeve_items, tag_items, wire_items
from .cutting.colours import colours_of
from .cutting.lengths import long
from .cutting.order import batches
from .cutting.pieces import cable_pieces, wire_pieces
from .cutting.stock import own_stock
from .document import Block, Caution, Document, Heading, Table, Terms, Text

TITLE = "Parts list"
PAPER = "sideways"
ORDER = 50

INTRODUCTION = (
    "Described by shape and standard, without makes. Lengths hold the slack of the cut list; what rolls to buy stands "
    "there. Devices are not listed: they are there already."
)
CAUTION_TITLE = "When you buy"
CAUTIONS = (
    "Fuses of no name may carry several times their rating: the standard must be printed on the fuse.",
    "Both halves of a mating plug of one make: plugs that seem to fit each other run hot.",
    "Wire sold by its outer diameter is thinner than it sounds: ask for mm² or AWG of copper.",
    "A part with a lower voltage or current than stated here is another part: check the site file with it first.",
)
HEAD = ("what", "in use", "spare", "buy", "standard", "ask for", "used for")
WIDTHS = (0.27, 0.06, 0.06, 0.1, 0.16, 0.19, 0.16)
RAW_HEAD = ("group", "what", "in_use", "spare", "buy", "length_m", "standard", "ask_for", "used_for")
COST_TITLE = "What it costs"
COST_NOTE = (
    "By the price list given, for the wires and fuses it names, spares counted; what is at hand is taken first. Wire "
    "is counted by the metre that is cut; what remains of a roll comes on top. Equipment, holders and terminals have "
    "no price here."
)
COST_HEAD = ("what", "at hand", "to buy", "price", "cost")
COST_WIDTHS = (0.46, 0.13, 0.13, 0.14, 0.14)
COST_RAW = ("group", "what", "own", "to_buy", "unit", "price", "cost")
NO_PRICE = "no price"
TOTAL = "total"
TOTAL_PART = "total of the {n} lines with a price, of {m}"
MOST_TAGS = 8
AND_MORE = "{names} and {n} more"


def draw(asked: Asked, terms: Terms) -> Document:
    """One table a group."""
    return Document("parts-list", TITLE, tuple(_blocks(asked, terms)), PAPER)


def items(site: Site, prices: Stock | None = None) -> tuple[Item, ...]:
    """Everything to buy, in the order of the list; wire at hand is that of the price list, when there is one."""
    pieces, cables = wire_pieces(site, colours_of(site)), cable_pieces(site)
    return (
        *equipment_items(site),
        *fuse_items(site),
        *holder_items(site),
        *wire_items(batches(pieces, own_stock(site.path, prices).offcuts)),
        *cable_items(cables),
        *end_items(site, pieces, cables),
        *sleeve_items(pieces),
        *tag_items((*pieces, *cables)),
    )


def _blocks(asked: Asked, terms: Terms) -> Iterator[Block]:
    yield Text(INTRODUCTION)
    yield Caution(CAUTION_TITLE, CAUTIONS)
    yield Text(spare_rule())
    groups: dict[str, list[Item]] = {}
    for item in items(asked.site, terms.prices):
        groups.setdefault(item.group, []).append(item)
    for group, found in groups.items():
        yield Heading(group[0].upper() + group[1:])
        yield _table(group, found, terms)
    if terms.prices is not None:
        yield Heading(COST_TITLE)
        yield Text(COST_NOTE)
        yield _cost_table([item for found in groups.values() for item in found], terms, terms.prices)


def _cost_table(found: Iterable[Item], terms: Terms, prices: Stock) -> Table:
    """Lines that a price list may name, what is at hand of them, and the total."""
    lines = [cost for cost in costs(found, prices) if cost.buy is not None]
    known = [cost.total for cost in lines if cost.total is not None]
    printed = [
        (
            cost.item.what,
            _amount(cost, cost.own, terms),
            _amount(cost, cost.buy or 0.0, terms),
            "" if cost.each is None else f"{cost.each:.2f} {_unit(cost)}",
            NO_PRICE if cost.total is None else f"{cost.total:.2f}",
        )
        for cost in lines
    ]
    unit = f" {prices.currency}" if prices.currency else ""
    total = TOTAL_PART.format(n=len(known), m=len(lines)) if len(known) < len(lines) else TOTAL
    printed.append((total, "", "", "", f"{sum(known):.2f}{unit}"))
    raw: list[tuple[object, ...]] = [
        (
            cost.item.group,
            cost.item.what,
            round(cost.own, 4),
            round(cost.buy or 0.0, 4),
            _unit(cost)[2:],
            cost.each,
            None if cost.total is None else round(cost.total, 4),
        )
        for cost in lines
    ]
    raw.append((TOTAL, "", None, None, prices.currency, None, round(sum(known), 4)))
    return Table("parts-cost", COST_HEAD, tuple(printed), "lrrrr", "", COST_WIDTHS, COST_RAW, tuple(raw))


def _amount(cost: Cost, amount: float, terms: Terms) -> str:
    if amount == 0.0:
        return ""
    return long(amount, terms.units) if isinstance(cost.item.thing, Wire) else f"{amount:g}"


def _unit(cost: Cost) -> str:
    return "a metre" if isinstance(cost.item.thing, Wire) else "a piece"


def _table(group: str, found: Iterable[Item], terms: Terms) -> Table:
    kept = list(found)
    printed = tuple(_printed(item, terms) for item in kept)
    raw = tuple(
        (
            item.group,
            item.what,
            *((None,) * 3 if item.length_m is not None else (item.n, item.spare, item.total)),
            None if item.length_m is None else round(item.length_m, 4),
            item.standard,
            item.ask,
            ", ".join(item.used_for),
        )
        for item in kept
    )
    return Table(f"parts-{group.replace(' ', '-')}", HEAD, printed, "lrrrlll", "", WIDTHS, RAW_HEAD, raw)


def _printed(item: Item, terms: Terms) -> tuple[str, ...]:
    used = ", ".join(item.used_for[:MOST_TAGS])
    if len(item.used_for) > MOST_TAGS:
        used = AND_MORE.format(names=used, n=len(item.used_for) - MOST_TAGS)
    if item.length_m is not None:
        numbers = ("", "", long(item.length_m, terms.units))
    else:
        numbers = (str(item.n), str(item.spare) if item.spare else "", str(item.total))
    return (item.what, *numbers, item.standard, item.ask, used)
