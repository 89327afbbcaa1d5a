"""All sheets as files: name -> bytes. Nothing is written here, and the same input gives the same bytes."""

from collections.abc import Callable, Iterable
from importlib.util import find_spec

from .. import catalogue
from ..asked import Asked
from ..document import Cells, Document, Picture, Terms
from .csv import table_csv, tables_of
from .frame import Frame, frame_of
from .html import html, index
from .nameless import nameless_text
from .svg import checked

FORMS = ("html", "pdf", "csv", "xlsx", "svg", "dxf")
NEEDS = {"pdf": ("typst", "typst"), "xlsx": ("xlsxwriter", "XlsxWriter"), "dxf": ("ezdxf", "ezdxf")}
"""Form -> module and package that it needs; forms left out need nothing."""

WHAT = {
    "pdf": "all sheets in one PDF",
    "xlsx": "all tables in one workbook",
    "csv": "a table",
    "svg": "a drawing",
    "dxf": "a drawing for CAD",
}
COMBINED, BOOK = "all-sheets.pdf", "tables.xlsx"
Files = dict[str, bytes]


def missing(forms: Iterable[str]) -> dict[str, str]:
    """Forms that cannot be made here, with the package that each lacks."""
    return {form: NEEDS[form][1] for form in forms if form in NEEDS and find_spec(NEEDS[form][0]) is None}


LABELS = "labels/"  # the folder of labels drawn one by one, for tape printers
EACH_LABEL = "{n_label} labels, one drawing each"


def pack(asked: Asked, terms: Terms, documents: tuple[Document, ...], forms: Iterable[str]) -> Files:
    """Every file of the wanted forms. Raises ImportError when a form needs a package that is not there."""
    frame = frame_of(asked, terms)
    makers: dict[str, Callable[[], Files]] = {
        "pdf": lambda: _pdf(documents, frame),
        "xlsx": lambda: _xlsx(documents, frame),
        "csv": lambda: {
            f"tables/{name}.csv": table_csv(table).encode() for name, table in tables_of(documents).items()
        },
        "svg": lambda: _svg(documents),
        "dxf": lambda: _dxf(asked, terms, documents),
    }
    wanted = set(forms)
    files: Files = {}
    for form in FORMS:
        if form in wanted and form in makers:
            files |= makers[form]()
    if "html" in wanted:
        files = _html(documents, frame, files) | files
    return files


def _html(documents: tuple[Document, ...], frame: Frame, files: Files) -> Files:
    pages = {f"{document.name}.html": html(document, frame).encode() for document in documents}
    others = [
        (name, WHAT[name.rpartition(".")[2]])
        for name in files
        if name in (COMBINED, BOOK) or not name.endswith(".pdf") and not name.startswith(LABELS)
    ]
    n_label = sum(name.startswith(LABELS) for name in files)
    if n_label:
        others.append((LABELS, EACH_LABEL.format(n_label=n_label)))
    own = {document.name: f"{document.name}.pdf" for document in documents if f"{document.name}.pdf" in files}
    return {"index.html": index(documents, frame, own, others).encode(), **pages}


def _pdf(documents: tuple[Document, ...], frame: Frame) -> Files:
    from .typst import pdf

    alone = {f"{document.name}.pdf": pdf((document,), frame) for document in documents}
    return alone if len(documents) < 2 else {COMBINED: pdf(documents, frame), **alone}


def _xlsx(documents: tuple[Document, ...], frame: Frame) -> Files:
    from .xlsx import workbook

    return {BOOK: workbook(documents, frame)}


def _svg(documents: tuple[Document, ...]) -> Files:
    made: Files = {}
    for document in documents:
        for block in document.blocks:
            if isinstance(block, Picture):
                made[f"drawings/{block.name}.svg"] = _alone(block.svg)
            elif isinstance(block, Cells):
                made |= {f"{LABELS}{block.name}-{i:03d}.svg": _alone(svg) for i, svg in enumerate(block.svgs, 1)}
    return made


def _alone(svg: str) -> bytes:
    """A drawing as a file of its own."""
    body = checked(svg)
    if "xmlns=" not in body[: body.index(">")]:
        body = body.replace("<svg", '<svg xmlns="http://www.w3.org/2000/svg"', 1)
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{body}\n'.encode()


def _dxf(asked: Asked, terms: Terms, documents: tuple[Document, ...]) -> Files:
    made: Files = {}
    for document in documents:
        draw = getattr(catalogue.sheet_modules()[document.name], "dxf", None)
        if draw is not None:
            text: str = draw(asked, terms)
            if terms.sharing == "anonymous":
                text = nameless_text(text, asked.site)
            made[f"drawings/{document.name}.dxf"] = text.encode()
    return made
