"""Takes the site's name, file and place out of a sheet that is drawn for sharing."""

import re
from dataclasses import fields, is_dataclass, replace
from html import escape
from os.path import basename, dirname, splitext
from typing import Any

from ...site.model import Site
from ..document import Document

NAMELESS = "anonymous site"
NAMELESS_FILE = "site file"
NAMELESS_STEM = "site"  # of files that lie beside the site file and are called after it
DEFAULT_NAME = "site"  # what a site is called when the builder gave no name: too common a word to replace

TELLING = 3  # letters from which a name tells something; "A" would be found in every figure


def nameless(document: Document, site: Site) -> Document:
    """The same sheet without the site's name, the path of its file and its time zone (no sheet prints coordinates).

    Names of parts are changed in the site itself, before anything is drawn (see `renamed`).
    """
    changed: Document = _without(document, site)
    return changed


def nameless_text(text: str, site: Site) -> str:
    """A text without the site's name, file and place, also where they are escaped or in capitals."""
    for old, new in _swaps(site).items():
        for form in dict.fromkeys((old, escape(old), escape(old, quote=False), old.upper())):
            text = re.sub(rf"(?<!\w){re.escape(form)}(?!\w)", new, text)
    stem = splitext(basename(site.path))[0]
    return re.sub(rf"\b{re.escape(stem)}(?=[-_.]\w)", NAMELESS_STEM, text) if stem else text


def _swaps(site: Site) -> dict[str, str]:
    """What to replace by what, longest first."""
    about = site.about
    swaps = {site.path: NAMELESS_FILE, basename(site.path): NAMELESS_FILE}
    folder = dirname(site.path)
    if folder.strip("./"):
        swaps[folder] = "."
    if about.timezone != "UTC":
        swaps[about.timezone] = "-"
    if about.name != DEFAULT_NAME and len(about.name) >= TELLING:
        swaps[about.name] = NAMELESS
    swaps.pop("", None)
    return dict(sorted(swaps.items(), key=lambda pair: (-len(pair[0]), pair[0])))


def _without(thing: Any, site: Site) -> Any:
    """The thing with every text in it cleaned, however deep it lies."""
    if isinstance(thing, str):
        return nameless_text(thing, site)
    if isinstance(thing, tuple):
        return tuple(_without(entry, site) for entry in thing)
    if is_dataclass(thing) and not isinstance(thing, type):
        said = {field.name: getattr(thing, field.name) for field in fields(thing) if field.name != "name"}
        return replace(thing, **{name: _without(value, site) for name, value in said.items()})
    return thing
