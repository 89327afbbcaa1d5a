"""Finds the sheets in this folder and draws them.

A sheet is a module here with `TITLE`, `PAPER`, `ORDER` and `draw(asked, terms) -> Document`. One that can
also be had as a CAD drawing has `dxf(asked, terms) -> str`; one that is not for every site has `applies(asked)`,
which answers "yes" or "no".
"""

from collections.abc import Iterable
from functools import cache
from importlib import import_module
from os import listdir
from os.path import dirname
from types import ModuleType

from .asked import Asked
from .document import Document, Terms
from .render.nameless import nameless

FOLDER = dirname(__file__)


@cache
def sheet_modules() -> dict[str, ModuleType]:
    """Every sheet by its name (the file name with hyphens), in the order in which a builder wants them."""
    stems = sorted(name[:-3] for name in listdir(FOLDER) if name.endswith(".py") and not name.startswith("_"))
    found = {stem.replace("_", "-"): import_module(f"{__package__}.{stem}") for stem in stems}
    sheets = {name: module for name, module in found.items() if hasattr(module, "ORDER")}
    return dict(sorted(sheets.items(), key=lambda pair: (pair[1].ORDER, pair[0])))


def sheet_names() -> tuple[str, ...]:
    """Names of all sheets, in order."""
    return tuple(sheet_modules())


def draw(name: str, asked: Asked, terms: Terms) -> Document:
    """One sheet. Raises KeyError when there is none of that name."""
    drawn = sheet_modules()[name].draw(asked, terms)
    assert isinstance(drawn, Document)
    return nameless(drawn, asked.site) if terms.sharing == "anonymous" else drawn


def draw_all(asked: Asked, terms: Terms, names: Iterable[str] = ()) -> tuple[Document, ...]:
    """The sheets of these names, all when none is named, always in the catalogue's order. Raises KeyError."""
    wanted = set(names)
    unknown = wanted - set(sheet_names())
    if unknown:
        raise KeyError(min(unknown))
    drawn = [name for name in sheet_names() if name in wanted or not wanted and applies(name, asked)]
    return tuple(draw(name, asked, terms) for name in drawn)


def applies(name: str, asked: Asked) -> bool:
    """Is this a sheet for this site? Raises KeyError when there is none of that name."""
    question = getattr(sheet_modules()[name], "applies", None)
    return question is None or question(asked) == "yes"
