"""Pages that one block fills, and where the cells of a label sheet lie: to the same millimetre in every form."""

from collections.abc import Iterator

from ..document import Cells, Picture
from .style import page_mm
from .svg import whole_sheet

LEAST_EDGE_MM = 4.0  # what most printers cannot reach; common practice, no source


def fills_page(block: object, sheet_mm: tuple[float, float]) -> bool:
    """True for label sheets and for drawings with a border of their own: pages with nothing else on them."""
    return isinstance(block, Cells) or (
        isinstance(block, Picture) and block.size == "page" and whole_sheet(block.svg, sheet_mm) != ""
    )


def rows_on_page(cells: Cells, paper: str, turned: str) -> int:
    """How many rows of cells one page holds, at least one."""
    height = page_mm(paper, turned)[1]
    free = height - cells.margin_mm[1] - LEAST_EDGE_MM + cells.gap_mm[1]
    return max(1, int(free / (cells.height_mm + cells.gap_mm[1]) + 1e-9))


def pages(cells: Cells, paper: str, turned: str) -> Iterator[list[tuple[float, float, str]]]:
    """Page by page: left and top edge of each cell, and its drawing. [mm]"""
    a_page = rows_on_page(cells, paper, turned) * cells.columns
    for first in range(0, len(cells.svgs), a_page):
        yield [(*place(cells, i), svg) for i, svg in enumerate(cells.svgs[first : first + a_page])]


def place(cells: Cells, index: int) -> tuple[float, float]:
    """Left and top edge of the cell of that number on its page. [mm]"""
    row, column = divmod(index, cells.columns)
    left = cells.margin_mm[0] + column * (cells.width_mm + cells.gap_mm[0])
    top = cells.margin_mm[1] + row * (cells.height_mm + cells.gap_mm[1])
    return round(left, 4), round(top, 4)
