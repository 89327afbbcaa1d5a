"""HTML sheets are whole, harmless and looked at by a parser, not only by us."""

import re
from html.parser import HTMLParser

import pytest

from ohmstead.sheets.catalogue import draw, draw_all, sheet_names
from ohmstead.sheets.document import Document, Picture, Text
from ohmstead.sheets.render.frame import NOT_FIT, frame_of
from ohmstead.sheets.render.html import html
from sheets.made import HOSTILE, SIGNS, TERMS, everything, frame, hostile, labels, mended, mistaken, picture

VOID = {"meta", "br", "col", "input", "img", "link", "hr"}


class Reader(HTMLParser):
    """Collects tags, attributes and text, and notices what is not closed."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.attributes: list[tuple[str, str]] = []
        self.stack: list[str] = []
        self.faults: list[str] = []
        self.text: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        self.attributes += [(name, value or "") for name, value in attrs]
        if tag not in VOID:
            self.stack.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.tags.append(tag)
        self.attributes += [(name, value or "") for name, value in attrs]

    def handle_endtag(self, tag):
        if not self.stack or self.stack.pop() != tag:
            self.faults.append(tag)

    def handle_data(self, data):
        if not self.stack or self.stack[-1] != "style":
            self.text.append(data)

    @property
    def words(self) -> str:
        return "".join(self.text).replace("\u00a0", " ")


@pytest.mark.parametrize("document", [everything(), labels()], ids=["everything", "labels"])
def test_every_block_is_well_formed_and_fetches_nothing(document):
    text = html(document, frame(reasons=("danger: this at that",)))
    read = Reader(text)
    assert (read.faults, read.stack) == ([], [])
    assert "script" not in read.tags
    links = [value for name, value in read.attributes if name in ("src", "href")]
    assert links == ["index.html"]
    assert "url(" not in text and "@import" not in text


def test_signs_stand_in_the_page():
    assert SIGNS in Reader(html(everything(), frame())).words


def test_a_hostile_name_is_text():
    study = hostile()
    for document in draw_all(study, TERMS):
        read = Reader(html(document, frame_of(study, TERMS)))
        assert "script" not in read.tags
        assert not [name for name, _ in read.attributes if name.startswith("on")]
    report = Reader(html(draw("report", study, TERMS), frame_of(study, TERMS)))
    assert report.faults == []
    for name in HOSTILE:
        assert name in report.words
    assert "img" not in report.tags


@pytest.mark.parametrize("svg", [
    "<svg><script>1</script></svg>", '<svg onload="x"><g/></svg>', "<svg><foreignObject/></svg>", "<svg><g></svg>",
    "no", '<svg><a xmlns:xlink="http://www.w3.org/1999/xlink" xlink:href="javascript:1"/></svg>'])  # fmt: skip
def test_a_picture_that_is_more_than_a_picture_is_refused(svg):
    with pytest.raises(ValueError, match="a picture"):
        html(Document("x", "X", (Picture("p", svg),)), frame())


def test_the_mark_stands_on_every_sheet_of_a_failing_site_and_on_none_of_a_fit_one():
    for name in sheet_names():
        bad = Reader(html(draw(name, mistaken(), TERMS), frame_of(mistaken(), TERMS))).words
        assert NOT_FIT in bad and "fuse-over-cable" in bad, name
        assert NOT_FIT not in Reader(html(draw(name, mended(), TERMS), frame_of(mended(), TERMS))).words, name


def test_table_heads_repeat_and_rows_stay_whole_in_print():
    text = html(everything(), frame())
    rules = re.search(r"@media print \{(.*)\}\n@media screen", text, re.S)[1]
    assert "thead { display: table-header-group; }" in rules
    assert re.search(r"tr, figure \{ break-inside: avoid; \}", rules)


def test_paper_and_way_are_in_the_page_rule():
    assert "@page { size: A4 portrait;" in html(everything(), frame())
    assert "@page { size: letter landscape;" in html(everything("sideways"), frame("Letter"))


def test_text_pages_beside_labels_carry_the_mark_in_their_margin():
    both = Document("labels", "Labels", (Text("how to use them"), *labels().blocks))
    marked = html(both, frame(reasons=("danger: this at that",)))
    assert f'@top-left {{ content: "{NOT_FIT}  0badcafe"' in marked
    assert marked.count(f"<b>{NOT_FIT}</b>: danger: this at that") == 3  # two label pages and the line above the text
    assert "@top-left" not in html(both, frame())


def test_labels_keep_their_millimetres():
    text = html(labels(), frame())
    assert "left:7.2mm;top:15.1mm;width:63.5mm;height:38.1mm" in text
    assert "left:73.2mm;top:53.2mm" in text  # second column, second row: 7.2+63.5+2.5, 15.1+38.1
    assert text.count('class="stock"') == 2  # 21 to a page of A4


def test_a_picture_of_ours_is_taken():
    assert "drawing</text>" in html(Document("x", "X", (Picture("p", picture()),)), frame())
