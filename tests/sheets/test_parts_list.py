"""The parts list against counts made from the site file by itself."""

from collections import Counter
from math import ceil

import pytest

from ohmstead import study
from ohmstead.choose.prices import read_price_text
from ohmstead.parts.fuse import read_fuse
from ohmstead.sheets import cut_list, parts_list
from ohmstead.sheets.buying.fuses import spares
from ohmstead.sheets.cutting.stock import read_stock, stock_beside
from ohmstead.sheets.document import Terms
from sheets.shown import SITES, by_hand_m, drawn, metres, plain_runs, raw


def everything(name: str) -> list[dict[str, object]]:
    _, found = drawn(parts_list, SITES[name])
    return [row for table in found.values() for row in raw(table)]


@pytest.mark.parametrize("name", SITES)
def test_fuses_in_use_are_those_of_the_file_and_spares_keep_the_rule(name: str) -> None:
    used = Counter(
        read_fuse(run["fuse"]).family.title + f" {float(run['fuse'].split()[0]):g}"
        for run in plain_runs(SITES[name])
        if "fuse" in run
    )
    rows = [row for row in everything(name) if row["group"] == "fuses"]
    got = {}
    for row in rows:
        rating, title = str(row["what"]).split(" A ", 1)
        got[f"{title} {rating}"] = row["in_use"]
        small = float(rating) <= 40
        breaker = "breaker" in title
        wanted = 0 if breaker else max(2, ceil(row["in_use"] / 5)) if small else 1
        assert row["spare"] == wanted
        assert row["buy"] == row["in_use"] + row["spare"]
    assert got == used


def test_the_spare_rule_by_hand() -> None:
    assert spares(read_fuse("10 A blade"), 1) == 2
    assert spares(read_fuse("10 A blade"), 10) == 2
    assert spares(read_fuse("10 A blade"), 11) == 3
    assert spares(read_fuse("125 A class T"), 3) == 1
    assert spares(read_fuse("20 A breaker"), 3) == 0


@pytest.mark.parametrize("name", SITES)
def test_wire_and_cable_lengths_are_independent_sums(name: str) -> None:
    rows = everything(name)
    _, cut = drawn(cut_list, SITES[name])
    wire_m = sum(row["length_m"] for row in rows if row["group"] == "wire")
    assert wire_m == pytest.approx(sum(row["length_m"] for row in raw(cut["wire-pieces"])))
    wanted = Counter()
    for run in plain_runs(SITES[name]):
        if "cable" in run:
            wanted[run["cable"]] += by_hand_m(metres(run["length"]))
    got = {row["what"]: row["length_m"] for row in rows if row["group"] == "network cable"}
    assert got == pytest.approx(dict(wanted))


def test_plugs_and_terminals_of_the_observatory_by_hand() -> None:
    """Counted with a pencil: three leads end in 5.5x2.1 plugs, one in 5.5x2.5; four in end sleeves, two wires each."""
    rows = {row["what"]: row for row in everything("observatory")}
    assert rows["barrel plug 5.5x2.1, centre positive"]["in_use"] == 3
    assert rows["barrel plug 5.5x2.5, centre positive"]["in_use"] == 1
    assert rows["end sleeve 1.5 mm² (black), 8 mm"]["in_use"] == 6
    assert rows["end sleeve 4 mm² (grey), 10 mm"]["in_use"] == 2
    assert rows["RJ45"]["in_use"] == 8  # three cables from the switch with two each, two links with one
    # bank: 2 + 2 rings stated on both sides of switch and fuse; the switch's other side 2; the bar 2
    assert rows["ring terminal M8 for 35 mm² (2 AWG)"]["in_use"] == 8
    assert rows["wire tag, printed, for both ends of every piece"]["in_use"] == 134


def test_holders_are_for_fuses_off_the_blocks() -> None:
    rows = {row["what"]: row for row in everything("observatory") if row["group"] == "fuse holders"}
    assert {what: row["in_use"] for what, row in rows.items()} == {
        "holder for one blade fuse": 8,
        "holder for one class T fuse": 1,
        "holder for one stud fuse (cube on the terminal)": 3,
    }
    assert rows["holder for one class T fuse"]["ask_for"] == "at least 125 A and 160 V, covered"


def test_equipment_is_described_without_names_and_counted_together() -> None:
    rows = [row for row in everything("salt pan") if row["group"] == "equipment"]
    batteries = [row for row in rows if str(row["what"]).startswith("battery")]
    assert [(row["what"], row["in_use"], row["used_for"]) for row in batteries] == [
        ("battery LFP, 16 cells in series, 100 Ah", 2, "north bank, south bank")
    ]
    assert any(row["what"] == "converter, buck, isolated, 36..75 V to 13.6 V ± 1 %, 300 W" for row in rows)


def test_open_choices_are_listed_as_such() -> None:
    text = SITES["cabin"].read_text(encoding="utf-8")
    text = (
        text.replace("fuse: 3 A blade", "fuse: choose")
        .replace("wire: 6 mm2", "wire: choose")
        .replace("rating: 90 W", "rating: choose")
    )
    found = [item.what for item in parts_list.items(study.from_text(text).site)]
    assert "fuse not yet chosen" in found
    assert {"not yet chosen, red", "not yet chosen, white"} <= set(found)
    assert any(what.startswith("converter") and what.endswith("rating not yet chosen") for what in found)


@pytest.mark.parametrize("name", SITES)
def test_the_same_site_gives_the_same_list(name: str) -> None:
    one, other = (parts_list.draw(study.open_site(SITES[name]), Terms()) for _ in range(2))
    assert one == other
    assert cut_list.draw(study.open_site(SITES[name]), Terms()) == cut_list.draw(study.open_site(SITES[name]), Terms())


def test_the_alternating_voltage_on_a_glass_fuse_is_not_taken_for_direct() -> None:
    text = SITES["cabin"].read_text(encoding="utf-8").replace("fuse: 3 A blade", "fuse: 3 A fast glass UL")
    (row,) = [item for item in parts_list.items(study.from_text(text).site) if "glass" in item.what and item.spare]
    assert "250 V is printed: that is for alternating current" in row.ask


PRICES = """item,price,unit,stock,colour,currency
1.5 mm2,0.50,m,20 m,red,EUR
1.5 mm2,,,2 x 3 m,,
4 mm2,100,50 m,,,EUR
5 A blade,5,10 pieces,2,,EUR
10 A blade,0.40,piece,,,EUR
"""


def costed(prices: str) -> tuple[list[dict[str, object]], list[dict[str, object]]]:
    terms = Terms(prices=read_price_text(prices))
    _, found = drawn(parts_list, SITES["observatory"], terms)
    every = [row for name, table in found.items() if name != "parts-cost" for row in raw(table)]
    return raw(found["parts-cost"]), every


def test_costs_are_need_less_stock_times_price() -> None:
    """Counted again from the list itself: pieces to buy, metres cut, less what is at hand."""
    rows, every = costed(PRICES)
    by_what = {row["what"]: row for row in rows}
    fuses = {row["what"]: row["buy"] for row in every if row["group"] == "fuses"}
    five, ten = by_what["5 A blade fuse"], by_what["10 A blade fuse"]
    assert five["own"] == 2 and five["to_buy"] == fuses["5 A blade fuse"] - 2
    assert five["cost"] == pytest.approx((fuses["5 A blade fuse"] - 2) * 0.5)
    assert ten["cost"] == pytest.approx(fuses["10 A blade fuse"] * 0.4)
    lengths = {row["what"]: row["length_m"] for row in every if row["group"] == "wire"}
    thick = [row for row in rows if str(row["what"]).startswith("4 mm²")]
    assert thick and all(row["cost"] == pytest.approx(lengths[row["what"]] * 2.0) and row["own"] == 0 for row in thick)
    thin = [row for row in rows if str(row["what"]).startswith("1.5 mm²")]
    own_m = sum(row["own"] for row in thin)
    assert 0 < own_m <= 26  # 20 m and twice 3 m, and never more than that
    assert sum(row["to_buy"] for row in thin) == pytest.approx(sum(lengths[row["what"]] for row in thin) - own_m)
    known = [row["cost"] for row in rows[:-1] if row["cost"] is not None]
    assert rows[-1]["cost"] == pytest.approx(sum(known)) and rows[-1]["unit"] == "EUR"


def test_what_has_no_price_is_said_and_not_counted() -> None:
    terms = Terms(prices=read_price_text(PRICES))
    table = next(
        b
        for b in parts_list.draw(study.open_site(SITES["observatory"]), terms).blocks
        if getattr(b, "name", "") == "parts-cost"
    )
    unpriced = [row for row in table.rows if row[-1] == "no price"]
    assert unpriced and f"total of the {len(table.rows) - 1 - len(unpriced)} lines" in table.rows[-1][0]


def test_without_a_price_list_nothing_is_said_of_cost() -> None:
    _, found = drawn(parts_list, SITES["observatory"])
    assert "parts-cost" not in found


def test_the_price_list_is_a_stock_file_too(tmp_path) -> None:
    """One format: beside the site file as its stock, or named with its prices, the same pieces come from own rolls."""
    site = tmp_path / "hut.yaml"
    site.write_text(SITES["observatory"].read_text(encoding="utf-8"), encoding="utf-8")
    _, named = drawn(cut_list, site, Terms(prices=read_price_text(PRICES)))
    site.with_suffix(".stock.csv").write_text(PRICES, encoding="utf-8")
    _, beside = drawn(cut_list, site)
    assert raw(named["cutting-plan"]) == raw(beside["cutting-plan"])
    assert "yes" in {row["own"] for row in raw(beside["cutting-plan"])}
    listed = [offcut.count for offcut in stock_beside(str(site)).offcuts]
    assert listed == [1, 2]


def test_a_broken_price_list_as_stock_is_told_by_line() -> None:
    assert read_stock("item,stock\n2.5 mm2,3\n", "x").faults[0].startswith("line 2: the stock `3` is no length")
