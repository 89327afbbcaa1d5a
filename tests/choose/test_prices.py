"""Price lists: what is read, what is refused line by line, and how prices and own parts steer the choice."""

import pytest
from openpyxl import Workbook

from ohmstead.choose.decide import decide
from ohmstead.choose.prices import read_price_text, read_prices
from ohmstead.site.problems import SiteError
from ohmstead.site.read import read_text

SITE = """ohmstead: 1
battery:
  bank: {chemistry: LFP, cells: 4, capacity: 100 Ah, resistance: 6 mΩ}
parts:
  low cut: {kind: low-voltage disconnect, off: 12 V, on: 13 V, rating: 60 A}
  lamp: {kind: device, input: 11..15 V, draws: 20 W}
runs:
  - {from: bank, to: low cut, length: 0.5 m, wire: 10 mm2, fuse: 40 A class T, fuse at: 0.1 m}
  - {from: low cut, to: lamp, length: 6 m, wire: choose, fuse: choose, fuse at: 0.1 m}
"""


def chosen(prices=""):
    proposal = decide(read_text(SITE), read_price_text(prices) if prices else None)
    assert proposal.verdict == "fits"
    return {c.attribute: c.text for c in proposal.choices} | {"cost": proposal.cost, "unit": proposal.unit}


def test_a_cheap_thick_wire_beats_a_dear_thin_one():
    thin = chosen()["wire"]
    listed = chosen(f"item,price,unit,currency\n{thin},9.00,m,EUR\n4 mm2,1.00,m,EUR\n10 A blade,0.50,piece,EUR\n")
    assert thin != "4 mm2" == listed["wire"]
    assert listed["fuse"] == "10 A blade" and listed["unit"] == "EUR"
    assert listed["cost"] == pytest.approx(12 * 1.00 + 0.50, abs=0.01)


def test_the_roll_at_hand_is_taken_first():
    thin = chosen()["wire"]
    with_roll = chosen(f"item,price,unit,stock\n{thin},0.20,m,\n2.5 mm2,,,15 m\n10 A blade,,,6\n")
    assert with_roll["wire"] == "2.5 mm2" and with_roll["fuse"] == "10 A blade"


def test_a_roll_too_short_is_not_enough():
    usual = chosen()
    rest = f"{usual['fuse']},0.1,piece,\n"
    short = chosen(f"item,price,unit,stock\n{usual['wire']},0.20,m,\n2.5 mm2,5.00,m,2 m\n{rest}")
    assert short["wire"] == usual["wire"]
    long = chosen(f"item,price,unit,stock\n{usual['wire']},0.20,m,\n2.5 mm2,5.00,m,12 m\n{rest}")
    assert long["wire"] == "2.5 mm2"


def test_units_are_turned_into_metres_and_pieces():
    stock = read_price_text(HEAD + "2.5 mm2,90,100 m,\n4 mm2,3.048,ft,10 ft\n10 A blade,5,10 pieces,3\n")
    assert [item.price for item in stock.items] == pytest.approx([0.9, 10.0, 0.5])
    assert [item.own for item in stock.items] == pytest.approx([0.0, 3.048, 3.0])


def test_xlsx_says_the_same_as_csv(tmp_path):
    rows = [["item", "price", "unit", "stock"], ["2.5 mm2", 0.9, "m", "12 m"], ["10 A blade", 0.4, "piece", 6]]
    book = Workbook()
    for row in rows:
        book.active.append(row)
    path = tmp_path / "prices.xlsx"
    book.save(path)
    assert read_prices(path) == read_price_text("\n".join(",".join(map(str, row)) for row in rows))


HEAD = "item,price,unit,stock\n"


@pytest.mark.parametrize("text, line, said", [
    ("", 0, "empty"),
    ("item;price;unit\n", 1, "not parted by commas"),
    ("item\tprice\tunit\n", 1, "not parted by commas"),
    ("thing,price,unit\n", 1, "no column `item`"),
    ("item,unit\n", 1, "neither"),
    ("item,price\n2.5 mm2,1\n", 1, "no column `unit`"),
    ("item,price,unit,shop\n", 1, "`shop`"),
    (HEAD + "2.5 mm2,0,90,m,12 m\n", 2, "5 cells"),
    (HEAD + '2.5 mm2,"0,90",m,\n', 2, "comma"),
    (HEAD + "2.5 mm2,0,90,m\n", 2, "`90`"),
    (HEAD + "2.5 mm2,cheap,m,\n", 2, "no number"),
    (HEAD + "2.5 mm2,-1,m,\n", 2, "no number"),
    (HEAD + "2.5 mm2,1,yard,\n", 2, "`yard`"),
    (HEAD + "2.5 mm2,1,piece,\n", 2, "`piece`"),
    (HEAD + "10 A blade,1,m,\n", 2, "`m`"),
    (HEAD + "2.5 mm2,1,,\n", 2, "unit of the price is missing"),
    (HEAD + "2.5,1,m,\n", 2, "unit"),
    (HEAD + "10 A blad,1,piece,\n", 2, "blad"),
    (HEAD + "11 A blade,1,piece,\n", 2, "11 A"),
    (HEAD + '2.5 mm2,1,m,"12,5 m"\n', 2, "comma"),
    (HEAD + "2.5 mm2,1,m,12\n", 2, "no length"),
    (HEAD + "10 A blade,1,piece,many\n", 2, "no count"),
    (HEAD + "2.5 mm2,,,\n", 2, "neither a price nor a stock"),
    (HEAD + "2.5 mm2,1,m,\n\n2.5 mm2,2,m,\n", 4, "line 2 too"),
    ("item,price,unit,currency\n2.5 mm2,1,m,EUR\n4 mm2,1,m,GBP\n", 0, "one currency"),
])  # fmt: skip
def test_a_broken_list_is_refused_by_line(text, line, said):
    with pytest.raises(SiteError) as refused:
        read_price_text(text, "list.csv")
    problem = refused.value.problems[0]
    assert problem.place.line == line
    assert said in problem.what or said in problem.expected
    assert problem.mend


def test_all_broken_lines_are_told_at_once():
    with pytest.raises(SiteError) as refused:
        read_price_text(HEAD + "2.5 mm2,x,m,\n4 mm2,1,yard,\n6 mm2,1,m,\n10 A,1,piece,\n")
    assert [problem.place.line for problem in refused.value.problems] == [2, 3, 5]


def test_no_workbook_is_told(tmp_path):
    path = tmp_path / "prices.xlsx"
    path.write_text("not a workbook")
    with pytest.raises(SiteError):
        read_prices(path)
    with pytest.raises(SiteError):
        read_prices(tmp_path / "none.xlsx")
