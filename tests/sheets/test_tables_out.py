"""Tables as CSV and as a workbook, read back by the standard reader and by openpyxl."""

import csv
from datetime import datetime
from io import BytesIO, StringIO

import openpyxl
import pytest

from ohmstead.sheets.catalogue import draw, draw_all
from ohmstead.sheets.document import Document, Table
from ohmstead.sheets.render.csv import BOM, table_csv, tables_of
from ohmstead.sheets.render.frame import frame_of
from ohmstead.sheets.render.xlsx import TITLE, workbook
from sheets.made import SIGNS, TERMS, everything, frame, hostile, mistaken


def parsed(table):
    text = table_csv(table)
    assert text.startswith(BOM)
    return list(csv.reader(StringIO(text[1:], newline=""), strict=True))


def test_a_table_comes_back():
    table = tables_of((everything(),))["many"]
    head, *rows = parsed(table)
    assert head == ["name", "signs", "figure_v"]
    assert [(name, signs) for name, signs, _ in rows] == [(f"row {i}", SIGNS) for i in range(90)]
    assert [float(figure) for _, _, figure in rows] == [i / 7 for i in range(90)]


def test_lines_end_as_rfc_4180_says():
    text = table_csv(Table("t", ("a", "b"), (('say "so"', "1,2\n3"),)))
    assert text == BOM + 'a,b\r\n"say ""so""","1,2\n3"\r\n'


def test_figures_of_the_report_are_the_engines():
    study = mistaken()
    tables = tables_of((draw("report", study, TERMS),))
    head, *rows = parsed(tables["circuits"])
    column = head.index("sustained_a")
    assert [float(row[column]) for row in rows] == [view.sustained.value for view in study.evidence.runs]
    head, *rows = parsed(tables["findings"])
    assert [row[head.index("rule")] for row in rows] == [finding.rule for finding in study.findings]
    assert [row[head.index("message")] for row in rows] == [finding.message for finding in study.findings]


@pytest.mark.parametrize("cell", ["=1+1", "+1", "@SUM(A1)", "-cmd", "\tx"])
def test_a_formula_in_a_name_is_disarmed(cell):
    assert parsed(Table("t", ("a",), ((cell,),)))[1] == ["'" + cell]


@pytest.mark.parametrize("cell", ["-8 °C", "-", "5 A", "", "-350 mV"])
def test_other_cells_stay_as_they_are(cell):
    assert parsed(Table("t", ("a", "b"), ((cell, "x"),)))[1] == [cell, "x"]


def test_names_of_tables_never_clash():
    table = Table("same", ("a",), (("1",),))
    documents = tuple(Document(name, name, (table, table)) for name in ("one", "two"))
    assert list(tables_of(documents)) == ["same", "one-same", "two-same", "two-same-2"]


def test_the_workbook_holds_every_table_with_numbers_as_numbers():
    study = mistaken()
    documents = draw_all(study, TERMS)
    book = openpyxl.load_workbook(BytesIO(workbook(documents, frame_of(study, TERMS))))
    assert len(book.sheetnames) == 1 + len(tables_of(documents))
    assert book.sheetnames[0] == TITLE
    sheet = book["circuits"]
    head = [cell.value for cell in sheet[1]]
    values = [row[head.index("sustained_a")] for row in sheet.iter_rows(min_row=2, values_only=True)]
    assert values == pytest.approx([view.sustained.value for view in study.evidence.runs], rel=1e-12)
    assert sheet.freeze_panes == "A2"
    assert sheet["A1"].font.bold
    assert book.properties.created == datetime(2026, 11, 25)
    title = {row[0]: row[1] for row in book[TITLE].iter_rows(values_only=True)}
    assert title["Site"] == study.site.about.name
    assert "fuse-over-cable" in title["Not fit to build"]


def test_no_name_becomes_a_formula():
    study = hostile()
    book = openpyxl.load_workbook(BytesIO(workbook(draw_all(study, TERMS), frame_of(study, TERMS))))
    kinds = {cell.data_type for sheet in book for row in sheet.iter_rows() for cell in row}
    assert "f" not in kinds
    assert any(cell.value == "=HYPERLINK(1)" for row in book["loads"].iter_rows() for cell in row)


def test_names_of_worksheets_are_allowed():
    tables = tuple(Table(name, ("a",), (("1",),)) for name in ("a" * 40, "a" * 40 + "b", "x/y[z]", "title block"))
    book = openpyxl.load_workbook(BytesIO(workbook((Document("d", "D", tables),), frame())))
    assert len({name.lower() for name in book.sheetnames}) == 5
    assert all(len(name) <= 31 for name in book.sheetnames)
