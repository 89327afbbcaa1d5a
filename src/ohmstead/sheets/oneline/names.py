"""What parts and runs are called on the drawing, and the ids of their groups."""

from collections.abc import Iterable
from typing import TypeVar

from ...site.model import Run, Site
from . import words

Key = TypeVar("Key")


class Names:
    """Names as the builder gave them, or a kind and a number when the drawing is to be shared."""

    def __init__(self, site: Site, sharing: str) -> None:
        everything = [(name, "battery") for name in site.batteries]
        everything += [(name, str(getattr(part, "kind", "part"))) for name, part in site.parts.items()]
        self.shown = {name: name for name, _ in everything}
        if sharing == "anonymous":
            self.shown = _numbered(everything)
        self._part_ids = _ids("part", ((name, self.shown[name]) for name, _ in everything))
        self._runs = {run.name: self.run(run) for run in site.runs}
        self._run_ids = _ids("run", ((run.number, self.run(run).replace("->", "to")) for run in site.runs))

    def part(self, name: str) -> str:
        """What a part is called."""
        return self.shown.get(name, name)

    def run(self, run: Run) -> str:
        """What a run is called."""
        ends = (
            f"{self.part(e.part)} / {e.way}" if e.way is not None else self.part(e.part) for e in (run.start, run.end)
        )
        lone = "" if run.wires == "both" else f" ({run.wires})"
        return " -> ".join(ends) + lone

    def subject(self, text: str) -> str:
        """What a finding's subject is called; words.NOT_DRAWN when it is neither a part nor a run."""
        return self.shown.get(text) or self._runs.get(text) or words.NOT_DRAWN

    def part_id(self, name: str) -> str:
        """The id of a part's group."""
        return self._part_ids.get(name, "part")

    def run_id(self, run: Run) -> str:
        """The id of a run's group."""
        return self._run_ids[run.number]


def _numbered(everything: list[tuple[str, str]]) -> dict[str, str]:
    counts: dict[str, int] = {}
    shown = {}
    for name, kind in everything:
        counts[kind] = counts.get(kind, 0) + 1
        shown[name] = f"{words.GENERIC.get(kind, kind)} {counts[kind]}"
    return shown


def slug(text: str) -> str:
    """A text as an id: small letters, digits and hyphens; letters of any script stay.

    >>> slug("Cabinet block / 1 to net supply")
    'cabinet-block-1-to-net-supply'
    """
    kept = "".join(sign if sign.isalnum() else " " for sign in text.lower())
    return "-".join(kept.split()) or "x"


def _ids(prefix: str, named: Iterable[tuple[Key, str]]) -> dict[Key, str]:
    """Ids in file order; a second one of the same letters gets a number."""
    taken: dict[str, int] = {}
    found = {}
    for key, text in named:
        wanted = f"{prefix}-{slug(text)}"
        taken[wanted] = taken.get(wanted, 0) + 1
        found[key] = wanted if taken[wanted] == 1 else f"{wanted}--{taken[wanted]}"
    return found
