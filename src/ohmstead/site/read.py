"""Reads a site file into a Site, or raises SiteError with everything that is wrong in it."""

from os import PathLike, fspath

from .compose import compose
from .drafts import Draft, Reading
from .joined import named_runs, power_over_four_pairs
from .model import Site
from .problems import Problem, SiteError
from .references import check_references
from .source import load
from .walk import Drafts, walk

__all__ = ["Problem", "SiteError", "read_site", "read_text"]


def read_site(path: str | PathLike[str]) -> Site:
    """The site that a file describes. Raises SiteError."""
    return read_text(load(path), fspath(path))


def read_text(text: str, name: str = "site.yaml") -> Site:
    """The site that a text describes; `name` is what messages call it. Raises SiteError.

    >>> site = read_text("ohmstead: 1\\nsite: {name: Skerry hide}")
    >>> site.about.name, site.about.origin["name"].place.line, site.about.origin["rules"].how
    ('Skerry hide', 2, 'assumed')
    """
    root, problems = compose(text, name)
    reading = Reading(name, text, problems)
    drafts = walk(root, reading)
    if drafts.sections or any("arrays" in part.nodes for part in drafts.parts.values()):
        from .outdoors import walk_outdoors

        walk_outdoors(drafts, reading)
    check_references(drafts, reading)
    reading.end()
    return _site(drafts, name, text)


def _site(drafts: Drafts, name: str, text: str) -> Site:
    power_over_four_pairs(drafts)

    def named(found: dict[str, Draft]) -> dict[str, object]:
        return {key: draft.built({"name": key}) for key, draft in found.items()}

    def outdoors(section: str) -> object:
        draft = drafts.outdoors.get(section)
        return None if draft is None else draft.built({})

    return Site(
        path=name,
        text=text,
        about=drafts.about.built({}),
        zones=named(drafts.zones),  # type: ignore[arg-type]
        batteries=named(drafts.batteries),  # type: ignore[arg-type]
        parts=named(drafts.parts),  # type: ignore[arg-type]
        runs=tuple(
            draft.built({"number": number, "twin": twin})
            for number, (draft, twin, _) in enumerate(named_runs(drafts.runs), 1)
        ),
        accepted=tuple(draft.built({}) for draft in drafts.accepted),
        weather=outdoors("weather"),  # type: ignore[arg-type]
        arrays=named(drafts.arrays),  # type: ignore[arg-type]
        horizon=outdoors("horizon"),  # type: ignore[arg-type]
        obstacles=named(drafts.obstacles),  # type: ignore[arg-type]
        goal=outdoors("season"),  # type: ignore[arg-type]
    )
