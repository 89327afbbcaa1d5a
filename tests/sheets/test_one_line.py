"""The one-line drawing: nothing lies on anything else, every figure is the engine's, order is the file's."""

import re
import subprocess
from collections import Counter
from pathlib import Path
from xml.etree import ElementTree

import pytest
from ezdxf.filemanagement import readfile

from ohmstead.network.points import TWO_SIDED
from ohmstead.quantity.show import show, show_area_both, show_length_both, show_span
from ohmstead.quantity.span import Span
from ohmstead.sheets import one_line
from ohmstead.sheets.document import Document, Picture, Terms
from ohmstead.sheets.oneline.pages import draw_pages
from ohmstead.sheets.oneline.scene import Text
from ohmstead.study import Study, from_text, open_site
from property.any_site import any_site
from sheets import drawn_svg
from sheets.grown_site import site_text
from sheets.shown import SITES

TERMS = Terms(date="2026-11-25", revision="B")
FOREIGN = Terms(date="2026-11-25", units="imperial", paper="Letter", sharing="anonymous")
EDGE_MM = 3.0  # nothing is lettered nearer to the paper's edge


def svgs(document: Document) -> list[str]:
    assert all(isinstance(block, Picture) and block.size == "page" for block in document.blocks)
    return [block.svg for block in document.blocks if isinstance(block, Picture)]


def faults(study: Study, terms: Terms) -> list[object]:
    """Everything that lies where something else is."""
    found: list[object] = []
    for svg in svgs(one_line.draw(study, terms)):
        drawn = drawn_svg.read(svg)
        found += drawn_svg.overlapping_texts(drawn)
        found += drawn_svg.crossed_texts(drawn)
        found += drawn_svg.crossing_runs(drawn)
        found += drawn_svg.meeting_parts(drawn)
        found += [
            text.text
            for text in drawn.texts
            if text.box[0] < EDGE_MM
            or text.box[2] > drawn.width - EDGE_MM
            or text.box[1] < EDGE_MM
            or text.box[3] > drawn.height - EDGE_MM
        ]
        found += [number for number, times in Counter(drawn.ids).items() if times > 1]
    return found


@pytest.mark.parametrize("terms", [TERMS, FOREIGN], ids=["metric A4", "imperial Letter anonymous"])
@pytest.mark.parametrize("path", SITES.values(), ids=SITES)
def test_nothing_overlaps_on_the_examples(path: Path, terms: Terms) -> None:
    assert faults(open_site(path), terms) == []


@pytest.mark.parametrize("first", range(0, 200, 20))
def test_nothing_overlaps_on_grown_sites(first: int) -> None:
    """200 sites: trees and rings, most up to 30 parts, every fifth up to 60."""
    for seed in range(first, first + 20):
        study = from_text(site_text(seed, 60 if seed % 5 == 0 else 30))
        assert (seed, faults(study, FOREIGN if seed % 2 else TERMS)) == (seed, [])


def test_nothing_overlaps_whatever_parts_are_called() -> None:
    for seed in range(40):
        assert (seed, faults(from_text(any_site(seed).text()), TERMS)) == (seed, [])


def test_overlaps_are_found() -> None:
    """The finder itself: a text on a text, a line through a text, two runs that cross."""
    pen = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100"><g font-size="2"><g id="run-a">'
    svg = (
        pen + '<text x="10" y="10">abc</text><text x="12" y="10.5">def</text><path d="M5 50H40"/></g>'
        '<g id="run-b"><path d="M20 40V60"/><path d="M12 5L12.5 20" stroke-width="0.1"/></g></g></svg>'
    )
    drawn = drawn_svg.read(svg)
    assert drawn_svg.overlapping_texts(drawn) == [("abc", "def")]
    assert [(text, owner) for text, owner, _ in drawn_svg.crossed_texts(drawn)] == [("abc", "run-b"), ("def", "run-b")]
    assert drawn_svg.crossing_runs(drawn) == [("run-a", "run-b")]


# --- every figure comes from the engine ---


def lettered(study: Study, terms: Terms = TERMS) -> dict[str, Counter[str]]:
    """Texts with a class by the id of their part or run."""
    found: dict[str, Counter[str]] = {}
    for svg in svgs(one_line.draw(study, terms)):
        for text in drawn_svg.read(svg).texts:
            found.setdefault(text.owner, Counter())[f"{text.kind}: {text.text}"] += 1
    return found


def slug(name: str) -> str:
    return "-".join(re.findall(r"[^\W_]+", name.lower().replace("->", " to ")))


@pytest.mark.parametrize("path", SITES.values(), ids=SITES)
def test_each_run_has_its_own_figures(path: Path) -> None:
    study, found = open_site(path), lettered(open_site(path))
    for view in study.evidence.runs:
        run, texts = view.run, found["run-" + slug(view.name)]
        expected = [
            f"length: {show(run.length_m, 'length')}",
            f"current: {show(view.sustained.value, 'current')}",
            f"drop: {show(view.drop.value, 'voltage')}",
        ]
        if run.wire is not None:
            expected.append(f"size: {show(run.wire.area_mm2, 'area')}")
        if run.fuse is not None:
            expected.append(f"fuse: {show(run.fuse.rating_a, 'current')} {run.fuse.family.words[0]}")
        if view.current.value > 1.02 * view.sustained.value:
            expected.append(f"current: start {show(view.current.value, 'current')}")
        signs = {(f.rule, f.subject, f.severity, bool(f.accepted)) for f in study.findings if f.subject == view.name}
        assert texts & Counter(expected) == Counter(expected), view.name
        left = texts - Counter(expected)
        assert sum(left.values()) == len(signs) + 2 * (run.cable is not None), view.name


@pytest.mark.parametrize("path", SITES.values(), ids=SITES)
def test_each_part_has_its_own_voltages(path: Path) -> None:
    study, found = open_site(path), lettered(open_site(path))
    rows = {row["name"]: row for row in study.rows("parts")}
    for name, row in rows.items():
        texts = found["part-" + slug(name)]
        span = show_span(Span.between(row["lowest_v"], row["highest_v"]), "voltage")
        wanted = f"volts: in {span}" if row["kind"] == "converter" else f"volts: {span}"
        assert texts[wanted] == 1, (name, texts)
        if row["kind"] == "converter":
            points = [study.operation.voltage_v(point, f"{name} out") for point in study.operation.points]
            assert texts[f"volts: out {show_span(Span.between(min(points), max(points)), 'voltage')}"] == 1
        assert isinstance(study.site.parts.get(name), TWO_SIDED) or f"{name} in" not in study.operation.circuit.positive


def test_no_figure_stands_outside_a_part_a_run_or_a_note() -> None:
    """What holds a digit and belongs to no part or run: fields, signs, the title block, the legend's steps."""
    study = open_site(SITES["six mistakes"])
    known = {show(least, "current") for least in (3.0, 10.0, 30.0, 100.0)}
    for page in draw_pages(study, TERMS):
        for group in page.groups:
            if group.id:
                continue
            for _, mark in group.within():
                if isinstance(mark, Text) and re.search(r"\d", mark.text):
                    stepped = mark.what == "legend" and mark.text[2:] in known
                    assert stepped or mark.what in ("field", "mark", "title", "finding", "stamp", "caption"), mark


def test_imperial_puts_gauge_and_feet_on_the_sheet() -> None:
    study, found = open_site(SITES["cabin"]), lettered(open_site(SITES["cabin"]), Terms(units="imperial"))
    run = next(run for run in study.site.runs if run.name == "fuse block / 1 -> lamps")
    assert run.wire is not None
    metric, gauge = show_area_both(run.wire.area_mm2).split(" ", 1)[0], show_area_both(run.wire.area_mm2).split("(")[1]
    texts = found["run-" + slug(run.name)]
    assert texts[f"size: {metric} mm²"] == texts[f"size: ({gauge}"] == 1
    metres, feet = show_length_both(run.length_m).removesuffix(")").split(" (")
    assert texts[f"length: {feet} ({metres})"] == 1


# --- everything is on it, once ---


@pytest.mark.parametrize("seed", [4, 16, 23, 38, 56])
def test_every_part_and_run_is_drawn_once(seed: int) -> None:
    study = from_text(site_text(seed))
    ids = [one for svg in svgs(one_line.draw(study, TERMS)) for one in drawn_svg.read(svg).ids]
    first = [one for one in ids if one.startswith("part-") and not re.search(r"--[2-9]$", one)]
    assert len(first) == len(study.site.parts) + len(study.site.batteries)
    assert sum(one.startswith("run-") for one in ids) == len(study.site.runs)
    assert len(ids) == len(set(ids))


@pytest.mark.parametrize("path", SITES.values(), ids=SITES)
def test_every_finding_stands_at_its_place_and_in_the_list(path: Path) -> None:
    study, found = open_site(path), lettered(open_site(path))
    marked = Counter(text for texts in found.values() for text in texts.elements() if text.startswith("mark: "))
    distinct = {(f.rule, f.subject, f.severity, bool(f.accepted)) for f in study.findings}
    assert marked == Counter({f"mark: {number}": 2 for number in range(1, len(distinct) + 1)})


def test_the_stamp_is_there_when_the_site_fails_and_only_then() -> None:
    for name, path in SITES.items():
        study = open_site(path)
        stamped = ["NOT FIT TO BUILD" in svg for svg in svgs(one_line.draw(study, TERMS))]
        assert set(stamped) == {study.verdict == "fails"}, name


def test_a_shared_drawing_names_nothing() -> None:
    study = open_site(SITES["six mistakes"])
    for svg in svgs(one_line.draw(study, FOREIGN)):
        said = " ".join(ElementTree.fromstring(svg).itertext()) + " ".join(drawn_svg.read(svg).ids).replace("-", " ")
        for name in (*study.site.batteries, *study.site.parts, study.site.about.name, "Skerry", "skerry"):
            if len(name) > 4 and not name.endswith("charger"):
                assert name not in said, name


def test_the_same_site_gives_the_same_bytes() -> None:
    once, twice = (svgs(one_line.draw(open_site(SITES["salt pan"]), TERMS)) for _ in range(2))
    assert once == twice
    assert one_line.dxf(open_site(SITES["cabin"]), TERMS) == one_line.dxf(open_site(SITES["cabin"]), TERMS)


def test_one_part_more_at_the_end_moves_no_other_out_of_order() -> None:
    text = SITES["observatory"].read_text(encoding="utf-8")
    more = text.replace("\nruns: ", "  gate lamp: {kind: device, input: 20..30 V, draws: 4 W, zone: hide}\n\nruns: ", 1)
    run = "  - {from: hide block / 6, to: gate lamp, length: 4 m, wire: 1.5 mm2, fuse: 2 A blade}\n"
    last = "  - {from: hide block / 5, to: hide socket, length: 3 m,   wire: 2.5 mm2, fuse: 10 A blade}\n"
    assert last in more
    more = more.replace(last, last + run, 1)
    before, after = (_names_down(from_text(each)) for each in (text, more))
    assert after.index("gate lamp") == after.index("hide socket") + 1
    assert [name for name in after if name != "gate lamp"] == before


def _names_down(study: Study) -> list[str]:
    """Names of loads from the top of the sheet to its foot."""
    drawn = drawn_svg.read(svgs(one_line.draw(study, TERMS))[0])
    right = max(text.box[0] for text in drawn.texts if text.kind == "name")
    names = [text for text in drawn.texts if text.kind == "name" and abs(text.box[0] - right) < 0.1]
    return [text.text for text in sorted(names, key=lambda text: text.box[1])]


def test_a_drawing_is_light() -> None:
    """Less than 150 kB a sheet, nothing loaded from elsewhere."""
    for path in SITES.values():
        for svg in svgs(one_line.draw(open_site(path), TERMS)):
            assert len(svg.encode()) < 150_000
            assert not re.search(r"href|url\(|@import|<style|<script|<image", svg)


# --- other programs read it ---


@pytest.mark.parametrize("name", ["observatory", "six mistakes"])
def test_the_dxf_is_sound(name: str, tmp_path: Path) -> None:
    """Read again by ezdxf and audited; every text of the SVG is in it."""
    study = open_site(SITES[name])
    path = tmp_path / "drawing.dxf"
    path.write_text(one_line.dxf(study, TERMS), encoding="utf-8")
    made = readfile(path)
    audit = made.audit()
    assert (list(audit.errors), list(audit.fixes)) == ([], [])
    space = made.modelspace()
    assert {"WIRES", "SYMBOLS", "TEXT", "FINDINGS", "FRAME", "NOTES"} <= {layer.dxf.name for layer in made.layers}
    texts = Counter(text.dxf.text for text in space.query("TEXT"))
    assert texts == Counter(t.text for svg in svgs(one_line.draw(study, TERMS)) for t in drawn_svg.read(svg).texts)
    assert len(space.query('LWPOLYLINE[layer=="WIRES"]')) >= len(study.site.runs)


@pytest.mark.needs_chromium
def test_a_browser_measures_the_lettering_alike(tmp_path: Path) -> None:
    """Width of each text as laid out by a browser, against the table of widths; needs the first face of the family."""
    svg = svgs(one_line.draw(open_site(SITES["six mistakes"]), TERMS))[0]
    script = (
        "document.body.append(Object.assign(document.createElement('pre'), {id: 'out', textContent: "
        "[...document.querySelectorAll('svg text')].map(t => t.getComputedTextLength()).join(' ')}))"
    )
    page = tmp_path / "page.html"
    page.write_text(f"<!doctype html><meta charset=utf-8><body>{svg}<script>{script}</script>", encoding="utf-8")
    browser = subprocess.run(
        ["chromium", "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
         "--disable-background-networking", "--disable-component-update", "--disable-sync", "--disable-dev-shm-usage",
         f"--user-data-dir={tmp_path / 'profile'}", "--dump-dom", page.as_uri()],
        capture_output=True, text=True, encoding="utf-8", timeout=120, check=True)  # fmt: skip
    found = re.search(r'<pre id="out">([^<]*)</pre>', browser.stdout)
    assert found is not None
    drawn = drawn_svg.read(svg)
    widths = [float(each) for each in found[1].split()]
    assert len(widths) == len(drawn.texts) > 100
    for width, text in zip(widths, drawn.texts, strict=True):
        own = text.box[2] - text.box[0]
        assert width <= own * 1.005 + 0.01, text.text  # never wider than the table says
