"""What a sheet is made of, before it becomes HTML, PDF, CSV or a workbook.

A sheet's module has a `TITLE`, a `PAPER` and `draw(study, terms) -> Document`. It never formats for one
output: it fills blocks, and every figure in them comes from an object of the engine.
"""

from typing import TYPE_CHECKING

from ..site.record import record

if TYPE_CHECKING:  # only named here: sheets without prices do not load it
    from ..choose.worth import Stock


@record(frozen=True)
class Terms:
    """What the reader of the sheets asked for.

    date: printed on every sheet, such as 2026-11-25, given and never taken from the clock. revision: printed
    beside it. sharing: "named", or "anonymous" to leave out place and names. paper: "A4" or "Letter".
    units: "metric" or "imperial", which of the two stands first. prices: a price list with own parts, as
    `ohmstead.choose.prices.read_prices` reads it.
    """

    date: str = ""
    revision: str = ""
    sharing: str = "named"
    paper: str = "A4"
    units: str = "metric"
    prices: "Stock | None" = None


@record(frozen=True)
class Heading:
    """A heading; level 1 is below the sheet's own title."""

    text: str
    level: int = 1


@record(frozen=True)
class Text:
    """A paragraph."""

    text: str


@record(frozen=True)
class Steps:
    """Things to do in order; `mark` is "number" or "tick" (a box to tick)."""

    items: tuple[str, ...]
    mark: str = "number"


@record(frozen=True)
class Caution:
    """A framed warning, with a sign that does not rely on colour."""

    title: str
    lines: tuple[str, ...]


@record(frozen=True)
class Table:
    """A table. `name` is its file name as CSV and its sheet name in a workbook.

    `rows` hold what is printed; `raw`, when given, the same rows as numbers in SI units with `raw_head`,
    for CSV and workbooks. `align` has a letter a column: l, c or r. `widths` are shares of the page width.
    """

    name: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    align: str = ""
    caption: str = ""
    widths: tuple[float, ...] = ()
    raw_head: tuple[str, ...] = ()
    raw: tuple[tuple[object, ...], ...] = ()


@record(frozen=True)
class Picture:
    """A drawing as SVG text, in its own size or filling the page width or a whole page ("page")."""

    name: str
    svg: str
    caption: str = ""
    size: str = "width"


@record(frozen=True)
class Cells:
    """A grid of equal cells of a given size in millimetres, each an SVG: label sheets."""

    name: str
    svgs: tuple[str, ...]
    width_mm: float
    height_mm: float
    columns: int
    margin_mm: tuple[float, float] = (8.0, 10.0)
    gap_mm: tuple[float, float] = (0.0, 0.0)


@record(frozen=True)
class PageBreak:
    """What follows starts on a new page."""


Block = Heading | Text | Steps | Caution | Table | Picture | Cells | PageBreak


@record(frozen=True)
class Document:
    """One sheet. `turned` is "upright" or "sideways"."""

    name: str
    title: str
    blocks: tuple[Block, ...]
    turned: str = "upright"
