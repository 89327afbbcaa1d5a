"""Sheets and tapes of labels as shops sell them."""

from math import pi

from ...site.model import Run
from ...site.record import record
from ...tables.reader import rows
from ..document import Cells

CABLE_OUTER_MM = 6.5  # usual for outdoor and patch cable of category 5 and 6; common practice, no source
TAPE_GAP_MM = (1.0, 2.0)
LEAST_FLAG_MM = {"by the shop": 12.0, "from a tape": 20.0}
"""Half of a flag below which its words get too small; a tape is lower. Common practice, no source. [mm]"""


@record(frozen=True)
class Format:
    """A label's size, and how many of them lie on a page. `edge_mm` stays free of print on every side."""

    name: str
    size: str
    width_mm: float
    height_mm: float
    columns: int
    rows: int
    margin_mm: tuple[float, float]
    gap_mm: tuple[float, float]
    edge_mm: tuple[float, float] = (1.5, 1.2)
    cut: str = "by the shop"

    def cells(self, name: str, svgs: tuple[str, ...]) -> Cells:
        """A block of labels of this format."""
        return Cells(name, svgs, self.width_mm, self.height_mm, self.columns, self.margin_mm, self.gap_mm)

    def flag_mm(self, wrap_mm: float) -> float:
        """Width of each half of a flag around a wire. [mm]"""
        return (self.width_mm - wrap_mm) / 2


def sheets(paper: str) -> dict[str, Format]:
    """The sheets of a paper by size: "small", "medium", "large"."""
    return {
        str(row["size"]): Format(
            str(row["name"]),
            str(row["size"]),
            float(row["width_mm"]),
            float(row["height_mm"]),
            int(row["columns"]),
            int(row["rows"]),
            (float(row["left_mm"]), float(row["top_mm"])),
            (float(row["gap_mm"]), 0.0),
        )
        for row in rows("label_sheets")
        if row["paper"] == paper
    }


def tapes(page_mm: tuple[float, float]) -> dict[str, Format]:
    """The tapes by size, as strips beside each other on a page."""
    found = {}
    for row in rows("label_tapes"):
        width, length = float(row["tape_mm"]), float(row["length_mm"])
        edge = (width - float(row["reach_mm"])) / 2
        columns = int((page_mm[0] - 8.0 + TAPE_GAP_MM[0]) / (length + TAPE_GAP_MM[0]))
        n_row = int((page_mm[1] - 14.0 + TAPE_GAP_MM[1]) / (width + TAPE_GAP_MM[1]))
        left = (page_mm[0] - columns * length - (columns - 1) * TAPE_GAP_MM[0]) / 2
        found[str(row["size"])] = Format(
            f"{width:g} mm tape",
            str(row["size"]),
            length,
            width,
            columns,
            n_row,
            (left, 10.0),
            TAPE_GAP_MM,
            (1.5, edge),
            "from a tape",
        )
    return found


def wrap_mm(run: Run) -> float:
    """What of a flag goes around the wire of a run: its girth. [mm]"""
    if run.cable is not None or run.carries == "data":
        return CABLE_OUTER_MM * pi
    area = run.wire.area_mm2 if run.wire is not None else 2.5
    sizes = rows("wire_outer")
    thick = next((row for row in sizes if float(row["size_mm2"]) >= area * 0.95), sizes[-1])
    return float(thick["outer_mm"]) * pi


def for_flag(formats: dict[str, Format], order: tuple[str, ...], wrap: float) -> Format:
    """The first format in which both halves of a flag can be read, else the last."""
    fitting = (form for form in map(formats.__getitem__, order) if form.flag_mm(wrap) >= LEAST_FLAG_MM[form.cut])
    return next(fitting, formats[order[-1]])
