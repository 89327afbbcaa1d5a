"""A sheet as one self-contained HTML page: nothing is fetched, everything written by a builder is escaped."""

from collections.abc import Iterable, Mapping
from html import escape

from ..document import Caution, Cells, Document, Heading, PageBreak, Picture, Steps, Table, Text
from . import stock
from .frame import CAUTION, LABELS, NOT_FIT, Frame
from .phrase import bound
from .style import PAGE_HEAD, page_mm, style
from .svg import checked

CARDS_FROM = 4  # columns from which a table turns into cards on a narrow screen
INDEX_TITLE = "Sheets"
BACK = "all sheets"
ALSO = "Also here"
SIGN = (
    '<svg viewBox="0 0 26 24" role="img" aria-label="caution"><path d="M13 2 L25 23 L1 23 Z" fill="none" '
    'stroke="currentColor" stroke-width="2" stroke-linejoin="round"/><path d="M13 9 V16 M13 18.5 V20.5" '
    'stroke="currentColor" stroke-width="2.4"/></svg>'
)
ALIGN = {"l": "", "c": ' class="c"', "r": ' class="r"'}


def html(document: Document, frame: Frame) -> str:
    """The page of one sheet. Raises ValueError when a picture in it is no plain drawing."""
    kind = kind_of(document, frame)
    above = "" if kind == "framed" else f'<p class="above">{strip_html(document.title, frame, "")}</p>\n'
    body = "\n".join(_block(block, document, frame) for block in document.blocks)
    return _page(
        document.title,
        f'<nav><a href="index.html">{BACK}</a></nav>\n',
        f"<h1>{escape(document.title)}</h1>\n" + above + body,
        (frame, document.turned, kind),
    )


def kind_of(document: Document, frame: Frame) -> str:
    """How a sheet prints: "framed", "loose" with label pages among others, "loose bare" with whole pages alone."""
    sheet = page_mm(frame.paper, document.turned)
    if document.blocks and all(stock.fills_page(block, sheet) for block in document.blocks):
        return "loose bare"
    return "loose" if any(isinstance(block, Cells) for block in document.blocks) else "framed"


def index(
    documents: Iterable[Document], frame: Frame, own: Mapping[str, str], others: Iterable[tuple[str, str]]
) -> str:
    """The page that leads to all sheets; `own` names a sheet's PDF, `others` are further files and what they are."""
    rows = []
    for document in documents:
        more = f' <a href="{escape(own[document.name])}">PDF</a>' if document.name in own else ""
        rows.append(f'<li><a href="{escape(document.name)}.html">{escape(document.title)}</a>{more}</li>')
    items = "\n".join(f'<li><a href="{escape(name)}">{escape(name)}</a> {escape(what)}</li>' for name, what in others)
    extra = f"<h2>{ALSO}</h2>\n<ul>\n{items}\n</ul>" if items else ""
    body = f"<h1>{escape(frame.site)}</h1>\n<ol>\n" + "\n".join(rows) + f"\n</ol>\n{extra}"
    return _page(INDEX_TITLE, "", body, (frame, "upright", "framed"))


def _page(title: str, nav: str, body: str, around: tuple[Frame, str, str]) -> str:
    frame, turned, kind = around
    marked = "marked" if frame.reasons else "plain"
    heading = PAGE_HEAD.replace("MARK", f"{NOT_FIT}  {frame.mark}") if kind == "loose" else ""
    band = f'<div class="band" role="note"><b>{NOT_FIT}</b>{escape(frame.why)}</div>' if frame.reasons else ""
    return (
        f'<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f'<meta name="generator" content="{escape(frame.made)}">\n'
        f"<title>{escape(title)} · {escape(frame.site)}</title>\n"
        f"<style>\n{style(frame.paper, turned, marked)}{heading if frame.reasons else ''}</style>"
        f'\n</head>\n<body class="{kind}">\n{nav}<div class="leaf">\n<div class="edge"></div>\n'
        f'<div class="head">{band}</div>\n<main><div>\n{body}\n</div></main>\n'
        f'<div class="foot">{_title_block(title, frame)}</div>\n</div>\n</body>\n</html>\n'
    )


def _title_block(title: str, frame: Frame) -> str:
    fields = (
        ("wide site", "site", frame.site),
        ("wide sheet", "sheet", title),
        ("mid", "revision", frame.revision),
        ("mid", "date", frame.date),
        ("wide", "file", frame.file),
        ("mid", "mark", frame.mark),
        ("mid", "units", frame.units),
        ("wide", "made", frame.made),
    )
    cells = "".join(
        f'<div class="{kind}"><dt>{LABELS[label]}</dt><dd>{escape(value)}</dd></div>' for kind, label, value in fields
    )
    caution = f'<div class="all"><dt>{LABELS["caution"]}</dt><dd>{escape(CAUTION)}</dd></div>'
    return f'<dl class="block">{cells}{caution}</dl>'


def _block(block: object, document: Document, frame: Frame) -> str:
    match block:
        case Heading(text=text, level=level):
            return f"<h{level + 1}>{escape(text)}</h{level + 1}>"
        case Text(text=text):
            return f"<p>{escape(bound(text))}</p>"
        case Steps():
            return _steps(block)
        case Caution():
            lines = "".join(f"<p>{escape(bound(line))}</p>" for line in block.lines)
            return f'<aside class="caution">{SIGN}<div><b>{escape(block.title)}</b>{lines}</div></aside>'
        case Table():
            return _table(block)
        case Picture():
            caption = f"<figcaption>{escape(block.caption)}</figcaption>" if block.caption else ""
            drawn = f'<div class="draw">{checked(block.svg)}</div>'
            whole = " whole" if kind_of(document, frame) == "loose bare" else ""
            return f'<figure class="{escape(block.size)}{whole}">{drawn}{caption}</figure>'
        case Cells():
            return _cells(block, document, frame)
        case PageBreak():
            return '<div class="break"></div>'
    raise TypeError(f"no such block: {type(block).__name__}")


def _steps(steps: Steps) -> str:
    if steps.mark == "tick":
        items = "\n".join(
            f'<li><label><input type="checkbox"> <span>{escape(bound(item))}</span></label></li>'
            for item in steps.items
        )
        return f'<ul class="tick">\n{items}\n</ul>'
    items = "\n".join(f"<li>{escape(bound(item))}</li>" for item in steps.items)
    return f"<ol>\n{items}\n</ol>"


def _table(table: Table) -> str:
    marks = [ALIGN[letter] for letter in table.align.ljust(len(table.head), "l")]
    caption = f"<caption>{escape(table.caption)}</caption>" if table.caption else ""
    total = sum(table.widths)
    widths = "".join(f'<col style="width:{100 * width / total:.2f}%">' for width in table.widths)
    head = "".join(f'<th scope="col"{mark}>{escape(text)}</th>' for text, mark in zip(table.head, marks, strict=True))
    rows = "\n".join(
        "<tr>"
        + "".join(
            f'<td{mark} data-head="{escape(name)}">{_lines(cell)}</td>'
            for cell, mark, name in zip(row, marks, table.head, strict=True)
        )
        + "</tr>"
        for row in table.rows
    )
    cards = " cards" if len(table.head) >= CARDS_FROM else ""
    columns = f"<colgroup>{widths}</colgroup>" if widths else ""
    return (
        f'<div class="table{cards}"><table id="{escape(table.name)}">{caption}{columns}'
        f"<thead><tr>{head}</tr></thead>\n<tbody>\n{rows}\n</tbody></table></div>"
    )


def _lines(text: str) -> str:
    """A cell's text; line ends are kept."""
    return "<span>" + "<br>".join(escape(bound(line)) for line in text.split("\n")) + "</span>"


def _cells(cells: Cells, document: Document, frame: Frame) -> str:
    width, height = page_mm(frame.paper, document.turned)
    made = []
    drawn = list(stock.pages(cells, frame.paper, document.turned))
    for number, page in enumerate(drawn, 1):
        inner = "".join(
            f'<div class="cell" style="left:{left:g}mm;top:{top:g}mm;width:{cells.width_mm:g}mm;'
            f'height:{cells.height_mm:g}mm">{checked(svg)}</div>'
            for left, top, svg in page
        )
        strip = f'<p class="strip">{strip_html(document.title, frame, f"{number}/{len(drawn)}")}</p>'
        made.append(f'<div class="stock" style="width:{width:g}mm;height:{height - 0.5:g}mm">{strip}{inner}</div>')
    return f'<div class="cells" id="{escape(cells.name)}">' + "\n".join(made) + "</div>"


def strip_html(title: str, frame: Frame, page: str) -> str:
    """The title block in one line, for label sheets, whose whole page is taken."""
    mark = f"<b>{NOT_FIT}</b>: {escape(frame.why)} · " if frame.reasons else ""
    said = " · ".join(
        filter(
            None,
            (
                frame.site,
                title,
                f"{frame.file} {frame.mark}",
                f"{LABELS['revision']} {frame.revision}",
                frame.date,
                page,
            ),
        )
    )
    return mark + escape(said)
