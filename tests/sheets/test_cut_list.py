"""The cut list against the site file read by itself, and its rules worked out again."""

import re
from collections import Counter, defaultdict
from pathlib import Path

import pytest
import yaml

from ohmstead import study
from ohmstead.parts.wire import read_wire
from ohmstead.sheets import cut_list
from ohmstead.sheets.cutting.colours import colours_of
from ohmstead.sheets.cutting.lengths import both, imperial
from ohmstead.sheets.cutting.order import batches, same_wire
from ohmstead.sheets.cutting.packing import Bar, first_fit_decreasing, holds, length_bound
from ohmstead.sheets.cutting.pieces import slack_m, wire_pieces
from ohmstead.sheets.cutting.plan import plan_cuts
from ohmstead.sheets.cutting.stock import read_stock
from ohmstead.sheets.document import Caution, Terms, Text
from ohmstead.study import open_site
from sheets.shown import SITES, by_hand_m, drawn, metres, plain_runs, raw


def expected_pieces(path: Path) -> dict[str, list[float]]:
    """Size as written -> lengths of all pieces, from the plain YAML of the file; the plan's own are taken from it."""
    found = defaultdict(list)
    for run, known in zip(plain_runs(path), open_site(path).site.runs, strict=True):
        if "wire" not in run:
            continue
        route = known.length_m if run["length"] == "from plan" else metres(run["length"])
        at = metres(run["fuse at"]) if "fuse at" in run else 0.0
        positive = [at, route - at] if 0 < at < route else [route]
        found[run["wire"]] += [by_hand_m(length) for length in (*positive, route)]
    return found


@pytest.mark.parametrize("name", SITES)
def test_lengths_by_wire_are_those_of_an_independent_sum(name: str) -> None:
    _, tables = drawn(cut_list, SITES[name])
    got = defaultdict(list)
    for row in raw(tables["wire-pieces"]):
        got[row["wire"]].append(row["length_m"])
    wanted = expected_pieces(SITES[name])
    assert {wire: sorted(lengths) for wire, lengths in got.items()} == {
        wire: pytest.approx(sorted(lengths)) for wire, lengths in wanted.items()
    }
    totals = raw(tables["wire-totals"])
    assert sum(row["cut_m"] for row in totals) == pytest.approx(sum(map(sum, wanted.values())))
    assert sum(row["pieces"] for row in totals) == sum(map(len, wanted.values()))


@pytest.mark.parametrize("name", SITES)
def test_network_cables_are_those_of_the_file(name: str) -> None:
    wanted = [by_hand_m(metres(run["length"])) for run in plain_runs(SITES[name]) if "cable" in run]
    _, tables = drawn(cut_list, SITES[name])
    got = [row["length_m"] for row in raw(tables["network-cables"])] if "network-cables" in tables else []
    assert got == pytest.approx(wanted)


@pytest.mark.parametrize("name", SITES)
def test_no_piece_is_shorter_than_its_route_in_either_unit(name: str) -> None:
    opened, tables = drawn(cut_list, SITES[name], Terms(units="imperial"))
    for printed, row in zip(tables["wire-pieces"].rows, raw(tables["wire-pieces"]), strict=True):
        assert row["length_m"] > row["route_m"]
        feet, inches = (re.search(rf"^[^(]*?(\d+) {unit}", printed[1]) for unit in ("ft", "in"))
        shown_m = 0.3048 * int(feet[1] if feet else 0) + 0.0254 * int(inches[1] if inches else 0)
        assert row["length_m"] - 1e-6 <= shown_m < row["length_m"] + 0.0255
        assert f"({row['length_m']:.2f} m)" in printed[1]
    routes = defaultdict(float)
    for row in raw(tables["wire-pieces"]):
        routes[row["tag"].split("+")[0].split("-")[0], row["sign"]] += row["route_m"]
    lengths = {run.number: run.length_m for run in opened.site.runs}
    assert all(route == pytest.approx(lengths[int(tag[1:])]) for (tag, _), route in routes.items())


@pytest.mark.parametrize("name", SITES)
def test_tags_are_unique_and_name_both_ends(name: str) -> None:
    _, tables = drawn(cut_list, SITES[name])
    tags = raw(tables["wire-tags"])
    assert max(Counter(row["tag"] for row in tags).values()) == 1
    labels = [label for row in tags for label in (row["start_label"], row["far_label"])]
    assert max(Counter(labels).values()) == 1
    pieces = {
        row["tag"]: row for table in ("wire-pieces", "network-cables") if table in tables for row in raw(tables[table])
    }
    for row in tags:
        piece = pieces[row["tag"]]
        assert row["start_label"] == f"{row['tag']} {piece['from']} -> {piece['to']}"
        assert row["far_label"] == f"{row['tag']} {piece['to']} <- {piece['from']}"


@pytest.mark.parametrize("name", SITES)
def test_every_piece_is_cut_once_from_a_roll_that_holds_it(name: str) -> None:
    _, tables = drawn(cut_list, SITES[name])
    pieces = {row["tag"]: row for row in raw(tables["wire-pieces"])}
    cut = Counter()
    for bar in raw(tables["cutting-plan"]):
        tags = bar["tags"].split()
        cut.update(tags)
        assert sum(pieces[tag]["length_m"] for tag in tags) + bar["left_m"] == pytest.approx(bar["bar_m"])
        assert {pieces[tag]["colour"] for tag in tags} == {bar["colour"]}
        assert bar["left_m"] >= -1e-9
    assert cut == Counter(dict.fromkeys(pieces, 1))
    for row in raw(tables["wire-totals"]):
        assert row["cut_m"] + row["left_m"] == pytest.approx(row["bought_m"])


def test_a_fuse_in_line_cuts_the_positive_wire_only() -> None:
    """The class T fuse sits 0.12 m from the bank on a run of 0.4 m."""
    _, tables = drawn(cut_list, SITES["observatory"])
    rows = {row["tag"]: row for row in raw(tables["wire-pieces"])}
    assert rows["W01+a"]["route_m"] == pytest.approx(0.12)
    assert rows["W01+b"]["route_m"] == pytest.approx(0.28)
    assert rows["W01-"]["route_m"] == pytest.approx(0.4)
    assert rows["W01+a"]["to"] == rows["W01+b"]["from"] == "125 A class T fuse holder"
    assert "W07+" in rows and "W07+a" not in rows  # its fuse sits on the way of a block


def test_ends_are_stated_taken_from_the_part_or_marked() -> None:
    _, tables = drawn(cut_list, SITES["observatory"])
    rows = {row["tag"]: row for row in raw(tables["wire-pieces"])}
    assert rows["W14+"]["from_end"] == "ferrule"
    assert (rows["W14+"]["from_strip_mm"], rows["W14+"]["from_sleeve"]) == (10.0, "1.5 mm² black 8 mm")
    assert rows["W14+"]["to_end"] == "barrel plug 5.5x2.1, centre positive"
    assert rows["W05+"]["from_end"] == "ring terminal M8 (by the stud)"  # the bar has M8 studs
    assert rows["W27+"]["to_end"] == "? not stated"


SMALL = """ohmstead: 1
site: {{name: hut, rules: {rules}}}
battery:
  bank: {{chemistry: LFP, cells: 4, capacity: 50 Ah}}
parts:
  lamp: {{kind: device, input: 10..15 V, draws: 5 W}}
runs:
  - {{from: bank, to: lamp, length: 4 m, wire: {wire}, fuse: {fuse}, fuse at: 0 m}}
"""


def small(rules: str = "IEC", wire: str = "2.5 mm2", fuse: str = "5 A blade") -> study.Study:
    return study.from_text(SMALL.format(rules=rules, wire=wire, fuse=fuse))


@pytest.mark.parametrize(("rules", "colours"), [("IEC", ("red", "white")), ("US", ("red", "black"))])
def test_colours_follow_the_table_set_and_say_so(rules: str, colours: tuple[str, str]) -> None:
    opened = small(rules)
    document = cut_list.draw(opened, Terms())
    assert tuple(piece.colour for piece in wire_pieces(opened.site, colours_of(opened.site))) == colours
    said = " ".join(block.text for block in document.blocks if isinstance(block, Text))
    assert f"positive {colours[0]}, negative {colours[1]}" in said
    assert colours_of(opened.site).title in said


def test_an_open_wire_is_listed_as_not_yet_chosen_and_not_cut() -> None:
    opened = small(wire="choose")
    document = cut_list.draw(opened, Terms())
    cautions = " ".join(line for block in document.blocks if isinstance(block, Caution) for line in block.lines)
    assert "W1+, W1-" in cautions or "W01+, W01-" in cautions
    (red, white) = batches(wire_pieces(opened.site, colours_of(opened.site)), ())
    assert red.plan is white.plan is None and red.taken == ()
    assert red.length_m == by_hand_m(4.0)


def test_own_lengths_go_first_and_are_used_once() -> None:
    stock = read_stock("wire,length,count,colour\n2.5 mm2,4.6 m,1,\n2.5 mm2,30 m,1,white\n", "x")
    opened = small()
    red, white = batches(wire_pieces(opened.site, colours_of(opened.site)), stock.offcuts)
    assert [(bar.name, bar.own) for bar in red.taken] == [("own 4.6 m (stock line 2)", "yes")]
    assert [(bar.name, bar.own) for bar in white.taken] == [("own 30 m (stock line 3)", "yes")]
    assert red.bought_m == white.bought_m == 0


def test_own_wire_of_weaker_insulation_is_left_alone() -> None:
    assert same_wire(read_wire("2.5 mm2 XLPE 90 °C"), read_wire("2.5 mm2"))
    assert not same_wire(read_wire("2.5 mm2"), read_wire("2.5 mm2 XLPE 90 °C"))
    assert not same_wire(read_wire("2.5 mm2 CCA"), read_wire("2.5 mm2"))
    assert not same_wire(read_wire("4 mm2"), read_wire("2.5 mm2"))


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", "the file is empty"),
        ("wire;length\n2.5 mm2;3 m\n", "line 1: the cells are parted by `;`"),
        ("wire,count\n2.5 mm2,1\n", "line 1: no column `length`"),
        ("wire,length,shop\n2.5 mm2,3 m,x\n", "line 1: column `shop` is not known"),
        ("wire,length\n2.5 mm2,3\n", "line 2: length needs a unit"),
        ("wire,length\n2.5 mm2,3 V\n", "line 2:"),
        ("wire,length\n2.5 mm2,3,5 m\n", "line 2: 3 cells under 2 columns"),
        ("wire,length\nrope,3 m\n", "line 2: 'rope' names no wire size"),
        ("wire,length\n\n2.5 mm2,0 m\n", "line 3: a length must be above 0"),
        ("wire,length,count\n2.5 mm2,3 m,1.5\n", "line 2: count '1.5' is no whole number"),
    ],
)
def test_bad_stock_is_told_line_by_line(text: str, message: str) -> None:
    stock = read_stock(text, "x")
    assert stock.offcuts == ()
    assert any(fault.startswith(message) for fault in stock.faults), stock.faults


def test_good_lines_of_a_bad_file_are_kept() -> None:
    stock = read_stock("wire,length,count\nrope,3 m,1\n2.5 mm2,3 m,2\n", "x")
    assert [(offcut.line, offcut.length_m, offcut.count) for offcut in stock.offcuts] == [(3, 3.0, 2)]
    assert len(stock.faults) == 1


def test_a_stock_file_beside_the_site_is_used_and_its_faults_are_told(tmp_path: Path) -> None:
    (tmp_path / "hut.yaml").write_text(SMALL.format(rules="IEC", wire="2.5 mm2", fuse="5 A blade"), encoding="utf-8")
    (tmp_path / "hut.stock.csv").write_text("wire,length\nrope,3 m\n2.5 mm2,9.5 m\n", encoding="utf-8")
    opened = study.open_site(tmp_path / "hut.yaml")
    document = cut_list.draw(opened, Terms())
    lines = [line for block in document.blocks if isinstance(block, Caution) for line in block.lines]
    assert any(line.startswith("line 2: 'rope'") for line in lines)
    (plan,) = [block for block in document.blocks if getattr(block, "name", "") == "cutting-plan"]
    assert [row["own"] for row in raw(plan)] == ["yes", "no"]
    quiet = cut_list.draw(opened, Terms(sharing="anonymous"))
    assert "hut" not in str(quiet)


def test_lengths_in_feet_and_inches_by_hand() -> None:
    """1.88 m is 74.02 in: 75 in, 6 ft 3 in. Exactly one foot stays one foot."""
    assert imperial(1.88) == "6 ft 3 in"
    assert imperial(0.3048) == "1 ft"
    assert imperial(0.02) == "1 in"
    assert both(1.88, "metric") == "1.88 m (6 ft 3 in)"
    assert slack_m(0.0) == 0.0


def test_small_plans_against_every_way_of_cutting() -> None:
    """All ways to share out up to six pieces over bars, tried one by one."""
    pytest.importorskip("scipy")
    bars = [Bar("short", 10, None, 105), Bar("long", 25, None, 255), Bar("own", 12, 1, 1)]
    for pieces in ([6, 6, 5], [9, 8, 7, 6], [12, 3, 3, 8], [24, 2, 2, 9, 5], [5, 5, 5, 5, 5, 11]):
        plan = plan_cuts(pieces, bars)
        assert holds(plan.cuts, pieces, bars) == ""
        assert plan.proven == "yes"
        assert plan.cost == cheapest(pieces, bars)
        assert length_bound(pieces, bars) <= plan.cost <= sum(c.bar.cost for c in first_fit_decreasing(pieces, bars))


def cheapest(pieces: list[int], bars: list[Bar]) -> int:
    """Least cost over every way to part the pieces into groups."""
    best = [10**9]

    def bill(groups: list[int]) -> int:
        costs = []
        for own_group in (None, *range(len(groups))):
            total = 0
            for index, length in enumerate(groups):
                fits = [b.cost for b in bars if b.steps >= length and (b.count is None) == (index != own_group)]
                total += min(fits, default=10**9)
            costs.append(total)
        return min(costs)

    def place(index: int, groups: list[int]) -> None:
        if index == len(pieces):
            best[0] = min(best[0], bill(groups))
            return
        for at in range(len(groups)):
            place(index + 1, [g + pieces[index] * (i == at) for i, g in enumerate(groups)])
        place(index + 1, [*groups, pieces[index]])

    place(0, [])
    return best[0]


def test_a_piece_longer_than_any_roll_is_told() -> None:
    bars = [Bar("roll", 10, None, 100), Bar("own", 15, 1, 1)]
    plan = plan_cuts([14, 13, 4], bars)
    assert plan.too_long == (13,)
    assert sorted(piece for cut in plan.cuts for piece in cut.pieces) == [4, 14]


def test_a_failing_site_still_gets_its_cut_list() -> None:
    opened, tables = drawn(cut_list, SITES["six mistakes"])
    assert opened.verdict == "fails"
    runs = yaml.load(SITES["six mistakes"].read_text(encoding="utf-8"), Loader=yaml.BaseLoader)["runs"]
    numbers = {int(row["tag"][1:3]) for row in raw(tables["wire-pieces"])}
    assert len(numbers) == sum("wire" in run for run in runs)


def test_choosing_a_fuse_later_changes_no_tag() -> None:
    """A fuse left open cuts its wire where it will sit, so that tags printed now still hold."""

    def tags(fuse: str) -> list[str]:
        text = SMALL.format(rules="IEC", wire="2.5 mm2", fuse=fuse).replace("fuse at: 0 m", "fuse at: 0.1 m")
        opened = study.from_text(text)
        return [piece.tag for piece in wire_pieces(opened.site, colours_of(opened.site))]

    assert tags("choose") == tags("5 A blade") == ["W01+a", "W01+b", "W01-"]


def test_no_tag_holds_a_number_twice_in_a_large_site() -> None:
    """With more than 99 runs the tags get a third digit and keep their order."""
    runs = "\n".join(f"  - {{from: bank, to: lamp {i}, length: 1 m, wire: 1 mm2}}" for i in range(120))
    parts = "\n".join(f"  lamp {i}: {{kind: device, input: 10..15 V, draws: 5 W}}" for i in range(120))
    opened = study.from_text(
        f"ohmstead: 1\nsite: {{name: hut}}\nbattery:\n  bank: {{chemistry: LFP, cells: 4, "
        f"capacity: 50 Ah}}\nparts:\n{parts}\nruns:\n{runs}\n"
    )
    tags = [piece.tag for piece in wire_pieces(opened.site, colours_of(opened.site))]
    assert tags[0] == "W001+"
    assert len(set(tags)) == 240 and sorted(tags) == sorted(tags, key=lambda tag: (tag[:4], tag[4:]))
