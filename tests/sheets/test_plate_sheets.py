"""Plan and drilling template: what is printed lies where the plan says, to a fiftieth of a millimetre."""

import re
import shutil
import subprocess
from xml.etree import ElementTree

import pytest

from ohmstead.plan.plan import plan_of
from ohmstead.sheets import catalogue
from ohmstead.sheets.document import Picture, Table, Terms, Text
from ohmstead.sheets.plating.drawn import Sheet, weight
from ohmstead.sheets.plating.lanes import lanes
from ohmstead.sheets.plating.template import EDGE, HEAD
from ohmstead.sheets.render.frame import frame_of
from ohmstead.sheets.render.style import PAGE_MM
from ohmstead.sheets.render.svg import checked, size_mm
from ohmstead.sheets.render.typst import pdf
from ohmstead.study import open_site
from plan.plates import EXAMPLES, STATED, small
from sheets.made import TERMS, mistaken
from sheets.printed import drawn

FINE_MM = 0.02
PAPERS = tuple(PAGE_MM)


@pytest.fixture(scope="module")
def study():
    return open_site(STATED["observatory"])


def tile_of(page: int, count_across: int, paper: str) -> tuple[float, float]:
    """Which spot of the plate lies at the upper left corner of the drawing on a sheet, by hand."""
    wide, high = PAGE_MM[paper]
    row, column = divmod(page, count_across)
    return column * (wide - 2 * EDGE - 12), row * (high - 2 * EDGE - HEAD - 12)


def circles_of(svg: str) -> list[tuple[float, float, float]]:
    root = ElementTree.fromstring(svg)
    return [
        (float(c.get("cx")), float(c.get("cy")), 2 * float(c.get("r"))) for c in root.iter() if c.tag.endswith("circle")
    ]


@pytest.mark.parametrize("paper", PAPERS)
def test_every_hole_is_printed_where_it_is_drilled(study, paper, outside):
    """From the PDF itself: circles of the drilled size, found on a sheet, put back onto the plate."""
    terms = Terms(paper=paper)
    document = catalogue.draw("drilling", study, terms)
    printed = pdf((document,), frame_of(study, terms))
    plan = plan_of(study.site)
    wanted = {(stand.name, hole): stand.body.hole for stand in plan.stands for hole in stand.holes()}
    across = -(-(plan.problem.plate.size_mm[0] - 12) // (PAGE_MM[paper][0] - 2 * EDGE - 12))
    seen, worst = set(), 0.0
    for page in range(len(document.blocks)):
        left, top = tile_of(page, int(across), paper)
        for x, y, wide in drawn(printed, page).circles:
            spot = x - EDGE + left, y - EDGE - HEAD + top
            for (name, hole), diameter in wanted.items():
                off = max(abs(spot[0] - hole[0]), abs(spot[1] - hole[1]), abs(wide - diameter))
                if off < 0.5:
                    seen.add((name, hole))
                    worst = max(worst, off)
    outside(source="computed", place="operators of the PDF", read="computed", what=f"printed holes in mm, {paper}",
            deviation=worst / 100)  # fmt: skip
    assert seen == set(wanted)
    assert worst < FINE_MM


@pytest.mark.parametrize("paper", PAPERS)
def test_the_bars_are_a_hundred_millimetres(study, paper):
    document = catalogue.draw("drilling", study, Terms(paper=paper))
    printed = drawn(pdf((document,), frame_of(study, Terms(paper=paper))), 0)
    lengths = [((x1 - x2) ** 2 + (y1 - y2) ** 2) ** 0.5 for x1, y1, x2, y2 in printed.lines]
    level = [line for line, long in zip(printed.lines, lengths, strict=True) if abs(long - 100) < FINE_MM]
    assert any(abs(y1 - y2) < 1e-3 for _, y1, _, y2 in level)
    assert any(abs(x1 - x2) < 1e-3 for x1, _, x2, _ in level)


def test_marks_are_the_same_on_both_sheets(study):
    """Each cross in the overlap stands on both neighbours, at the same spot of the plate."""
    document = catalogue.draw("drilling", study, TERMS)
    on_plate: dict[tuple[float, float], int] = {}
    for page, picture in enumerate(document.blocks):
        assert isinstance(picture, Picture)
        left, top = tile_of(page, 3, "A4")
        for x, y, wide in circles_of(picture.svg):
            if wide == 5.0:
                spot = round(x - EDGE + left, 2), round(y - EDGE - HEAD + top, 2)
                on_plate[spot] = on_plate.get(spot, 0) + 1
    assert len(on_plate) >= 12
    assert set(on_plate.values()) <= {2, 4}


def test_every_picture_is_a_whole_sheet(study):
    for name in ("plate-plan", "drilling"):
        document = catalogue.draw(name, study, TERMS)
        for picture in document.blocks:
            if isinstance(picture, Picture):
                assert checked(picture.svg)
                assert sorted(size_mm(picture.svg)) == pytest.approx(sorted(PAGE_MM["A4"]))


def test_the_plan_is_to_scale(study):
    """Outlines of the SVG, times the scale that the sheet names, are the parts of the plan."""
    document = catalogue.draw("plate-plan", study, TERMS)
    picture = document.blocks[0]
    assert isinstance(picture, Picture)
    sheet = Sheet(plan_of(study.site), study, TERMS)
    assert f"1 : {sheet.scale:g}" in picture.svg
    root = ElementTree.fromstring(picture.svg)
    groups = {group.get("id"): group for group in root.iter() if group.get("id")}
    for stand in sheet.plan.stands:
        path = next(
            p.get("d") for p in groups[sheet.names.part_id(stand.name)].iter()
            if p.tag.endswith("path") and p.get("fill") == "#fff"
        )  # fmt: skip
        x1, y1, x2, y2 = (float(value) for value in re.findall(r"[-0-9.]+", path)[:4])
        assert (x2 - x1) * sheet.scale == pytest.approx(stand.box.width, abs=0.02)
        assert abs(y2 - y1) * sheet.scale == pytest.approx(stand.box.height, abs=0.02)
        assert ((x1 - sheet.left) * sheet.scale, (y1 - sheet.top) * sheet.scale) == pytest.approx(
            stand.corner, abs=0.02
        )


def test_every_wire_is_drawn_on_a_lane_of_its_own(study):
    plan = plan_of(study.site)
    lines = lanes(plan)
    assert set(lines) == {led.name for led in plan.wires}
    for led in plan.wires:
        assert lines[led.name][0] == led.spots[0] and lines[led.name][-1] == led.spots[-1]
        for one, other in zip(lines[led.name], lines[led.name][1:], strict=False):
            assert one[0] == other[0] or one[1] == other[1]  # level or upright still
    for duct in plan.ducts:
        axis = 1 if duct.way == "level" else 0
        places = []
        for spots in lines.values():
            places += {
                round(a[axis], 3) for a, b in zip(spots, spots[1:], strict=False)
                if a[axis] == b[axis] and abs(a[axis] - duct.line) < duct.width / 2
            }  # fmt: skip
        assert len(places) == len(set(places))
    assert weight(0.5) < weight(2.5) < weight(16)


def test_tables_hold_every_part_wire_and_duct(study):
    plan = plan_of(study.site)
    tables = {t.name: t for t in catalogue.draw("plate-plan", study, TERMS).blocks if isinstance(t, Table)}
    assert [row[0] for row in tables["plate-parts"].rows] == [stand.name for stand in plan.stands]
    assert len(tables["plate-wires"].rows) == len(plan.wires)
    assert len(tables["plate-ducts"].rows) == len(plan.ducts)
    corner = dict(zip(tables["plate-parts"].raw_head, tables["plate-parts"].raw[0], strict=True))
    assert (corner["right_mm"], corner["down_mm"]) == plan.stands[0].corner


def test_sizes_that_were_assumed_are_said(study):
    texts = " ".join(b.text for b in catalogue.draw("plate-plan", study, TERMS).blocks if isinstance(b, Text))
    assert "router" in texts and "common practice, no source" in texts
    assert "recorder" not in texts.split("not stated")[0]


def test_only_sites_with_a_plate_get_these_sheets(study):
    for name in ("plate-plan", "drilling"):
        assert catalogue.applies(name, study)
        assert not catalogue.applies(name, mistaken())
    assert not {"plate-plan", "drilling"} & {document.name for document in catalogue.draw_all(mistaken(), TERMS)}
    asked = catalogue.draw_all(open_site(EXAMPLES / "cabin" / "cabin.yaml"), TERMS, ["plate-plan", "drilling"])
    assert [document.blocks[0].text for document in asked] == [
        "The site file has no section plate, so there is nothing to draw."
    ] * 2


def test_shared_sheets_name_nothing(study):
    terms = Terms(sharing="anonymous")
    nameless = study.nameless()
    for name in ("plate-plan", "drilling"):
        text = str(catalogue.draw(name, nameless, terms))
        assert "recorder" not in text and "gland" not in text and "Skerry" not in text


def test_a_plate_without_ducts_is_drawn_too():
    from ohmstead.study import Study

    one = Study(small(block=", at: [10 mm, 40 mm]", supply=", at: [10 mm, 190 mm]", radio=", at: [200 mm, 60 mm]"))
    for name in ("plate-plan", "drilling"):
        assert catalogue.draw(name, one, TERMS).blocks


@pytest.mark.needs_chromium
def test_the_template_is_true_when_a_browser_prints_it(study, tmp_path):
    """Printed by a browser to PDF without scaling: bars and holes as in the PDF that is made directly."""
    from ohmstead.sheets.render.html import html

    document = catalogue.draw("drilling", study, TERMS)
    page = tmp_path / "drilling.html"
    page.write_text(html(document, frame_of(study, TERMS)), encoding="utf-8")
    browser = next(found for name in ("chromium", "chromium-browser", "google-chrome") if (found := shutil.which(name)))
    words = ["--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer"]
    places = [f"--user-data-dir={tmp_path / 'profile'}", f"--print-to-pdf={tmp_path / 'printed.pdf'}", page.as_uri()]
    subprocess.run([browser, *words, *places], check=True, capture_output=True, timeout=120)
    printed = drawn((tmp_path / "printed.pdf").read_bytes(), 0)
    lengths = [((x1 - x2) ** 2 + (y1 - y2) ** 2) ** 0.5 for x1, y1, x2, y2 in printed.lines]
    assert sum(abs(long - 100) < 0.05 for long in lengths) >= 2
    on_paper = [(round(x, 1), round(y, 1)) for x, y, _ in printed.circles]
    first = [hole for stand in plan_of(study.site).stands for hole in stand.holes() if hole[0] < 170 and hole[1] < 240]
    assert first and all((round(x + EDGE, 1), round(y + EDGE + HEAD, 1)) in on_paper for x, y in first)
