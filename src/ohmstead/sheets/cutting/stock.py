"""Rolls and offcuts that the builder has: a CSV file beside the site file, wire, length and how many."""

from collections.abc import Iterator
from os.path import exists, splitext

from ...choose.worth import Stock as Listed
from ...parts.faults import PartError
from ...parts.wire import Wire, read_wire
from ...quantity.faults import QuantityError
from ...quantity.read import read_number
from ...site.record import record

COLUMNS = ("wire", "length", "count", "colour")
NEEDED = COLUMNS[:2]
ENDING = ".stock.csv"
PRICE_LIST = "the price list"
NO_COLUMN = "line 1: no column `{name}`; the first line names the columns: wire,length,count,colour"
STRANGE = "line 1: column `{name}` is not known; known are wire, length, count and colour"
SEMICOLONS = "line 1: the cells are parted by `{sign}`; part them by commas and write decimal points, such as 12.5 m"
CELLS = "line {line}: {found} cells under {wanted} columns; a decimal comma parts a cell in two: write 12.5 m"
COUNT = "line {line}: count {text!r} is no whole number above 0"
LENGTH = "line {line}: {problem}; {mend}"
ABOVE_ZERO = "line {line}: a length must be above 0"
EMPTY = "the file is empty"


@record(frozen=True)
class Offcut:
    """So many lengths of one wire; `colour` empty: any, or not said. `said` is the length as it was written."""

    line: int
    wire: Wire
    length_m: float
    count: int
    colour: str
    said: str


@record(frozen=True)
class Stock:
    """What could be read, and a message for each line that could not."""

    name: str
    offcuts: tuple[Offcut, ...] = ()
    faults: tuple[str, ...] = ()


def stock_path(site_path: str) -> str:
    """Where the stock of a site stands: `cabin.stock.csv` beside `cabin.yaml`."""
    return splitext(site_path)[0] + ENDING


def stock_beside(site_path: str) -> Stock:
    """The stock file beside a site file. Empty when there is none."""
    path = stock_path(site_path)
    if not site_path or not exists(path):
        return Stock("")
    with open(path, encoding="utf-8-sig", errors="replace", newline="") as file:
        return read_stock(file.read(), path)


def own_stock(site_path: str, prices: Listed | None) -> Stock:
    """Rolls and offcuts at hand: those that a price list names, else those of the file beside the site file."""
    own = offcuts_of(prices) if prices is not None else ()
    return Stock(PRICE_LIST, own) if own else stock_beside(site_path)


def offcuts_of(prices: Listed) -> tuple[Offcut, ...]:
    """The wires of a price list that are at hand."""
    return tuple(
        Offcut(length.line, item.thing, length.length_m, length.count, length.colour, length.said)
        for item in prices.items
        if isinstance(item.thing, Wire)
        for length in item.lengths
    )


def read_stock(text: str, name: str) -> Stock:
    """Stock from the text of a CSV file; every bad line is told, the good ones are kept.

    A price list (a column `item`) is read as one: with a fault in it, it is refused as a whole.
    """
    from csv import reader

    table = [(number, [cell.strip() for cell in row]) for number, row in enumerate(reader(text.splitlines()), 1)]
    table = [(number, row) for number, row in table if any(row) and not row[0].startswith("#")]
    if not table:
        return Stock(name, (), (EMPTY,))
    head = [cell.lower() for cell in table[0][1]]
    if "item" in head:
        return _from_price_list(text, name)
    faults = list(_head_faults(head))
    if faults:
        return Stock(name, (), tuple(faults))
    offcuts = []
    for number, row in table[1:]:
        try:
            offcuts.append(_offcut(number, head, row))
        except ValueError as fault:
            faults.append(str(fault))
    return Stock(name, tuple(offcuts), tuple(faults))


def _from_price_list(text: str, name: str) -> Stock:
    from ...choose.prices import read_price_text
    from ...site.problems import SiteError

    try:
        return Stock(name, offcuts_of(read_price_text(text, name)))
    except SiteError as refused:
        return Stock(
            name, (), tuple(f"line {fault.place.line}: {fault.what}; {fault.mend}" for fault in refused.problems)
        )


def _head_faults(head: list[str]) -> Iterator[str]:
    for sign in ";\t":
        if len(head) == 1 and sign in head[0]:
            yield SEMICOLONS.format(sign=sign)
            return
    yield from (NO_COLUMN.format(name=name) for name in NEEDED if name not in head)
    yield from (STRANGE.format(name=name) for name in head if name not in COLUMNS)


def _offcut(line: int, head: list[str], row: list[str]) -> Offcut:
    """One line. Raises ValueError with a message that names the line."""
    if len(row) != len(head):
        raise ValueError(CELLS.format(line=line, found=len(row), wanted=len(head)))
    cells = dict(zip(head, row, strict=True))
    try:
        wire = read_wire(cells["wire"])
        length_m = read_number(cells["length"], "length")
    except (PartError, QuantityError) as fault:
        raise ValueError(LENGTH.format(line=line, problem=fault.problem, mend=fault.mend)) from None
    if not length_m > 0:
        raise ValueError(ABOVE_ZERO.format(line=line))
    count = cells.get("count") or "1"
    if not count.isdecimal() or int(count) < 1:
        raise ValueError(COUNT.format(line=line, text=count))
    return Offcut(line, wire, length_m, int(count), cells.get("colour", "").lower(), cells["length"])
