"""The sheet around the drawing: border with fields, folding marks, title block. Lengths in millimetres."""

from ...evidence.finding import Severity
from ..asked import Asked
from ..render.frame import Frame as Block
from ..render.frame import grave
from . import words
from .scene import Box, Group, Page, Text
from .text import BODY, SMALL, clipped, text_width

BIND = 18.0  # left margin, for the file's holes
EDGE = 8.0
RIM = 3.6  # width of the strip with the field letters
STRIP = 16.0  # height of the title block
FIELDS = (6, 4)
LETTERS = "ABCD"
MARK = 4.0


def drawing_area(width: float, height: float) -> Box:
    """Where the drawing itself may stand."""
    return BIND + 2.0, EDGE + 2.0, width - EDGE - 2.0, height - EDGE - STRIP - 2.0


def draw_border(page: Page) -> Group:
    """Border, fields to find a place by, and marks at the middle of every side to fold and file by."""
    group = Group("", "frame")
    left, top, right, bottom = BIND, EDGE, page.width - EDGE, page.height - EDGE
    group.box((left, top, right, bottom), "", 0.7)
    group.box((left - RIM, top - RIM, right + RIM, bottom + RIM), "", 0.2)
    _fields_across(group, (left, top, right, bottom))
    _fields_down(group, (left, top, right, bottom))
    for y, reach in ((top, -MARK), (bottom, MARK)):
        group.line((page.width / 2, y), (page.width / 2, y + reach), width=0.5)
    for x, reach in ((left, -MARK), (right, MARK)):
        group.line((x, page.height / 2), (x + reach, page.height / 2), width=0.5)
    return group


def _fields_across(group: Group, frame: Box) -> None:
    """Numbers along the upper and lower edge; no stroke where the mark of the middle stands."""
    left, top, right, bottom = frame
    step = (right - left) / FIELDS[0]
    for number in range(FIELDS[0]):
        for y in (top, bottom + RIM):
            _field(group, left + (number + 0.5) * step, y - RIM / 2, str(number + 1))
            if number and 2 * number != FIELDS[0]:
                group.line((left + number * step, y - RIM), (left + number * step, y), width=0.2)


def _fields_down(group: Group, frame: Box) -> None:
    """Letters along the left and right edge."""
    left, top, right, bottom = frame
    step = (bottom - top) / FIELDS[1]
    for number in range(FIELDS[1]):
        for x in (left, right + RIM):
            _field(group, x - RIM / 2, top + (number + 0.5) * step, LETTERS[number])
            if number and 2 * number != FIELDS[1]:
                group.line((x - RIM, top + number * step), (x, top + number * step), width=0.2)


def _field(group: Group, x: float, y: float, text: str) -> None:
    group.marks.append(Text(x, y + 0.36 * SMALL, text, "field", SMALL, "", "middle"))


def draw_title(
    page: Page, block: Block, asked: Asked, count: int, title: str = words.TITLE, scale: str = words.NO_SCALE
) -> Group:
    """The title block along the lower edge."""
    group = Group("", "frame")
    left, right, bottom = BIND, page.width - EDGE, page.height - EDGE
    top = bottom - STRIP
    group.line((left, top), (right, top), width=0.5)
    shares = (0.25, 0.27, 0.17, 0.13, 0.10, 0.08)
    x, cells = left, []
    for number, share in enumerate(shares):
        wide = share * (right - left)
        cells.append((x, wide))
        if number:
            group.line((x, top), (x, bottom), width=0.25)
        x += wide
    _verdict(group, asked, (cells[0][0], top, cells[0][0] + cells[0][1], bottom))
    _cell(group, cells[1], top, words.SITE, block.site, 3.0)
    _small(group, cells[1], top + 10.6, words.CAUTION)
    _cell(group, cells[2], top, words.DRAWING, title, 2.6)
    _cell(group, cells[2], top + 8.0, "", block.made, BODY)
    _cell(group, cells[3], top, words.DATE, block.date, 2.4)
    _cell(group, cells[3], top + 8.0, words.REVISION, block.revision, 2.4)
    _cell(group, cells[4], top, words.FILE_MARK, block.mark, 2.4)
    _cell(group, cells[4], top + 8.0, words.SCALE, scale, 2.4)
    _cell(group, cells[5], top, words.UNITS, block.units, 2.1)
    _cell(group, cells[5], top + 8.0, words.SHEET_LABEL, f"{page.number} / {count}", 2.4)
    group.line((cells[3][0], top + 8.0), (right, top + 8.0), width=0.25)
    return group


def _cell(group: Group, cell: tuple[float, float], top: float, caption: str, text: str, size: float) -> None:
    x, wide = cell
    if caption:
        group.marks.append(Text(x + 1.5, top + 2.6, caption, "caption", SMALL))
    most = int((wide - 3.0) / text_width("0", size))
    group.marks.append(Text(x + 1.5, top + 3.2 + 0.78 * size + 0.9, clipped(text, most), "title", size, "bold"))


def _small(group: Group, cell: tuple[float, float], top: float, text: str) -> None:
    """A text in two small lines."""
    x, wide = cell
    most = int((wide - 3.0) / text_width("0", SMALL))
    cut = text.rfind(" ", 0, most + 1) if len(text) > most else len(text)
    for number, line in enumerate((text[:cut], text[cut:].strip())):
        if line:
            group.marks.append(Text(x + 1.5, top + 1.3 + 2.2 * number, clipped(line, most), "caption", SMALL))


def _verdict(group: Group, asked: Asked, box: Box) -> None:
    """The stamp against building, or that nothing speaks against it."""
    left, top, right, bottom = box
    middle, wide = (left + right) / 2, right - left - 5.0
    if asked.verdict != "fails":
        tight = sum(1 for one in asked.findings if one.severity is Severity.TIGHT and not one.accepted)
        accepted = sum(1 for one in asked.findings if one.accepted)
        _cell(group, (left, right - left), top, words.VERDICT, words.NO_OBJECTION, BODY)
        _small(group, (left, right - left), top + 6.6, words.LESSER.format(tight=tight, accepted=accepted))
        return
    stamp = Group("", "mark", "", "#b3261e")
    stamp.box((left + 1.2, top + 1.2, right - 1.2, bottom - 1.2), "", 0.8)
    stamp.box((left + 2.2, top + 2.2, right - 2.2, bottom - 2.2), "", 0.25)
    size = min(5.0, wide / text_width(words.NOT_FIT, 1.0))
    stamp.marks.append(Text(middle, top + 7.4, words.NOT_FIT, "stamp", size, "bold", "middle"))
    found = grave(asked.findings)
    counts = {level.value: sum(1 for one in found if one.severity is level) for level in Severity}
    for number, text in enumerate((words.REASONS.format(**counts), words.SEE)):
        stamp.marks.append(Text(middle, top + 10.2 + 2.3 * number, text, "stamp", SMALL, "", "middle"))
    group.groups.append(stamp)
