"""Which entries of the site file have a form: each section with the class that declares its keys."""

from collections.abc import Mapping
from dataclasses import dataclass

from ..site.boxes import Cabinet, CabinetFan, CabinetFilter
from ..site.kinds import KINDS
from ..site.model import About, Battery, Run, Site, Zone
from ..site.plates import Entry as PlateEntry
from ..site.plates import Mount, Plate
from ..site.reshape import Step, names_at
from ..site.sky import Array, Goal, Horizon, Obstacle, Weather

NAME = "*"


@dataclass(frozen=True)
class Chapter:
    """A section of the file, or what stands below one. `steps` lead to an entry, "*" stands for its name."""

    steps: tuple[str, ...]
    declares: type

    @property
    def named(self) -> str:
        """ "many" for entries with names, "one" for a section of its own, "inner" for one of each named entry."""
        return "one" if NAME not in self.steps else "many" if self.steps[-1] == NAME else "inner"


CHAPTERS: Mapping[str, Chapter] = {
    "site": Chapter(("site",), About),
    "zones": Chapter(("zones", NAME), Zone),
    "weather": Chapter(("weather",), Weather),
    "arrays": Chapter(("arrays", NAME), Array),
    "horizon": Chapter(("shade", "horizon"), Horizon),
    "obstacles": Chapter(("shade", "obstacles", NAME), Obstacle),
    "season": Chapter(("season",), Goal),
    "cabinet": Chapter(("cabinet", NAME), Cabinet),
    "fan": Chapter(("cabinet", NAME, "fan"), CabinetFan),
    "filter": Chapter(("cabinet", NAME, "filter"), CabinetFilter),
    "plate": Chapter(("plate",), Plate),
    "entries": Chapter(("plate", "entries", NAME), PlateEntry),
    "mounts": Chapter(("plate", "parts", NAME), Mount),
    "battery": Chapter(("battery", NAME), Battery),
}
"""Word in an address -> chapter. Parts and runs are found by their name alone."""


@dataclass(frozen=True)
class Entry:
    """Something that a form changes: the steps to it in the file, its declarations, its kind, chapter and name."""

    steps: tuple[Step, ...]
    declares: type
    kind: str
    of: str = ""
    name: str = ""


def entry_of(site: Site, name: str) -> Entry | None:
    """The entry of a battery, part or run; None for a name that is none."""
    if name in site.batteries:
        return Entry(("battery", name), Battery, "battery", "", name)
    if name in site.parts:
        part = site.parts[name]
        return Entry(("parts", name), type(part), str(getattr(part, "kind", "part")), "", name)
    for run in site.runs:
        if run.name == name:
            return Entry(("runs", site.runs.index(run)), Run, "run", "", name)
    return None


def entry_in(site: Site, of: str, name: str) -> Entry | None:
    """The entry of a chapter, whether it is written yet or not; of "" finds parts and runs. None for none."""
    if not of:
        return entry_of(site, name)
    chapter = CHAPTERS.get(of)
    if chapter is None or (NAME in chapter.steps) != bool(name):
        return None
    steps = tuple(name if step == NAME else step for step in chapter.steps)
    return Entry(steps, chapter.declares, of, of, name)


def new_entry(of: str, kind: str, name: str) -> Entry | None:
    """The entry that is to be added: a part of a kind, or an entry of a chapter; None for what is no kind."""
    if of:
        chapter = CHAPTERS.get(of)
        if chapter is None or chapter.named == "one":
            return None
        steps = tuple(name if step == NAME else step for step in chapter.steps)
        return Entry(steps, chapter.declares, of, of, name)
    if kind == "run":
        return Entry(("runs",), Run, "run", "", "")
    return Entry(("parts", name), KINDS[kind], kind, "", name) if kind in KINDS else None


def contents(site: Site, text: str, which: tuple[str, ...]) -> list[tuple[str, str, tuple[str, ...]]]:
    """Chapter, whether it holds "one" or "many", and the names of what is written in it."""
    found: list[tuple[str, str, tuple[str, ...]]] = []
    for of in which:
        steps = CHAPTERS[of].steps
        if CHAPTERS[of].named == "one":
            written = names_at(text, site.path, steps)
            found.append((of, "one", (of,) if written else ()))
        elif CHAPTERS[of].named == "many":
            found.append((of, "many", names_at(text, site.path, steps[:-1])))
        else:
            homes = names_at(text, site.path, steps[:1])
            there = tuple(name for name in homes if names_at(text, site.path, (steps[0], name, steps[2])))
            if homes:
                found.append((of, "inner", there))
    return found
