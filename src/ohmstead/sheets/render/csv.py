"""Every table as comma-separated values: RFC 4180, UTF-8 with a byte-order mark.

The mark is there because common spreadsheet programs take a file without it for their local code page and
spoil °, Ω and mm². Figures stand as numbers in SI units when the sheet gives them so.
"""

import csv
from collections.abc import Iterable
from io import StringIO

from ..document import Document, Table

BOM = "\ufeff"


def tables_of(documents: Iterable[Document]) -> dict[str, Table]:
    """Every table by a name of its own: the table's, with the sheet's before it where two share one."""
    found: dict[str, Table] = {}
    for document in documents:
        for block in document.blocks:
            if isinstance(block, Table):
                name = block.name if block.name not in found else f"{document.name}-{block.name}"
                number = 2
                while name in found:
                    name, number = f"{document.name}-{block.name}-{number}", number + 1
                found[name] = block
    return found


def table_csv(table: Table) -> str:
    """One table; numbers if it has them, else as printed."""
    out = StringIO()
    writer = csv.writer(out)
    writer.writerow([_plain(cell) for cell in (table.raw_head or table.head)])
    for row in table.raw or table.rows:
        writer.writerow([_plain(cell) for cell in row])
    return BOM + out.getvalue()


def _plain(cell: object) -> object:
    """A text that a spreadsheet would run as a formula gets an apostrophe before it; None becomes empty."""
    if cell is None:
        return ""
    if isinstance(cell, str) and cell and (cell[0] in "=+@\t\r" or (cell[0] == "-" and cell[1:2].isalpha())):
        return "'" + cell
    return cell
