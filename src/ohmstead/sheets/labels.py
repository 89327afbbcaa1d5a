"""Labels to stick on: flags on wires, ways and fuses, converters, plugs, warnings; on sheets that shops sell."""

from collections.abc import Iterator
from dataclasses import replace

from .asked import Asked
from .document import Block, Caution, Document, Heading, Table, Terms, Text
from .labelling import code, words
from .labelling.fit import printable
from .labelling.formats import Format, for_flag, sheets, tapes
from .labelling.fuses import fuses
from .labelling.label import Label
from .labelling.paint import svg
from .labelling.supplies import converters, plugs
from .labelling.warnings import warnings
from .labelling.wires import flags
from .oneline.names import Names
from .render.nameless import nameless_text
from .render.style import page_mm

TITLE = "Labels"
PAPER = "upright"
ORDER = 40

ON_SHEET = {"way": "small", "fuse": "small", "plug": "small", "converter": "medium", "warning": "large"}
ON_TAPE = {"way": "narrow", "fuse": "line", "plug": "supply", "converter": "supply", "warning": "wide"}
FLAGS_ON_SHEET = ("small", "medium", "large")
FLAGS_ON_TAPE = ("supply", "wide")
N_LINE = 5


def draw(asked: Asked, terms: Terms) -> Document:
    """How to print them, the labels by format, the same on tape, and a list that a label program can read."""
    return Document("labels", TITLE, tuple(_blocks(asked, terms)), PAPER)


def labels(asked: Asked, terms: Terms) -> tuple[Label, ...]:
    """Every label of a site, in the order in which it is built."""
    names = Names(asked.site, terms.sharing)
    found = (*flags(asked), *fuses(asked, names), *converters(asked, names), *plugs(asked, names), *warnings(asked))
    return found if terms.sharing == "named" else tuple(_nameless(label, asked) for label in found)


def _nameless(label: Label, asked: Asked) -> Label:
    """Cleaned before it is fitted, so that nothing grows afterwards."""
    said = tuple(replace(item, text=nameless_text(item.text, asked.site)) for item in label.words)
    return replace(label, words=said, tag=nameless_text(label.tag, asked.site))


def on_sheets(found: tuple[Label, ...], paper: str) -> dict[Format, list[Label]]:
    """Labels by the sheet they are printed on."""
    return _sorted(found, sheets(paper), ON_SHEET, FLAGS_ON_SHEET)


def on_tapes(found: tuple[Label, ...], paper: str) -> dict[Format, list[Label]]:
    """Labels by the tape they are printed on, as strips on a page of this paper."""
    return _sorted(found, tapes(page_mm(paper, PAPER)), ON_TAPE, FLAGS_ON_TAPE)


def _sorted(
    found: tuple[Label, ...], formats: dict[str, Format], by_kind: dict[str, str], for_flags: tuple[str, ...]
) -> dict[Format, list[Label]]:
    by_name: dict[str, Format] = {}
    placed: dict[Format, list[Label]] = {}
    for form in formats.values():
        placed.setdefault(by_name.setdefault(form.name, form), [])
    for label in found:
        form = for_flag(formats, for_flags, label.wrap_mm) if label.wrap_mm else formats[by_kind[label.kind]]
        placed[by_name[form.name]].append(label)
    return {form: labels for form, labels in placed.items() if labels}


def _blocks(asked: Asked, terms: Terms) -> Iterator[Block]:
    found = labels(asked, terms)
    on_paper, on_tape = on_sheets(found, terms.paper), on_tapes(found, terms.paper)
    yield Caution(words.TITLE_PRINT, words.PRINT)
    sizes = "; ".join(words.SIZE_NAME.format(size=form.size, name=form.name) for form in on_paper)
    strips = ", ".join(form.name for form in on_tape)
    yield Text(words.FORMATS.format(paper=terms.paper, names=sizes, tapes=strips))
    yield Text(words.FLAGS)
    yield Text(_code_words(found))
    for form, here in on_paper.items():
        yield form.cells(f"labels-{form.size}", tuple(svg(label, form) for label in here))
    for form, here in on_tape.items():
        yield form.cells(f"tape-{form.height_mm:g}mm", tuple(svg(label, form) for label in here))
    yield Heading(words.LIST)
    yield listed(on_paper)


def _code_words(found: tuple[Label, ...]) -> str:
    """What the codes hold, or why there are none."""
    anchor = next((label.anchor for label in found if label.anchor), "")
    try:
        code.modules(anchor)
    except ImportError:
        return words.NO_CODE
    return words.CODE.format(example=code.target(anchor))


def listed(placed: dict[Format, list[Label]]) -> Table:
    """Every label with its text; the file can be merged into a label program."""
    printed, raw = [], []
    for form, here in placed.items():
        for number, label in enumerate(here, 1):
            lines = [printable(item.text) for item in label.words if printable(item.text)]
            printed.append((str(number), form.size, words.KINDS[label.kind], _brief(label, lines)))
            filled = [*lines[: N_LINE - 1], " ".join(lines[N_LINE - 1 :])] if len(lines) > N_LINE else lines
            raw.append(
                (
                    f"labels-{form.size}-{number:03d}",
                    form.name,
                    label.kind,
                    printable(label.tag),
                    label.side,
                    *filled,
                    *[""] * (N_LINE - len(filled)),
                    code.target(label.anchor) if label.anchor else "",
                )
            )
    return Table("labels", words.HEAD, tuple(printed), "rlll", "", (0.06, 0.1, 0.14, 0.7), words.RAW_HEAD, tuple(raw))


def _brief(label: Label, lines: list[str]) -> str:
    """A label in one line: what tells it from the others."""
    first = lines[:3] if label.kind == "wire" else [label.sign or lines[0], *lines[not label.sign : 2]]
    if label.kind in ("warning", "plug"):
        first = [label.tag, *lines[:2]]
    return " ".join(first) if label.kind == "wire" else ", ".join(printable(text) for text in first)
