"""Reads a price list, CSV or XLSX: what things cost, and what the builder has at hand."""

import csv
import io
import re
from collections.abc import Iterator
from dataclasses import replace
from os import PathLike, fspath

from ..parts.faults import PartError
from ..parts.fuse import Fuse, read_fuse
from ..parts.wire import Wire, read_wire
from ..quantity.faults import QuantityError
from ..quantity.read import read_number
from ..site.place import Place
from ..site.problems import Problem, SiteError
from ..site.source import load
from .sizes import is_sized, size_price
from .worth import Item, Length, Stock

COLUMNS = ("item", "price", "unit", "stock", "colour", "currency")
METRE_UNITS = "a metre: `m`, `ft`, `100 m` or `25 m`"
EXAMPLE = "item,price,unit,stock"
NUMBER = re.compile(r"\d+(?:\.\d+)?")
Cells = dict[str, str]


def read_prices(path: str | PathLike[str]) -> Stock:
    """The price list in a file. Raises SiteError with every line that cannot be used."""
    name = fspath(path)
    if name.lower().endswith((".xlsx", ".xlsm")):
        return _stock(name, _sheet_rows(name), "")
    text = load(path)
    return read_price_text(text, name)


def read_price_text(text: str, name: str = "prices.csv") -> Stock:
    """The price list in a text. Raises SiteError.

    >>> stock = read_price_text("item,price,unit,stock\\n2.5 mm2,0.9,m,12 m\\n10 A blade,0.4,piece,6\\n")
    >>> [(item.text, item.price, item.own) for item in stock.items]
    [('2.5 mm2', 0.9, 12.0), ('10 A blade', 0.4, 6.0)]
    """
    head = text.lstrip("\ufeff").split("\n", 1)[0]
    if ";" in head and "," not in head or "\t" in head:
        raise SiteError(
            [
                _problem(
                    name,
                    1,
                    "the columns are not parted by commas",
                    f"a first line such as {EXAMPLE}",
                    "save it as CSV with commas and decimal points, or as XLSX",
                )
            ],
            text,
        )
    rows = csv.reader(io.StringIO(text.lstrip("\ufeff")))
    return _stock(name, ((rows.line_num, row) for row in rows), text)


def _sheet_rows(name: str) -> Iterator[tuple[int, list[str]]]:
    """Lines of the first sheet of a workbook."""
    from zipfile import BadZipFile

    from openpyxl import load_workbook
    from openpyxl.utils.exceptions import InvalidFileException

    try:
        book = load_workbook(name, read_only=True, data_only=True)
    except (OSError, BadZipFile, InvalidFileException, KeyError, ValueError) as fault:
        missing = isinstance(fault, FileNotFoundError)
        what = "there is no such file" if missing else "this is no workbook that can be read"
        raise SiteError([_problem(name, 0, what, "an XLSX file, or CSV", "save it again as XLSX or CSV")]) from None
    for number, row in enumerate(book.worksheets[0].iter_rows(values_only=True), 1):
        yield number, ["" if cell is None else _cell(cell) for cell in row]


def _cell(value: object) -> str:
    return f"{value:g}" if isinstance(value, float) else str(value)


def _stock(name: str, rows: Iterator[tuple[int, list[str]]], text: str) -> Stock:
    problems: list[Problem] = []
    head: list[str] = []
    items: dict[tuple[object, ...], Item] = {}
    first: dict[tuple[object, ...], int] = {}
    currencies: set[str] = set()
    sizes: dict[str, float] = {}
    for line, row in rows:
        cells = [cell.strip() for cell in row]
        if not any(cells) or cells[0].startswith("#"):
            continue
        if not head:
            head = [cell.lower() for cell in cells]
            problems += _head_problems(name, line, head)
            if problems:
                break
            continue
        if len(cells) > len(head) and any(cells[len(head) :]):
            problems.append(
                _problem(
                    name,
                    line,
                    f"{len(cells)} cells under {len(head)} columns",
                    "one cell a column",
                    "a decimal comma parts a number in two: write 0.90",
                )
            )
            continue
        named = dict(zip(head, cells, strict=False))
        if is_sized(named.get("item", "")):
            found = size_price(name, line, named, problems)
            sizes.update([found] if found else [])
            currencies |= {named.get("currency", "")} - {""}
            continue
        item = _item(name, line, named, problems)
        if item is None:
            continue
        if item.same in items and item.lengths and item.price is None:  # another roll or offcut of the same wire
            before = items[item.same]
            items[item.same] = replace(before, own=before.own + item.own, lengths=before.lengths + item.lengths)
            continue
        if item.same in items:
            problems.append(
                _problem(
                    name,
                    line,
                    f"{item.text} stands in line {first[item.same]} too",
                    "each item once",
                    "keep one of the two lines",
                )
            )
        items[item.same], first[item.same] = item, line
        currencies |= {named.get("currency", "")} - {""}
    if not head:
        problems.append(_problem(name, 0, "the list is empty", f"a first line such as {EXAMPLE}", "fill it in"))
    if len(currencies) > 1:
        problems.append(
            _problem(
                name, 0, f"prices in {' and '.join(sorted(currencies))}", "one currency", "turn them into one currency"
            )
        )
    if problems:
        raise SiteError(problems, text)
    return Stock(tuple(items.values()), next(iter(currencies), ""), sizes)


def _head_problems(name: str, line: int, head: list[str]) -> Iterator[Problem]:
    wanted = f"a first line such as {EXAMPLE}"
    if "item" not in head:
        yield _problem(name, line, "there is no column `item`", wanted, "name the columns in the first line")
    elif "price" not in head and "stock" not in head:
        yield _problem(
            name,
            line,
            "there is neither a column `price` nor a column `stock`",
            wanted,
            "add a price, or what you have",
        )
    elif "price" in head and "unit" not in head:
        yield _problem(
            name,
            line,
            "there is no column `unit`: it is not known what a price is for",
            wanted,
            "add it, with `m`, `ft`, `100 m` or `piece` in each line",
        )
    for column in head:
        if column and column not in COLUMNS:
            yield _problem(
                name, line, f"there is no column `{column}`", ", ".join(COLUMNS), "rename it, or leave it out"
            )


def _item(name: str, line: int, cells: Cells, problems: list[Problem]) -> Item | None:
    """One line as an item; None when something in it is wrong, which is then in `problems`."""
    text = cells.get("item", "")
    before = len(problems)
    thing = _thing(name, line, text, problems)
    price = _price(name, line, cells, thing, problems)
    own = _own(name, line, cells.get("stock", ""), thing, problems)
    if thing is None or len(problems) > before:
        return None
    if price is None and own == 0.0:
        problems.append(
            _problem(name, line, f"{text} has neither a price nor a stock", "one of the two", "leave the line out")
        )
        return None
    return Item(text, thing, price, own, _lengths(line, cells) if own and isinstance(thing, Wire) else ())


def _thing(name: str, line: int, text: str, problems: list[Problem]) -> Wire | Fuse | None:
    if not text:
        problems.append(_problem(name, line, "the item is missing", "such as 2.5 mm2 or 10 A blade", "name it"))
        return None
    faults: list[PartError] = []
    for read in (read_wire, read_fuse):
        try:
            return read(text)
        except PartError as error:
            faults.append(error)
    refused = faults[1] if re.search(r"\d\s*m?A\b", text, re.IGNORECASE) else faults[0]
    expected = "a wire such as 2.5 mm2 or 10 AWG, or a fuse such as 10 A blade, written as in the site file"
    problems.append(_problem(name, line, f"`{text}`: {refused.problem}", expected, refused.mend))
    return None


def _price(name: str, line: int, cells: Cells, thing: Wire | Fuse | None, problems: list[Problem]) -> float | None:
    """Price of a metre of wire, or of one piece."""
    text, unit = cells.get("price", ""), cells.get("unit", "")
    if not text:
        return None
    if not NUMBER.fullmatch(text):
        comma = re.fullmatch(r"\d+,\d+", text)
        mend = f"write {text.replace(',', '.')}" if comma else "write a plain number; the currency has its own column"
        what = f"the price `{text}` has a comma" if comma else f"the price `{text}` is no number"
        problems.append(_problem(name, line, what, "a number such as 0.90", mend))
        return None
    if thing is None:
        return None
    if isinstance(thing, Fuse):
        match = re.fullmatch(r"(?:(\d+)\s*)?(?:piece|pieces|pcs|pc|each)", unit)
        if match is None:
            problems.append(_unit_problem(name, line, unit, "`piece`, or `10 pieces`"))
            return None
        return float(text) / float(match[1] or 1)
    metres = _metres(unit if NUMBER.match(unit) else f"1 {unit}") if unit else None
    if metres is None:
        problems.append(_unit_problem(name, line, unit, METRE_UNITS))
        return None
    return float(text) / metres


def _unit_problem(name: str, line: int, unit: str, expected: str) -> Problem:
    what = f"`{unit}` is no unit for this price" if unit else "the unit of the price is missing"
    bare = unit.replace(".", "").isdigit()
    mend = "a decimal comma parts a number in two: write 0.90" if bare else "say what the price is for"
    return _problem(name, line, what, expected, mend)


def _metres(text: str) -> float | None:
    try:
        metres = read_number(text, "length")
    except QuantityError:
        return None
    return metres if metres > 0 else None


def _own(name: str, line: int, text: str, thing: Wire | Fuse | None, problems: list[Problem]) -> float:
    """What is at hand: metres of single wire, or pieces."""
    if not text or thing is None:
        return 0.0
    if isinstance(thing, Fuse):
        match = re.fullmatch(r"(\d+)(?:\s*(?:pieces?|pcs?|pc))?", text)
        if match is None:
            problems.append(_problem(name, line, f"the stock `{text}` is no count", "a count such as 6", "count them"))
            return 0.0
        return float(match[1])
    comma = re.search(r"\d,\d", text)
    count, each = _counted(text)
    metres = None if comma else _metres(each)
    if metres is None:
        what = f"the stock `{text}` has a comma" if comma else f"the stock `{text}` is no length"
        mend = f"write {text.replace(',', '.')}" if comma else "write the length of single wire with its unit, as 12 m"
        problems.append(_problem(name, line, what, "a length such as 12 m or 40 ft", mend))
        return 0.0
    return count * metres


def _counted(text: str) -> tuple[int, str]:
    """ "2 x 7.5 m" -> how many, and one of them."""
    match = re.fullmatch(r"([1-9]\d*)\s*[x×]\s*(.+)", text)
    return (int(match[1]), match[2]) if match else (1, text)


def _lengths(line: int, cells: Cells) -> tuple[Length, ...]:
    count, each = _counted(cells["stock"])
    return (Length(line, _metres(each) or 0.0, count, cells.get("colour", "").lower(), each),)


def _problem(name: str, line: int, what: str, expected: str, mend: str) -> Problem:
    return Problem(Place(name, line, 1, 0, 0), what, expected, mend)
