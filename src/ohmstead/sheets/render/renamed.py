"""A site whose batteries, parts and zones are called by kind and number, for sheets that are shared."""

import re
from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from ...site.kinds import Disconnect, Part
from ...site.model import Acceptance, Run, Site
from ...site.pieces import Air, Endpoint
from ..oneline.words import GENERIC
from .nameless import NAMELESS, nameless_text

if TYPE_CHECKING:  # at work only there for a site with a cabinet
    from ...site.boxes import Cabinet

if TYPE_CHECKING:  # at work only loaded for a site with a plate
    from ...site.plates import Plate

BATTERY, ZONE, PART, ENTRY = "battery", "zone", "part", "entry"


def renamed(site: Site) -> Site:
    """The same site with generic names; what the engine reckons with stays as it was."""
    parts = _numbered(
        [(name, BATTERY) for name in site.batteries]
        + [(name, str(getattr(part, "kind", PART))) for name, part in site.parts.items()]
    )
    zones = _numbered([(name, ZONE) for name in site.zones])
    runs = tuple(_run(run, parts, zones) for run in site.runs)
    subjects = parts | {old.name: new.name for old, new in zip(site.runs, runs, strict=True)}
    return replace(
        site,
        about=replace(site.about, name=NAMELESS),
        runs=runs,
        zones={
            zones[name]: replace(
                zone, name=zones[name], inside=zones.get(zone.inside, zone.inside), air=_air(zone.air, zones)
            )
            for name, zone in site.zones.items()
        },
        batteries={
            parts[name]: replace(b, name=parts[name], zone=zones.get(b.zone, b.zone))
            for name, b in site.batteries.items()
        },
        parts={parts[name]: _part(part, parts, zones) for name, part in site.parts.items()},
        accepted=tuple(_acceptance(entry, subjects, site) for entry in site.accepted),
        plate=_plate(site.plate, parts, zones),
        cabinets={zones[name]: _cabinet(box, parts, zones[name]) for name, box in site.cabinets.items()},
    )


def _numbered(named: list[tuple[str, str]]) -> dict[str, str]:
    counts: dict[str, int] = {}
    found = {}
    for name, kind in named:
        counts[kind] = counts.get(kind, 0) + 1
        found[name] = f"{GENERIC.get(kind, kind)} {counts[kind]}"
    return found


def _part(part: Part, parts: Mapping[str, str], zones: Mapping[str, str]) -> Part:
    changed = replace(part, name=parts[part.name], zone=zones.get(part.zone, part.zone))
    if isinstance(changed, Disconnect):
        return replace(changed, senses=parts.get(changed.senses, changed.senses))
    return changed


def _plate(plate: "Plate | None", parts: Mapping[str, str], zones: Mapping[str, str]) -> "Plate | None":
    """Its parts renamed, its entries numbered; places stay."""
    if plate is None:
        return None
    mounts = {parts[name]: replace(mount, name=parts[name]) for name, mount in plate.mounts.items()}
    entries = {}
    for number, entry in enumerate(plate.entries.values(), 1):
        name = f"{ENTRY} {number}"
        entries[name] = replace(entry, name=name, for_=tuple(parts[beyond] for beyond in entry.for_))
    return replace(plate, zone=zones.get(plate.zone, plate.zone), mounts=mounts, entries=entries)


def _run(run: Run, parts: Mapping[str, str], zones: Mapping[str, str]) -> Run:
    start, end = (Endpoint(parts.get(point.part, point.part), point.way) for point in (run.start, run.end))
    return replace(run, start=start, end=end, zone=zones.get(run.zone, run.zone))


def _cabinet(box: "Cabinet", parts: Mapping[str, str], zone: str) -> "Cabinet":
    fan = box.fan
    if fan is not None and fan.part:
        fan = replace(fan, part=parts.get(fan.part, fan.part))
    return replace(box, name=zone, fan=fan)


def _air(air: Air | None, zones: Mapping[str, str]) -> Air | None:
    return replace(air, above=zones.get(air.above, air.above)) if air is not None else None


def _acceptance(entry: Acceptance, subjects: Mapping[str, str], site: Site) -> Acceptance:
    """The reason is the builder's own prose: names in it are changed where they stand whole."""
    because = nameless_text(entry.because, site)
    for old in sorted(subjects, key=len, reverse=True):
        because = re.sub(rf"(?<!\w){re.escape(old)}(?!\w)", lambda _, new=subjects[old]: new, because)  # type: ignore[misc]
    return replace(entry, on=subjects.get(entry.on, entry.on), because=because)
