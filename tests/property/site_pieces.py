"""A site file in pieces, so that tests can move, change and leave out pieces, and the file that they make."""

import copy
import json
import re
from dataclasses import dataclass, field
from random import Random
from typing import Any

from property.any_value import Entry

BARE = re.compile(r"[A-Za-z0-9][A-Za-z0-9 ./±%°µΩ+-]*")


@dataclass
class Made:
    """A site file in pieces, so that tests can move, change and leave out pieces."""

    seed: int
    site: Entry = field(default_factory=dict)
    zones: dict[str, Entry] = field(default_factory=dict)
    battery: dict[str, Entry] = field(default_factory=dict)
    parts: dict[str, Entry] = field(default_factory=dict)
    runs: list[Entry] = field(default_factory=list)
    accepted: list[Entry] = field(default_factory=list)

    def copy(self) -> "Made":
        return copy.deepcopy(self)

    def text(self) -> str:
        """The file: one line a thing."""
        lines = ["ohmstead: 1"]
        for name in ("site", "zones", "battery", "parts"):
            things = getattr(self, name)
            if things:
                lines += ["", f"{name}:", *(f"  {word(key)}: {flow(value)}" for key, value in things.items())]
        for name in ("runs", "accepted"):
            things = getattr(self, name)
            if things:
                lines += ["", f"{name}:", *(f"  - {flow(value)}" for value in things)]
        return "\n".join(lines) + "\n"


def word(text: str) -> str:
    return text if BARE.fullmatch(text) and not text.endswith(" ") else json.dumps(text, ensure_ascii=False)


def flow(value: Any) -> str:
    if isinstance(value, dict):
        return "{" + ", ".join(f"{word(key)}: {flow(entry)}" for key, entry in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(flow, value)) + "]"
    return word(value)


def shuffled(made: Made) -> Made:
    """The same site with zones, parts and runs in another order."""
    dice, other = Random(made.seed + 1), made.copy()
    for name in ("zones", "parts"):
        entries = list(getattr(other, name).items())
        dice.shuffle(entries)
        setattr(other, name, dict(entries))
    dice.shuffle(other.runs)
    return other


def thickened(made: Made) -> Made:
    """The same site with twice the copper in every wire that states its metric size, most 400 mm²."""
    other = made.copy()
    for run in other.runs:
        found = re.match(r"([\d.]+) mm2(.*)", run.get("wire", ""))
        if found:
            run["wire"] = f"{min(400.0, 2 * float(found[1])):g} mm2{found[2]}"
    return other


def switched_off(made: Made) -> Made:
    """The same site with no device drawing anything."""
    other = made.copy()
    for part in other.parts.values():
        if part["kind"] == "device":
            part["draws"], part["duty"] = {"off": "0 W", "never": "1 W"}, {"off": "always"}
    return other
