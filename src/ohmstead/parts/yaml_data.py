"""Reads the part files, each once and only when a part of it is asked for."""

from functools import cache
from os import listdir
from os.path import dirname, join
from typing import Any

import yaml

HERE = dirname(__file__)
_LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


@cache
def part_file(folder: str, name: str) -> dict[str, Any]:
    """One part file, read once. Do not change what you are given: it is shared."""
    with open(join(HERE, folder, name + ".yaml"), encoding="utf-8") as file:
        found: dict[str, Any] = yaml.load(file, _LOADER)
    return found


@cache
def part_names(folder: str) -> tuple[str, ...]:
    """All part files of a folder, sorted."""
    return tuple(sorted(file[:-5] for file in listdir(join(HERE, folder)) if file.endswith(".yaml")))


@cache
def part_words(folder: str) -> dict[str, tuple[str, ...]]:
    """The `words` line of every file of a folder, without reading the rest."""
    found: dict[str, tuple[str, ...]] = {}
    for name in part_names(folder):
        with open(join(HERE, folder, name + ".yaml"), encoding="utf-8") as file:
            line = next(line for line in file if line.startswith("words:"))
        found[name] = tuple(word.strip() for word in line.split("[", 1)[1].rsplit("]", 1)[0].split(","))
    return found
