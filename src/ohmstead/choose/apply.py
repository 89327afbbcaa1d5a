"""Writes choices into the text of a site file; every other character stays."""

from collections.abc import Iterable
from difflib import unified_diff

from ..site.edit import EditRefused, replace_value
from ..site.place import Place
from .choice import Choice


def written(text: str, choices: Iterable[Choice]) -> str:
    """The text with every choice in the place of its `choose`. Raises EditRefused when a place holds none."""
    for choice in sorted(choices, key=lambda choice: choice.place.start, reverse=True):
        place: Place = choice.place
        if text[place.start : place.end].strip("'\"") != "choose":
            whose = f"the {choice.attribute} of {choice.subject}"
            raise EditRefused(f"line {place.line} no longer says `choose` for {whose}")
        text = replace_value(text, place, choice.text)
    return text


def difference(before: str, after: str, name: str) -> str:
    """What changes, line by line; empty when nothing does."""
    lines = unified_diff(before.splitlines(), after.splitlines(), name, f"{name} (chosen)", lineterm="", n=1)
    return "\n".join(lines)
