"""Labels against the cut list, the fuse schedule and the site file; their geometry; their codes read by a decoder."""

import re
import shutil
import subprocess
import sys
from collections import Counter
from functools import cache
from itertools import product
from urllib.parse import unquote
from xml.etree import ElementTree

import pytest
import yaml

from ohmstead import study
from ohmstead.sheets import cut_list, fuse_schedule, labels
from ohmstead.sheets.catalogue import draw
from ohmstead.sheets.document import Cells, Document, Terms, Text
from ohmstead.sheets.labelling import code
from ohmstead.sheets.labelling.fit import fitted
from ohmstead.sheets.labelling.formats import Format, sheets, tapes, wrap_mm
from ohmstead.sheets.labelling.label import Label, Words
from ohmstead.sheets.labelling.paint import SIZES, page
from ohmstead.sheets.oneline import scene
from ohmstead.sheets.render.frame import NOT_FIT, frame_of
from ohmstead.sheets.render.html import html
from ohmstead.sheets.render.pack import pack
from ohmstead.sheets.render.stock import pages, rows_on_page
from ohmstead.sheets.render.style import PAGE_MM
from sheets.grown_site import site_text
from sheets.made import HOSTILE, hostile, mistaken
from sheets.shown import SITES, drawn, plain_runs, raw, tables

PAPERS = tuple(PAGE_MM)
ROUND = 1e-6


@cache
def site(name: str) -> study.Study:
    return study.open_site(SITES[name])


def made(opened: study.Study, sharing: str = "named") -> tuple[Label, ...]:
    return labels.labels(opened, Terms(sharing=sharing))


def of_kind(opened: study.Study, kind: str) -> list[Label]:
    return [label for label in made(opened) if label.kind == kind]


def placed(opened: study.Study, paper: str) -> list[tuple[Format, Label]]:
    """Every label on its sheet and on its tape."""
    found = made(opened)
    return [
        (form, label)
        for where in (labels.on_sheets(found, paper), labels.on_tapes(found, paper))
        for form, here in where.items()
        for label in here
    ]


def marks(drawing: scene.Page) -> list[scene.Mark]:
    return [mark for group in drawing.groups for _, mark in group.within()]


def texts(drawing: scene.Page) -> list[scene.Text]:
    return [mark for mark in marks(drawing) if isinstance(mark, scene.Text)]


@pytest.mark.parametrize("name", SITES)
def test_every_end_of_every_piece_has_one_flag_with_the_words_of_the_cut_list(name: str) -> None:
    _, listed = drawn(cut_list, SITES[name])
    wanted = Counter(label for row in raw(listed["wire-tags"]) for label in (row["start_label"], row["far_label"]))
    got = Counter(" ".join(item.text for item in label.words[:3]) for label in of_kind(site(name), "wire"))
    assert got == wanted
    assert max(got.values()) == 1


@pytest.mark.parametrize("name", SITES)
def test_every_way_and_every_fuse_in_line_has_one_label(name: str) -> None:
    plain = yaml.load(SITES[name].read_text(encoding="utf-8"), Loader=yaml.BaseLoader)
    ways = [
        f"{part} / {way}"
        for part, said in plain["parts"].items()
        if said["kind"] == "distribution"
        for way in range(1, int(said["ways"]) + 1)
    ]
    assert [label.tag for label in of_kind(site(name), "way")] == ways
    in_line = [
        number
        for number, run in enumerate(plain_runs(SITES[name]), 1)
        if "fuse" in run and not {run["from"], run["to"]} & set(ways)
    ]
    assert [int(label.tag[1:]) for label in of_kind(site(name), "fuse")] == in_line


@pytest.mark.parametrize("name", SITES)
def test_fuse_labels_say_rating_kind_and_voltage_of_the_schedule(name: str) -> None:
    opened, listed = drawn(fuse_schedule, SITES[name])
    rows = [row for table in listed.values() for row in raw(table) if row["fuse"]]
    found = (*of_kind(opened, "way"), *of_kind(opened, "fuse"))
    said = [" ".join(item.text for item in label.words) for label in found]
    said = [text for text in said if not text.startswith("spare ")]
    assert len(said) == len(rows)
    for text, row in zip(said, rows, strict=True):
        assert row["fuse"] in text
        rated = row["fuse_rated_v"]
        assert rated is None or f", {rated:g} V" in text or f", {rated / 1000:g} kV" in text


@pytest.mark.parametrize("name", SITES)
def test_names_of_labels_are_unique(name: str) -> None:
    assert max(Counter(label.name for label in made(site(name))).values()) == 1


def test_a_fuse_that_would_draw_an_arc_says_so() -> None:
    """The heater of the salt pan stands above 20 V and 1 A; the lamps of the cabin do not."""
    said = {label.tag: [item.text for item in label.words] for label in of_kind(site("salt pan"), "way")}
    assert "Not under load" in said["field block / 4"]
    low = {label.tag: [item.text for item in label.words] for label in of_kind(site("observatory"), "fuse")}
    assert "Not under load" not in low["W19"]  # a 12.5 V converter
    assert "Not under load" in low["W05"]


def test_converters_say_what_to_set() -> None:
    by_hand = {"net supply": ("set 54 V", "53.5 V to 54.5 V"), "rack supply": ("set 19 V", "18.7 V to 19.3 V")}
    for label in of_kind(site("observatory"), "converter"):
        said = [item.text for item in label.words]
        assert said[-1] == "Measure before you plug in"
        if label.tag in by_hand:
            assert tuple(said[1:3]) == by_hand[label.tag]


def test_plugs_carry_voltage_and_polarity() -> None:
    found = {label.words[0].text: label for label in of_kind(site("observatory"), "plug")}
    assert set(found) == {"net switch", "recorder", "router", "display"}
    assert found["recorder"].sign == "centre positive" and found["recorder"].words[1].text == "19 V"
    turned = study.from_text(
        SITES["observatory"]
        .read_text(encoding="utf-8")
        .replace("barrel 5.5x2.5 centre positive", "barrel 5.5x2.5 centre negative")
    )
    (recorder,) = [label for label in of_kind(turned, "plug") if label.words[0].text == "recorder"]
    assert recorder.sign == "centre negative"
    form = sheets("A4")["small"]
    centre = next(mark for mark in marks(page(recorder, form)) if isinstance(mark, scene.Disc) and mark.fill == "ink")
    rings = [mark for mark in marks(page(recorder, form)) if isinstance(mark, scene.Disc) and not mark.fill]
    uprights = [
        mark
        for mark in marks(page(recorder, form))
        if isinstance(mark, scene.Line) and len(mark.points) == 2 and mark.points[0][0] == mark.points[1][0]
    ]
    (upright,) = uprights  # the one stroke that makes a plus
    assert upright.points[0][0] == max(ring.x for ring in rings) > centre.x  # the plus is at the sleeve, right


def test_an_unstated_polarity_is_a_question() -> None:
    text = SITES["observatory"].read_text(encoding="utf-8").replace("barrel 5.5x2.5 centre positive", "barrel 5.5x2.5")
    (recorder,) = [label for label in of_kind(study.from_text(text), "plug") if label.words[0].text == "recorder"]
    assert recorder.sign == "centre unknown"
    assert [t.text for t in texts(page(recorder, sheets("A4")["small"]))].count("?") == 2


@pytest.mark.parametrize("name", SITES)
def test_warnings_name_the_engine_s_figures(name: str) -> None:
    evidence = site(name).evidence
    said = {label.tag: " ".join(item.text for item in label.words) for label in of_kind(site(name), "warning")}
    for view in evidence.blocks:
        stated = re.search(r"Up to ([\d.]+) V", said[f"{view.name}: voltage"])
        assert stated and view.high_v <= float(stated[1]) + 0.05
        assert "same kind, same ampere" in said[f"{view.name}: fuses"]
    for battery in evidence.batteries:
        assert f"{battery.together_a / 1000:.2g} kA" in said[f"{battery.name}: battery"]
    if evidence.chargers:
        assert all(view.name in said["two supplies"] for view in evidence.chargers)
    if name == "observatory":  # a 54 V converter, good to 1 %, stands beside the cabinet's block, none in the hide
        assert "Up to 54.5 V" in said["cabinet block: voltage"] and "Up to 28.4 V" in said["hide block: voltage"]
        assert "WILL stand" in said["cabinet block: arc"] and "may stand" in said["hide block: arc"]
    if name == "salt pan":  # 56.8 V
        assert "WILL stand" in said["field block: arc"]


def test_labels_follow_the_stated_wrap() -> None:
    """2.5 mm² is at most 4.1 mm thick: 12.9 mm around. Nothing is printed there on either paper."""
    runs = {label.tag: label for label in of_kind(site("observatory"), "wire")}
    assert runs["W07+"].wrap_mm == pytest.approx(3.14159 * 4.1, rel=1e-4)
    assert wrap_mm(site("observatory").site.runs[0]) > 30  # 35 mm²
    for paper in PAPERS:
        for form, label in placed(site("observatory"), paper):
            if label.kind == "wire":
                bare = (form.width_mm - label.wrap_mm) / 2, (form.width_mm + label.wrap_mm) / 2
                for text in texts(page(label, form)):
                    assert text.box[2] <= bare[0] + ROUND or text.box[0] >= bare[1] - ROUND, label


@pytest.mark.parametrize("name", SITES)
def test_both_halves_of_a_flag_say_the_same(name: str) -> None:
    for form, label in placed(site(name), "A4"):
        if label.kind == "wire":
            found = texts(page(label, form))
            left = [t.text for t in found if t.x < form.width_mm / 2]
            assert left == [t.text for t in found if t.x >= form.width_mm / 2]
            assert left[0] == label.tag  # never cut


def overlaps(one: scene.Box, other: scene.Box) -> bool:
    return (
        min(one[2], other[2]) - max(one[0], other[0]) > ROUND and min(one[3], other[3]) - max(one[1], other[1]) > ROUND
    )


def crowded(opened: study.Study, paper: str) -> list[str]:
    """Labels of which something leaves its cell or the reach of the printer, or lies on something else."""
    faults = []
    for form, label in placed(opened, paper):
        drawing = page(label, form)
        found = texts(drawing)
        for text in found:
            left, top, right, bottom = text.box
            if (
                left < form.edge_mm[0] - 0.5 - ROUND
                or right > form.width_mm - form.edge_mm[0] + 0.5 + ROUND
                or top < form.edge_mm[1] - ROUND
                or bottom > form.height_mm - form.edge_mm[1] + 0.02
            ):
                faults.append(f"{form.name}: {label.name}: {text.text!r} at {text.box}")
        for mark in marks(drawing):
            left, top, right, bottom = scene.box_of(mark)
            if left < -ROUND or top < -ROUND or right > form.width_mm + ROUND or bottom > form.height_mm + ROUND:
                faults.append(f"{form.name}: {label.name}: {type(mark).__name__} leaves the label")
        solid = [
            *found,
            *(
                mark
                for mark in marks(drawing)
                if not isinstance(mark, scene.Text) and not (isinstance(mark, scene.Disc) and not mark.fill)
            ),
        ]
        boxes = [(mark, scene.box_of(mark)) for mark in solid]
        for text, (mark, box) in product(found, boxes):
            if text is not mark and overlaps(text.box, box):
                faults.append(f"{form.name}: {label.name}: {text.text!r} lies on {mark}")
    return faults


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", SITES)
def test_nothing_overflows_its_label(name: str, paper: str) -> None:
    assert crowded(site(name), paper) == []


@pytest.mark.parametrize("paper", PAPERS)
def test_hostile_names_stay_inside_and_are_printed_as_they_are(paper: str) -> None:
    opened = hostile()
    assert crowded(opened, paper) == []
    document = draw("labels", opened, Terms(paper=paper))
    said = html(document, frame_of(opened, Terms(paper=paper)))
    assert "<script" not in said and "<img" not in said
    listed = [row for row in raw(tables(document)["labels"]) if row["kind"] == "way"]
    assert {row["line_1"] for row in listed} >= set(HOSTILE)


@pytest.mark.parametrize("seed", range(8))
def test_grown_sites_stay_inside(seed: int) -> None:
    opened = study.from_text(site_text(seed, 14), "grown.yaml")
    for paper in PAPERS:
        assert crowded(opened, paper) == []
    assert max(Counter(label.name for label in made(opened)).values()) == 1


def test_important_words_are_only_shrunk_and_the_rest_goes_from_the_end() -> None:
    items = (Words("W1234+a", 1.7, "bold", "whole"), Words("somewhere far away"), Words("2.5 mm²"))
    rows = fitted(items, 8.0, 6.0, SIZES["wire"])
    assert rows[0].text == "W1234+a"
    assert rows[-1].text.endswith("…")
    assert max(row.down + 0.24 * row.size for row in rows) <= 6.0


@pytest.mark.parametrize("paper", PAPERS)
def test_sheets_fill_their_paper(paper: str) -> None:
    """Cells, gaps and margins together are the paper, to the tenth of a millimetre a shop rounds by."""
    width, height = PAGE_MM[paper]
    for form in sheets(paper).values():
        used = form.columns * form.width_mm + (form.columns - 1) * form.gap_mm[0] + 2 * form.margin_mm[0]
        assert used == pytest.approx(width, abs=0.15), form
        assert form.rows * form.height_mm + 2 * form.margin_mm[1] == pytest.approx(height, abs=0.15), form
        assert form.columns * form.rows == int(form.name.split()[0])
        assert rows_on_page(form.cells("x", ()), paper, "upright") == form.rows
    for form in tapes(PAGE_MM[paper]).values():
        used = form.columns * form.width_mm + (form.columns - 1) * form.gap_mm[0] + 2 * form.margin_mm[0]
        assert used == pytest.approx(width)
        assert form.margin_mm[0] >= 4.0
        assert rows_on_page(form.cells("x", ()), paper, "upright") == form.rows


@pytest.mark.parametrize("paper", PAPERS)
def test_every_label_lies_on_its_paper_and_has_the_size_it_says(paper: str) -> None:
    width, height = PAGE_MM[paper]
    document = draw("labels", site("observatory"), Terms(paper=paper))
    cells = [block for block in document.blocks if isinstance(block, Cells)]
    assert len({block.name for block in cells}) == len(cells)
    for block in cells:
        for left, top, svg in (cell for one in pages(block, paper, "upright") for cell in one):
            assert left >= 3.9 and left + block.width_mm <= width - 3.9
            assert top >= 8 and top + block.height_mm <= height - 4
            root = ElementTree.fromstring(svg)
            assert root.get("width") == f"{block.width_mm:g}mm" and root.get("height") == f"{block.height_mm:g}mm"
    listed = raw(tables(document)["labels"])
    assert len(listed) == len(made(site("observatory")))
    on_sheets = [block for block in cells if block.name.startswith("labels-")]
    on_tapes = [block for block in cells if block.name.startswith("tape-")]
    assert sum(len(b.svgs) for b in on_sheets) == sum(len(b.svgs) for b in on_tapes) == len(listed)
    files = pack(site("observatory"), Terms(paper=paper), (document,), ("svg",))
    assert {f"labels/{row['drawing']}.svg" for row in listed} <= set(files)


@pytest.mark.parametrize("sharing", ["named", "anonymous"])
@pytest.mark.parametrize("name", SITES)
def test_codes_lead_to_places_that_the_report_has(name: str, sharing: str) -> None:
    opened = site(name).nameless() if sharing == "anonymous" else site(name)
    terms = Terms(sharing=sharing)
    ids = set(re.findall(r'\bid="([^"]*)"', html(draw("report", opened, terms), frame_of(opened, terms))))
    anchors = {label.anchor for label in made(opened, sharing) if label.anchor}
    assert anchors and anchors <= ids
    for anchor in anchors:
        said = code.target(anchor)
        assert said.isascii() and said.startswith("report.html#") and unquote(said) == f"report.html#{anchor}"


def test_codes_are_read_from_the_printed_page() -> None:
    """The page as a printer gets it, read by a decoder that shares nothing with the encoder."""
    zxing = pytest.importorskip("zxingcpp")
    numpy = pytest.importorskip("numpy")
    pytest.importorskip("segno")
    pytest.importorskip("typst")
    from ohmstead.sheets.render.typst import pdf

    if shutil.which("pdftoppm") is None:
        pytest.skip("pdftoppm is not installed")
    opened, terms = site("observatory"), Terms()
    document = draw("labels", opened, terms)
    kept = tuple(block for block in document.blocks if isinstance(block, Cells) and block.name.startswith("labels-"))
    printed = pdf((Document("labels", "Labels", kept),), frame_of(opened, terms))
    done = subprocess.run(["pdftoppm", "-r", "300", "-gray", "-"], input=printed, capture_output=True, check=True)
    got: Counter[str] = Counter()
    rest = done.stdout
    while rest:
        head = re.match(rb"P5\s+(\d+)\s+(\d+)\s+255\s", rest)
        assert head is not None
        wide, high = int(head[1]), int(head[2])
        image = numpy.frombuffer(rest, numpy.uint8, wide * high, head.end()).reshape(high, wide)
        rest = rest[head.end() + wide * high :]
        got.update(found.text for found in zxing.read_barcodes(image, formats=zxing.BarcodeFormat.QRCode))
    fitting = Counter(
        code.target(label.anchor)
        for where in (labels.on_sheets(made(opened), "A4"),)
        for form, here in where.items()
        for label in here
        if label.anchor and coded(label, form)
    )
    assert got == fitting
    assert set(got) >= {
        code.target(label.anchor) for label in made(opened) if label.kind in ("way", "converter") and label.anchor
    }


def coded(label: Label, form: Format) -> bool:
    """True when the label has room for its code: more lines of its modules than any sign has."""
    return sum(isinstance(mark, scene.Line) for mark in marks(page(label, form))) > 40


def test_without_segno_there_are_labels_without_codes(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "segno", None)
    code.modules.cache_clear()
    document = draw("labels", site("cabin"), Terms())
    said = [block.text for block in document.blocks if isinstance(block, Text)]
    assert any("Without the package segno" in text for text in said)
    assert not any(coded(label, form) for form, label in placed(site("cabin"), "A4"))
    code.modules.cache_clear()


def test_anonymous_labels_hold_neither_name_nor_place() -> None:
    opened, terms = site("observatory").nameless(), Terms(sharing="anonymous")
    document = draw("labels", opened, terms)
    said = html(document, frame_of(opened, terms))
    for word in ("Skerry", "skerry", "Europe/London", "net supply", "fridge", str(SITES["observatory"].parent)):
        assert word not in said
    tags = [label.tag for label in of_kind(opened, "wire")]
    assert "W07+" in tags and tags == [label.tag for label in of_kind(site("observatory"), "wire")]


def test_a_name_is_taken_out_before_the_text_is_fitted() -> None:
    """A site called like its lamp: the longer words that take the name's place must fit as well."""
    text = SITES["cabin"].read_text(encoding="utf-8")
    about = study.open_site(SITES["cabin"]).site.about.name
    opened = study.from_text(text.replace(f"name: {about}", "name: fuse block"), "hut.yaml")
    before = draw("labels", opened, Terms(sharing="anonymous"))
    assert "fuse block" not in str([block.svgs for block in before.blocks if isinstance(block, Cells)])
    for form, here in labels.on_sheets(made(opened, "anonymous"), "A4").items():
        for label in here:
            for text_ in texts(page(label, form)):
                assert text_.box[2] <= form.width_mm


def test_a_failing_site_gets_its_labels_and_each_page_says_so() -> None:
    opened, terms = mistaken(), Terms()
    assert opened.verdict == "fails"
    document = draw("labels", opened, terms)
    said = html(document, frame_of(opened, terms))
    n_page = sum(len(list(pages(b, "A4", "upright"))) for b in document.blocks if isinstance(b, Cells))
    assert said.count(f'<p class="strip"><b>{NOT_FIT}</b>') == said.count('<p class="strip">') == n_page > 3


def test_open_choices_are_said() -> None:
    text = re.sub(r"fuse: 10 A blade, laid", "fuse: choose, laid", SITES["observatory"].read_text(encoding="utf-8"))
    opened = study.from_text(text, "open.yaml")
    said = {label.tag: " ".join(item.text for item in label.words) for label in made(opened)}
    assert "not yet chosen" in said["cabinet block / 1"] and "not yet chosen" in said["W07+"]


@pytest.mark.parametrize("name", SITES)
def test_the_same_labels_twice(name: str) -> None:
    assert draw("labels", site(name), Terms()) == draw("labels", study.open_site(SITES[name]), Terms())
