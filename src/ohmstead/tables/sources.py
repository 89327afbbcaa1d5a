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
    """All publications by key. Read once, when first asked."""
    import tomllib

    with open(join(dirname(__file__), "sources.toml"), "rb") as file:
        entries = tomllib.load(file)
    return {
        key: SourceText(key, entry["title"], entry.get("year", 0), entry.get("note", ""))
        for key, entry in entries.items()
    }


def source(key: str) -> SourceText:
    """The publication behind a key; an unknown key is a fault of ours, so it raises KeyError."""
    return sources()[key]
