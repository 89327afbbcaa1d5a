"""Studies, terms and hand-made documents that the tests of sheets share."""

from functools import cache
from json import dumps
from pathlib import Path

from ohmstead.sheets.document import (
    Caution,
    Cells,
    Document,
    Heading,
    PageBreak,
    Picture,
    Steps,
    Table,
    Terms,
    Text,
)
from ohmstead.sheets.render.frame import Frame
from ohmstead.study import Study, from_text, open_site

EXAMPLES = Path(__file__).parents[2] / "examples"
MISTAKEN = EXAMPLES / "skerry" / "skerry.yaml"
MENDED = EXAMPLES / "skerry" / "skerry-mended.yaml"
TERMS = Terms(date="2026-11-25", revision="B")
SIGNS = "° Ω mm² µ ≤ → ± ½ é ß Ж λ"

SVG = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="{w}mm" height="{h}mm" viewBox="0 0 {w} {h}">'
    '<rect x="0.5" y="0.5" width="{rw}" height="{rh}" fill="none" stroke="black" stroke-width="0.4"/>'
    '<text x="3" y="8" font-size="5" font-family="sans-serif">{text}</text></svg>'
)


@cache
def mistaken() -> Study:
    """The example site with its mistakes."""
    return open_site(MISTAKEN)


@cache
def mended() -> Study:
    """The same site with nothing left to mend."""
    return open_site(MENDED)


def hostile() -> Study:
    """A site whose names try to get out of every form of output."""
    parts = "\n".join(f"  {dumps(name)}: {{kind: device, input: 10..15 V, draws: 5 W}}" for name in HOSTILE)
    runs = "\n".join(
        f"  - {{from: block / {way}, to: {dumps(name)}, length: 2 m, wire: 1.5 mm2, fuse: 3 A blade}}"
        for way, name in enumerate(HOSTILE, 1)
    )
    return from_text(
        f"""ohmstead: 1
site: {{name: '<b>Rock</b> & Co "#set"'}}
battery:
  bank: {{chemistry: LFP, cells: 4, capacity: 100 Ah, charging: 14.4 V}}
parts:
  block: {{kind: distribution, ways: 12}}
{parts}
runs:
  - {{from: bank, to: block, length: 1 m, wire: 16 mm2, fuse: 60 A class T, fuse at: 0.1 m}}
{runs}
""",
        "rock.yaml",
    )


HOSTILE = (
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "=HYPERLINK(1)",
    "@SUM(A1)",
    "+cmd",
    "#panic(1) $x$ *bold* _it_ @ref",
    'quote " back \\ slash',
    "]] } #[",
    "a,b;c",
    "W" * 78,
)


def picture(text: str = "drawing", w: float = 60, h: float = 30) -> str:
    """A little drawing of a given size. [mm]"""
    return SVG.format(w=w, h=h, rw=w - 1, rh=h - 1, text=text)


def everything(turned: str = "upright") -> Document:
    """A sheet with every kind of block."""
    rows = tuple((f"row {i}", SIGNS, f"{i / 7:.3f}") for i in range(90))
    raw = tuple((f"row {i}", SIGNS, i / 7) for i in range(90))
    return Document(
        "everything",
        "Everything",
        (
            Heading("Signs"),
            Text(SIGNS),
            Heading("Lower", 2),
            Steps(("first", "second")),
            Steps(("tick this", "and that"), "tick"),
            Caution("Hot", ("Do not touch.", SIGNS)),
            Table(
                "many",
                ("name", "signs", "figure"),
                rows,
                "llr",
                "Many rows",
                raw_head=("name", "signs", "figure_v"),
                raw=raw,
            ),
            PageBreak(),
            Picture("small", picture(), "as it is", "own"),
            Picture("wide", picture(), "", "width"),
            Picture("whole", picture("whole page", 400, 150), "turned if need be", "page"),
        ),
        turned,
    )


def labels() -> Document:
    """A sheet of labels: 30 cells of 63.5 by 38.1 mm, three beside each other."""
    cells = tuple(picture(f"label {i}", 63.5, 38.1) for i in range(30))
    return Document("labels", "Labels", (Cells("flags", cells, 63.5, 38.1, 3, (7.2, 15.1), (2.5, 0.0)),))


def frame(paper: str = "A4", reasons: tuple[str, ...] = ()) -> Frame:
    """A title block without a site."""
    return Frame("Skerry", "skerry.yaml", "0badcafe", "B", "2026-11-25", paper, "metric", "Ohmstead", reasons)
