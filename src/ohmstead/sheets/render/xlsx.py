"""All tables in one workbook: one sheet a table, figures as numbers in SI units, the title block first."""

from collections.abc import Iterator
from datetime import datetime
from io import BytesIO
from typing import TYPE_CHECKING, Any

from ..document import Document, Table
from .csv import tables_of
from .frame import CAUTION, LABELS, NOT_FIT, NOT_GIVEN, Frame

if TYPE_CHECKING:
    from xlsxwriter import Workbook  # type: ignore[import-untyped, unused-ignore]

TITLE = "Title block"
UNDATED = datetime(1980, 1, 1)  # a zip archive knows no earlier day
FORBIDDEN = str.maketrans({sign: "-" for sign in "[]:*?/\\"})
LONGEST_NAME = 31  # what the format allows
WIDEST = 60.0
NARROWEST = 8.0


def workbook(documents: tuple[Document, ...], frame: Frame) -> bytes:
    """The workbook. Raises ImportError when XlsxWriter is not installed."""
    from xlsxwriter import Workbook

    out = BytesIO()
    made = datetime.fromisoformat(frame.date) if frame.date != NOT_GIVEN else UNDATED
    options = {
        "in_memory": True,
        "strings_to_formulas": False,
        "strings_to_urls": False,
        "strings_to_numbers": False,
        "nan_inf_to_errors": True,
    }
    book = Workbook(out, options)
    book.set_properties({"title": frame.site, "comments": frame.why, "created": made})
    _title(book, frame)
    taken = {TITLE.lower()}
    for name, table in tables_of(documents).items():
        _table(book, _free_name(name, taken), table)
    book.close()
    return out.getvalue()


def _free_name(name: str, taken: set[str]) -> str:
    """A name that the format allows and no other sheet of the workbook has."""
    plain = name.translate(FORBIDDEN).strip("'")[:LONGEST_NAME] or "table"
    number = 2
    free = plain
    while free.lower() in taken:
        free, number = f"{plain[: LONGEST_NAME - 4]} {number}", number + 1
    taken.add(free.lower())
    return free


def _title(book: "Workbook", frame: Frame) -> None:
    sheet = book.add_worksheet(TITLE)
    label, text = book.add_format({"bold": True, "top": 1}), book.add_format({"text_wrap": True, "top": 1})
    for row, (name, value) in enumerate(_said(frame)):
        sheet.write_string(row, 0, name, label)
        sheet.write_string(row, 1, value, text)
    sheet.set_column(0, 0, 20)
    sheet.set_column(1, 1, WIDEST)


def _said(frame: Frame) -> Iterator[tuple[str, str]]:
    for name in ("site", "file", "mark", "revision", "date", "units", "made"):
        yield LABELS[name], str(getattr(frame, name))
    if frame.reasons:
        yield NOT_FIT, frame.why
    yield LABELS["caution"], CAUTION


def _table(book: "Workbook", name: str, table: Table) -> None:
    head, rows = (table.raw_head, table.raw) if table.raw else (table.head, table.rows)
    sheet = book.add_worksheet(name)
    heading = book.add_format({"bold": True, "bottom": 2, "text_wrap": True, "valign": "bottom"})
    text = book.add_format({"text_wrap": True, "valign": "top"})
    number = book.add_format({"valign": "top"})
    for column, words in enumerate(head):
        sheet.write_string(0, column, words, heading)
        longest = max([len(words)] + [len(str(row[column])) for row in rows])
        sheet.set_column(column, column, min(max(longest + 2.0, NARROWEST), WIDEST))
    for line, row in enumerate(rows, 1):
        for column, value in enumerate(row):
            _cell(sheet, (line, column), value, (number, text))
    sheet.freeze_panes(1, 0)
    if rows:
        sheet.autofilter(0, 0, len(rows), len(head) - 1)
    sheet.repeat_rows(0)
    sheet.set_landscape()
    sheet.fit_to_pages(1, 0)


def _cell(sheet: Any, place: tuple[int, int], value: object, formats: tuple[Any, Any]) -> None:
    """Numbers as numbers, everything else as text that is never taken for a formula; nothing stays empty."""
    number, text = formats
    if isinstance(value, int | float) and not isinstance(value, bool) and value - value == 0:
        sheet.write_number(*place, value, number)
    elif value is not None and not isinstance(value, float):
        sheet.write_string(*place, str(value), text)
