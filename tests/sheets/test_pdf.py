"""PDF sheets read back by another program's reader (pypdf): sizes, texts, figures, marks."""

import re
from io import BytesIO
from itertools import pairwise

import pytest
from pypdf import PdfReader

from ohmstead.quantity.show import show
from ohmstead.sheets.catalogue import draw, draw_all
from ohmstead.sheets.render.frame import NOT_FIT, frame_of
from ohmstead.sheets.render.typst import pdf, quoted
from sheets.made import HOSTILE, MISTAKEN, SIGNS, TERMS, everything, frame, hostile, labels, mended, mistaken

# ISO 216: A4 is 210 by 297 mm; ANSI Y14.1: letter size A is 8.5 by 11 in, 215.9 by 279.4 mm.
SIZES_MM = {("A4", "upright"): (210, 297), ("A4", "sideways"): (297, 210),
            ("Letter", "upright"): (215.9, 279.4), ("Letter", "sideways"): (279.4, 215.9)}  # fmt: skip


def pages(data: bytes) -> list[str]:
    """Text of every page, spaces made alike and no-break joints taken out."""
    read = PdfReader(BytesIO(data))
    return [re.sub(r"\s+", " ", p.extract_text().replace("\u200b", "").replace("\u00a0", " ")) for p in read.pages]


def squeezed(text: str) -> str:
    return re.sub(r"\s+", "", text)


@pytest.mark.parametrize(("paper", "turned"), SIZES_MM)
def test_the_paper_has_its_size(paper, turned):
    data = pdf((everything(turned),), frame(paper))
    for page in PdfReader(BytesIO(data)).pages:
        width, height = (float(side) * 25.4 / 72 for side in (page.mediabox.width, page.mediabox.height))
        assert (width, height) == pytest.approx(SIZES_MM[paper, turned], abs=0.1)


def test_signs_come_through():
    text = " ".join(pages(pdf((everything(),), frame())))
    for sign in SIGNS.split():
        assert sign in text


def test_every_page_has_the_title_block_its_number_and_the_mark():
    found = pages(pdf((everything(),), frame(reasons=("danger: this at that", "fails: other at there"))))
    assert len(found) > 4
    for number, text in enumerate(found, 1):
        for word in (
            "Skerry",
            "skerry.yaml",
            "0badcafe",
            "2026-11-25",
            "Everything",
            "measure before you trust",
            f"{number} of {len(found)}",
            NOT_FIT.upper(),
            "this at that",
        ):
            assert word in text, (number, word)


def test_a_fit_site_carries_no_mark():
    assert not any(
        NOT_FIT.upper() in text for text in pages(pdf((draw("report", mended(), TERMS),), frame_of(mended(), TERMS)))
    )


def test_every_page_of_every_sheet_of_a_failing_site_is_marked():
    study = mistaken()
    for text in pages(pdf(draw_all(study, TERMS), frame_of(study, TERMS))):
        assert NOT_FIT.upper() in text
        assert "fuse-over-cable" in text


def test_the_report_holds_the_figures_of_the_engine():
    study = mistaken()
    text = " ".join(pages(pdf((draw("report", study, TERMS),), frame_of(study, TERMS))))
    evidence, operation = study.evidence, study.operation
    feed = evidence.run("main bar -> cabinet block")
    fridge = next(view for view in evidence.devices if view.name == "fridge")
    bank = evidence.batteries[0]
    router = next(view for view in evidence.devices if view.name == "router")
    low = operation.voltage_v(operation.point(router.lowest.case), "router")
    for value, dimension in ((feed.sustained.value, "current"), (feed.ampacity.value_a, "current"),
                             (feed.drop.value, "voltage"), (feed.fault_near.largest_a, "current"),
                             (feed.fault_far.smallest_a, "current"), (low, "voltage"), (bank.full_v, "voltage"),
                             (fridge.lowest.value, "voltage"),
                             (bank.short_circuit_a, "current"), (evidence.day.total_wh, "energy"),
                             (evidence.margin.factor, "number")):  # fmt: skip
        assert show(value, dimension) in text
    for finding in study.findings:
        assert squeezed(finding.message[1:]) in squeezed(text)
        assert squeezed(finding.mend) in squeezed(text)
    for case in study.cases:
        assert squeezed(case.title) in squeezed(text)


def test_hostile_names_are_printed_as_they_are():
    study = hostile()
    text = squeezed(" ".join(pages(pdf((draw("report", study, TERMS),), frame_of(study, TERMS)))))
    for name in HOSTILE:
        assert squeezed(name) in text
    assert squeezed(study.site.about.name) in text


@pytest.mark.parametrize("text", ['"', "\\", '\\"', '")#panic("x', "line\nend", "\x00\x07", "#[$*_@<>`~"])
def test_quoting_leaves_no_way_out(text):
    """The quoted text, compiled, is one string of the same length."""
    import typst

    kept = "".join(sign if sign >= " " or sign == "\n" else " " for sign in text)
    source = f"#assert.eq({quoted(text)}.codepoints().len(), {len(kept)})"
    assert typst.compile(source.encode()).startswith(b"%PDF")


def test_labels_lie_where_they_should():
    """Places read back from the PDF: pypdf tells where text starts, in points from the lower left."""
    letters: list[tuple[str, float, float]] = []
    page = PdfReader(BytesIO(pdf((labels(),), frame()))).pages[0]

    def visit(text, cm, tm, font, size):
        if text.strip():
            x = tm[4] * cm[0] + tm[5] * cm[2] + cm[4]
            y = tm[4] * cm[1] + tm[5] * cm[3] + cm[5]
            letters.append((text.strip(), x * 25.4 / 72, 297 - y * 25.4 / 72))

    page.extract_text(visitor_text=visit)
    starts = [(x, y) for (sign, x, y), (after, *_) in pairwise(letters) if (sign, after) == ("l", "a")]
    assert len(starts) == 21
    for number, start in enumerate(starts):
        row, column = divmod(number, 3)  # the text stands at 3, 8 mm of its label; the thin stroke begins within it
        assert start == pytest.approx((7.2 + 66.0 * column + 3, 15.1 + 38.1 * row + 8), abs=0.1)


def test_label_pages_say_what_they_are():
    found = pages(pdf((labels(),), frame(reasons=("danger: this at that",))))
    assert len(found) == 2
    for number, text in enumerate(found, 1):
        for word in ("Labels", "Skerry", "0badcafe", NOT_FIT.upper(), "this at that", f"{number}/2"):
            assert word in text


def test_no_glyph_is_missing_in_the_example():
    """Every font in the report comes with the file."""
    study = mistaken()
    read = PdfReader(BytesIO(pdf((draw("report", study, TERMS),), frame_of(study, TERMS))))
    names = {
        str(font["/BaseFont"]).rpartition("+")[2]
        for page in read.pages
        for font in (f.get_object() for f in page["/Resources"]["/Font"].values())
    }
    assert names
    assert all(name.startswith(("LibertinusSerif", "DejaVuSansMono")) for name in names), names
    assert MISTAKEN.name in read.pages[0].extract_text()
