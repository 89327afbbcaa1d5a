"""Reads a site file into a Site, or raises SiteError with everything that is wrong in it."""

from os import PathLike, fspath

from .compose import compose
from .drafts import PLAN, Draft, Reading
from .joined import named_runs, power_over_four_pairs
from .model import Site
from .problems import Problem, SiteError
from .references import check_heights, check_references
from .sections import OUTDOORS
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
    if "cabinet" in drafts.sections:
        from .box_walk import walk_cabinets

        walk_cabinets(drafts, reading)
    check_heights(drafts, reading)
    if "plate" in drafts.sections:
        from .plate_walk import walk_plate

        walk_plate(drafts, reading)
    if any(name in drafts.sections for name in OUTDOORS) or any(
        "arrays" in part.nodes for part in drafts.parts.values()
    ):
        from .outdoors import walk_outdoors

        walk_outdoors(drafts, reading)
    if any(run.origin["length_m"].how == PLAN for run in drafts.runs if "length_m" in run.origin):
        from .plate_walk import check_planned

        check_planned(drafts, reading)
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

    def plate() -> object:
        draft, inner = drafts.outdoors.get("plate"), drafts.plate
        return draft and draft.built({"mounts": named(inner["parts"]), "entries": named(inner["entries"])})

    def cabinets() -> dict[str, object]:
        if not drafts.cabinets:
            return {}
        from .box_walk import built_cabinet

        return {name: built_cabinet(draft) for name, draft in drafts.cabinets.items()}

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
        plate=plate(),  # type: ignore[arg-type]
        cabinets=cabinets(),  # type: ignore[arg-type]
    )
