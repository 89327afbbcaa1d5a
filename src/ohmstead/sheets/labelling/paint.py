"""A label on its format: sign at the left, words, code at the right; a flag has its words on both halves."""

from ..oneline.scene import Box, Group, Line, Mark, Page, Text
from ..oneline.svg import to_svg
from . import code
from .fit import fitted, printable
from .formats import LEAST_FLAG_MM, Format
from .label import Label
from .signs import CENTRE, sign

SIZES = {
    "wire": (1.5, 2.6),
    "way": (1.6, 3.2),
    "fuse": (1.6, 3.2),
    "converter": (1.8, 3.6),
    "plug": (1.7, 3.4),
    "warning": (1.8, 4.2),
}
"""Smallest and largest plain lettering by kind. [mm]"""
SPACE = 1.5  # between sign, words and code [mm]
SIGN_SHARE = {"warning": 0.26, "plug": 0.36, "way": 0.14}
CODE_SHARE = 0.36  # of the width that a code may take at most
WORDS_MM = 16.0  # width below which words are no use
TICK_MM = 1.0


def svg(label: Label, form: Format) -> str:
    """The label as a drawing of the format's size."""
    return to_svg(page(label, form), printable(label.name))


def page(label: Label, form: Format) -> Page:
    """The label as marks."""
    group = Group("", "frame")
    if label.wrap_mm:
        _flag(group, label, form)
    else:
        _flat(group, label, form)
    if form.cut == "from a tape":
        _ticks(group, form)
    return Page(1, form.width_mm, form.height_mm, 1.0, [group])


def _flag(group: Group, label: Label, form: Format) -> None:
    half = max(form.flag_mm(label.wrap_mm), LEAST_FLAG_MM["by the shop"])
    across, down = min(form.edge_mm[0], 1.0), form.edge_mm[1]
    for left in (0.0, form.width_mm - half):
        group.marks += _words(label, (left + across, down, left + half - across, form.height_mm - down))
    middle = form.width_mm / 2
    group.line((middle, 0.5), (middle, form.height_mm - 0.5), width=0.1, dash="1 1")


def _flat(group: Group, label: Label, form: Format) -> None:
    across, down = form.edge_mm
    left, top, right, bottom = across, down, form.width_mm - across, form.height_mm - down
    if label.sign:
        flat = 3.0 if label.sign in CENTRE else 1.1  # a plug's signs stand side by side
        side = min(SIGN_SHARE.get(label.kind, 0.2) * form.width_mm, (bottom - top) * flat)
        group.marks += sign(label.sign, (left, top, left + side, bottom))
        left += side + SPACE
    marks, taken = code_marks(label, form, right - left - WORDS_MM)
    group.marks += marks
    group.marks += _words(label, (left, top, right - taken, bottom))


def code_marks(label: Label, form: Format, room: float) -> tuple[list[Mark], float]:
    """The code at the right edge, and what it takes of the width beside the edge. Rows of modules are thick lines."""
    try:
        dark = code.modules(label.anchor) if label.anchor else ()
    except ImportError:
        dark = ()
    side = min(form.height_mm, CODE_SHARE * form.width_mm, room + form.edge_mm[0])
    size = code.module_mm(len(dark), side) if dark else 0.0
    if not size:
        return [], 0.0
    left = form.width_mm - (len(dark) + code.QUIET) * size
    top = (form.height_mm - len(dark) * size) / 2
    marks: list[Mark] = []
    for number, row in enumerate(dark):
        y = top + (number + 0.5) * size
        for first, last in _stretches(row):
            marks.append(Line(((left + first * size, y), (left + last * size, y)), size))
    return marks, (len(dark) + 2 * code.QUIET) * size - form.edge_mm[0]


def _stretches(row: tuple[int, ...]) -> list[tuple[int, int]]:
    """First and one past the last of each stretch of dark modules."""
    edges = [i for i, (one, other) in enumerate(zip((0, *row), (*row, 0), strict=True)) if one != other]
    return list(zip(edges[::2], edges[1::2], strict=True))


def _words(label: Label, box: Box) -> list[Mark]:
    left, top, right, bottom = box
    rows = fitted(label.words, right - left, bottom - top, SIZES[label.kind])
    used = max((row.down + 0.24 * row.size for row in rows), default=0.0)
    start = top + max(0.0, (bottom - top - used) / 2)
    return [Text(left, start + row.down, row.text, "label", row.size, row.weight) for row in rows]


def _ticks(group: Group, form: Format) -> None:
    """Where to cut a tape that is printed on paper; printers of tape do not reach so far out."""
    for x in (0.05, form.width_mm - 0.05):
        group.line((x, 0.05), (x, TICK_MM), width=0.1)
        group.line((x, form.height_mm - TICK_MM), (x, form.height_mm - 0.05), width=0.1)
