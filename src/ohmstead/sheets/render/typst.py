"""Sheets as PDF by the typesetter typst, from text alone: no file is read, no clock asked, no font of the machine used.

Everything a builder wrote goes in as a quoted string, never as markup, so nothing of it can be run.
"""

from calendar import timegm
from collections.abc import Iterator
from datetime import date

from ..document import Caution, Cells, Document, Heading, PageBreak, Picture, Steps, Table, Text
from . import stock
from .frame import CAUTION, LABELS, NOT_FIT, NOT_GIVEN, Frame
from .leaf import BAND_MM, BOTTOM_MM, LEAF, LEFT_MM, RIGHT_MM, TOP_MM
from .phrase import bound
from .style import page_mm
from .svg import checked, size_mm, whole_sheet

LONGEST_WORD = 24
ZERO_WIDTH_SPACE = "\u200b"
EPOCH = 315532800  # 1980-01-01, when no date is given
BEYOND = "\u2e7f"  # the typesetter's own fonts end before the scripts of East Asia
CAPTION_MM = 8.0
ALIGN = {"l": "left", "c": "center", "r": "right"}
MARKS = {"tick": "ticks", "number": "steps"}


def pdf(documents: tuple[Document, ...], frame: Frame) -> bytes:
    """One PDF of these sheets. Raises ImportError when typst is not installed."""
    import typst

    source = typst_source(documents, frame)
    # Only a text in a script that the built-in fonts lack is worth the fonts of the machine.
    plain = all(character <= BEYOND for character in source)
    made: bytes = typst.compile(source.encode(), format="pdf", ignore_system_fonts=plain, timestamp=stamp(frame.date))
    return made


def stamp(text: str) -> int:
    """The creation date of the PDF: midnight of the date on the sheet, in UTC. [s]"""
    if text == NOT_GIVEN:
        return EPOCH
    return timegm(date.fromisoformat(text).timetuple())


def typst_source(documents: tuple[Document, ...], frame: Frame) -> str:
    """The sheets in the typesetter's language."""
    title = documents[0].title if len(documents) == 1 else frame.site
    start = f"#set document(title: {quoted(title)}, date: none)\n"
    return start + LEAF.replace("#OF", f"#{quoted(LABELS['of'])}") + "".join(_sheet(d, frame) for d in documents)


def quoted(text: str) -> str:
    """A text as a string literal, which the typesetter takes as it is."""
    kept = "".join(c if c >= " " or c == "\n" else " " for c in text)
    return '"' + kept.replace("\\", "\\\\").replace('"', '\\"') + '"'


def worded(text: str) -> str:
    """The same, with places to break a word too long for a column."""
    words = (w if len(w) <= LONGEST_WORD or "-" in w else _pieces(w) for w in bound(text).split(" "))
    return quoted(" ".join(words))


def _pieces(word: str) -> str:
    return ZERO_WIDTH_SPACE.join(word[i : i + LONGEST_WORD // 2] for i in range(0, len(word), LONGEST_WORD // 2))


def free_mm(document: Document, frame: Frame) -> tuple[float, float]:
    """Width and height inside border and title block. [mm]"""
    width, height = page_mm(frame.paper, document.turned)
    top = TOP_MM + (BAND_MM if frame.reasons else 0.0)
    return width - LEFT_MM - RIGHT_MM, height - top - BOTTOM_MM


def _sheet(document: Document, frame: Frame) -> str:
    width, height = page_mm(frame.paper, document.turned)
    top = TOP_MM + (BAND_MM if frame.reasons else 0.0)
    fields = {
        "site": frame.site,
        "sheet": document.title,
        "file": frame.file,
        "mark": frame.mark,
        "made": frame.made,
        "revision": frame.revision,
        "date": frame.date,
        "units": frame.units,
        "caution": CAUTION,
        "unfit": NOT_FIT,
    }
    said = ", ".join(f"{name}: {quoted(value)}" for name, value in fields.items())
    labels = ", ".join(f"{name}: {quoted(value)}" for name, value in LABELS.items())
    why = quoted(frame.why) if frame.reasons else "none"
    body = "\n".join(piece for block in document.blocks for piece in _block(block, document, frame))
    alone = bool(document.blocks) and stock.fills_page(document.blocks[0], (width, height))
    first = "" if alone else f"#heading({quoted(document.title)})\n"
    return (
        f"#[\n#let f = ({said}, why: {why}, labels: ({labels}))\n"
        f"#set page(width: {width:g}mm, height: {height:g}mm, background: border(f),\n"
        f"  margin: (left: {LEFT_MM}mm, right: {RIGHT_MM}mm, top: {top}mm, bottom: {BOTTOM_MM}mm))\n"
        f"{first}{body}\n]\n"
    )


def _block(block: object, document: Document, frame: Frame) -> Iterator[str]:
    match block:
        case Heading(text=text, level=level):
            yield f"#heading(level: {level + 1}, outlined: {'true' if level == 1 else 'false'}, {worded(text)})"
        case Text(text=text):
            yield f"#par({worded(text)})"
        case Steps():
            yield f"#{MARKS[block.mark]}({_listed(block.items)})"
        case Caution():
            yield f"#caution({worded(block.title)}, {_listed(block.lines)})"
        case Table():
            yield from _table(block)
        case Picture():
            yield from _picture(block, free_mm(document, frame), page_mm(frame.paper, document.turned))
        case Cells():
            yield from _cells(block, document, frame)
        case PageBreak():
            yield "#pagebreak(weak: true)"
        case _:
            raise TypeError(f"no such block: {type(block).__name__}")


def _listed(texts: tuple[str, ...]) -> str:
    return ", ".join(worded(text) for text in texts)


def _array(pieces: Iterator[str]) -> str:
    """An array literal; the last comma keeps one of a single entry an array."""
    return "(" + "".join(f"{piece}, " for piece in pieces) + ")"


def _table(table: Table) -> Iterator[str]:
    if table.caption:
        yield f"#caption({worded(table.caption)})"
    letters = table.align.ljust(len(table.head), "l")
    widths = (f"{width:g}fr" for width in table.widths) if table.widths else ("auto" for _ in letters)
    cells = _array(worded(cell) for row in table.rows for cell in row)
    yield (
        f"#rows({_array(widths)}, {_array(ALIGN[letter] for letter in letters)}, "
        f"{_array(worded(text) for text in table.head)}, {cells})"
    )


def _picture(picture: Picture, free: tuple[float, float], sheet: tuple[float, float]) -> Iterator[str]:
    svg = checked(picture.svg)
    width, height = size_mm(svg)
    if picture.size == "page" and whole_sheet(svg, sheet):
        # It brings its own border and title block.
        said = quoted(picture.caption or picture.name)
        image = f'image(bytes({quoted(svg)}), format: "svg", width: {width:g}mm, height: {height:g}mm, alt: {said})'
        yield f"#page(width: {width:g}mm, height: {height:g}mm, margin: 0mm, background: none, {image})"
        return
    room_w, room_h = free[0], free[1] - (CAPTION_MM if picture.caption else 0.0)
    turned = picture.size == "page" and (width > height) != (room_w > room_h)
    if turned:
        width, height = height, width
    scale = min(room_w / width, room_h / height)
    if picture.size == "own":
        scale = min(scale, 1.0)
    wide = (height if turned else width) * scale
    said = quoted(picture.caption or picture.name)
    image = f'image(bytes({quoted(svg)}), format: "svg", width: {wide:.3f}mm, alt: {said})'
    if turned:
        image = f"rotate(-90deg, reflow: true, {image})"
    if picture.size == "page":
        yield "#pagebreak(weak: true)"
    yield f"#drawn({image}, {worded(picture.caption) if picture.caption else 'none'})"


def _cells(cells: Cells, document: Document, frame: Frame) -> Iterator[str]:
    drawn = list(stock.pages(cells, frame.paper, document.turned))
    for number, page in enumerate(drawn, 1):
        placed = "".join(
            f"#place(top + left, dx: {left:g}mm, dy: {top:g}mm, box(width: {cells.width_mm:g}mm, "
            f'height: {cells.height_mm:g}mm, clip: true, image(bytes({quoted(checked(svg))}), format: "svg", '
            f"width: 100%, height: 100%, alt: {quoted(cells.name)})))\n"
            for left, top, svg in page
        )
        yield f"#page(margin: 0mm, background: strip(f, {quoted(f'{number}/{len(drawn)}')}))[\n{placed}]"
