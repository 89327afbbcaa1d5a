"""The one bibliography: every figure in the product carries a key of it."""

from dataclasses import dataclass
from functools import cache
from os.path import dirname, join


@dataclass(frozen=True, slots=True)
class SourceText:
    """One publication. `year` is 0 when the edition is not known or does not matter."""

    key: str
    title: str
    year: int
    note: str

    def __str__(self) -> str:
        return f"{self.title} ({self.year})" if self.year else self.title


@cache
def sources() -> dict[str, SourceText]:
    """All publications by key. Read once, when first asked.

    The file is TOML of the plainest kind, `[key]` and `name = value` lines; a test reads it with the full
    reader too.
    """
    entries: dict[str, dict[str, str]] = {}
    entry: dict[str, str] = {}
    with open(join(dirname(__file__), "sources.toml"), encoding="utf-8") as file:
        for line in file:
            if line.startswith("["):
                entry = entries.setdefault(line.strip().strip("[]").strip('"'), {})
            elif " = " in line:
                name, value = line.split(" = ", 1)
                entry[name] = value.strip().strip('"')
    return {
        key: SourceText(key, said["title"], int(said.get("year", 0)), said.get("note", ""))
        for key, said in entries.items()
    }


def source(key: str) -> SourceText:
    """The publication behind a key; an unknown key is a fault of ours, so it raises KeyError."""
    return sources()[key]
