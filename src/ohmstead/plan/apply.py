"""Writes the places of a plan into the text of its site file; every other character stays."""

from collections.abc import Iterable
from difflib import unified_diff

from ..site.model import Site
from ..site.reshape import with_value
from .body import Stand
from .plan import Plan

PLATE, PARTS = "plate", "parts"


def written(site: Site, plan: Plan) -> str:
    """The text with places for parts and edges for ducts where the file states none. Raises EditRefused."""
    plate, text = site.plate, site.text
    if plate is None:
        return text
    if plan.ducts and not plate.across_mm:
        text = with_value(text, site.path, (PLATE, "across"), _row(plan.layout.across))
    if plan.ducts and not plate.upright_mm:
        text = with_value(text, site.path, (PLATE, "upright"), _row(plan.layout.upright))
    if plan.ducts and plate.rows is not None:
        text = with_value(text, site.path, (PLATE, "rows"), str(len(plan.layout.across) - 1))
    free = [stand for stand in plan.stands if stand.body.fixed is None]
    if free and not plate.mounts:
        rows = ",\n          ".join(f"{stand.name}: {{{_place(stand)}}}" for stand in free)
        return with_value(text, site.path, (PLATE, PARTS), f"{{{rows}}}")
    for stand in free:
        if stand.name not in plate.mounts:
            text = with_value(text, site.path, (PLATE, PARTS, stand.name), f"{{{_place(stand)}}}")
            continue
        text = with_value(text, site.path, (PLATE, PARTS, stand.name, "at"), _spot(stand))
        if stand.turns and plate.mounts[stand.name].turned_deg is None:
            text = with_value(text, site.path, (PLATE, PARTS, stand.name, "turned"), f"{90 * stand.turns}°")
    return text


def difference(before: str, after: str, name: str) -> str:
    """What changes, line by line; empty when nothing does."""
    lines = unified_diff(before.splitlines(), after.splitlines(), name, f"{name} (placed)", lineterm="", n=1)
    return "\n".join(lines)


def _place(stand: Stand) -> str:
    turned = f", turned: {90 * stand.turns}°" if stand.turns else ""
    return f"at: {_spot(stand)}{turned}"


def _spot(stand: Stand) -> str:
    return f"[{stand.corner[0]:g} mm, {stand.corner[1]:g} mm]"


def _row(edges: Iterable[float]) -> str:
    return "[" + ", ".join(f"{edge:g} mm" for edge in edges) + "]"
