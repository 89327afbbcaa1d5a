"""Takes the site's name, file and place out of a sheet that is drawn for sharing."""

from dataclasses import fields, is_dataclass, replace
from os.path import basename
from typing import TypeVar

from ...site.model import Site
from ..document import Document

NAMELESS = "anonymous site"
NAMELESS_FILE = "site file"
DEFAULT_NAME = "site"  # what About.name is when the builder gave none: too common a word to replace

T = TypeVar("T")


def nameless(document: Document, site: Site) -> Document:
    """The same sheet without the site's name, the path of its file, its coordinates and its time zone.

    Parts keep the names that the builder gave them: without those no sheet can be read.
    """
    return _without(document, swaps_of(site))


def swaps_of(site: Site) -> dict[str, str]:
    """What to replace by what, longest first."""
    about = site.about
    swaps = {site.path: NAMELESS_FILE, basename(site.path): NAMELESS_FILE, about.timezone: "-"}
    if about.name != DEFAULT_NAME:
        swaps[about.name] = NAMELESS
    for angle in (about.latitude, about.longitude):
        if angle is not None and angle != round(angle):  # a whole number says little and is found everywhere
            swaps[repr(angle)] = "-"
    swaps.pop("", None)
    swaps.pop("UTC", None)
    return dict(sorted(swaps.items(), key=lambda pair: (-len(pair[0]), pair[0])))


def _without(thing: T, swaps: dict[str, str]) -> T:
    """The thing with every text in it swapped, however deep it lies."""
    if isinstance(thing, str):
        text: str = thing
        for old, new in swaps.items():
            text = text.replace(old, new)
        return text  # type: ignore[return-value]
    if isinstance(thing, tuple):
        return tuple(_without(entry, swaps) for entry in thing)  # type: ignore[return-value]
    if is_dataclass(thing) and not isinstance(thing, type):
        changed = {field.name: _without(getattr(thing, field.name), swaps) for field in fields(thing)}
        return replace(thing, **changed)
    return thing
