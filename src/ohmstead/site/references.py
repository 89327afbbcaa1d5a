"""Checks across the file: names that are used exist, ways are used once, zones do not circle."""

from collections.abc import Iterator, Mapping

from .drafts import Draft, Reading
from .guess import listed, nearest, quoted
from .joined import named_runs
from .kinds import Converter, Disconnect, Distribution, EthernetSource, Switch
from .model import Zone
from .pieces import Endpoint
from .place import Place
from .walk import Drafts

_DEEPEST = 20
_WAYS: dict[type, str] = {Distribution: "ways", EthernetSource: "ports"}
_TWO_SIDED = (Switch, Disconnect, Converter, EthernetSource)


def check_references(drafts: Drafts, reading: Reading) -> None:
    """Tells of every name that leads nowhere."""
    for draft in _all(drafts):
        zone = draft.value("inside" if draft.cls is Zone else "zone")
        if zone and zone not in drafts.zones:
            attribute = "inside" if draft.cls is Zone else "zone"
            _no_zone(zone, draft.place_of(attribute), drafts, reading)
    for zone_draft in drafts.zones.values():
        air = zone_draft.value("air")
        if air is not None and air.above and air.above not in drafts.zones:
            _no_zone(air.above, zone_draft.place_of("air"), drafts, reading)
    _check_circles(drafts, reading)
    for part in drafts.parts.values():
        senses = part.value("senses")
        if senses and senses not in drafts.names:
            _no_part(senses, "senses", part.place_of("senses"), drafts, reading)
    _check_sides(drafts, reading)
    _check_runs(drafts, reading)
    _check_accepted(drafts, reading)


def check_heights(drafts: Drafts, reading: Reading) -> None:
    """`at` is for what stands in a cabinet, and not above its roof; air from heat needs a cabinet."""
    for draft in (*drafts.parts.values(), *drafts.batteries.values()):
        at = draft.value("at")
        if at is None:
            continue
        cabinet = drafts.cabinets.get(draft.value("zone") or "")
        if cabinet is None:
            reading.tell(
                draft.place_of("at"),
                f"{draft.label} says at, and stands in no cabinet",
                "at for what is inside a box of section cabinet",
                "leave at out, or add its zone to section cabinet, such as "
                f"{draft.value('zone') or 'cabinet'}: {{size: 500 x 600 x 300 mm}}",
            )
            continue
        size = cabinet.value("size_mm")
        if size and at.height_m is not None and at.height_m * 1000 > size[1]:
            reading.tell(
                draft.place_of("at"),
                f"{draft.label} is at {at.height_m * 1000:g} mm, and the box is {size[1]:g} mm high",
                "a height above the floor of the box",
                "measure from the floor of the box, or correct size: width x height x depth",
            )
    misspelt = {nearest(name, drafts.zones) for name in drafts.cabinets if name not in drafts.zones}
    for name, zone in drafts.zones.items():
        air = zone.value("air")
        if air is not None and air.made == "heat" and name not in drafts.cabinets and name not in misspelt:
            reading.tell(
                zone.place_of("air"),
                f"zone {quoted(name)} has its air from heat, and no cabinet is described",
                f"a box in section cabinet for {quoted(name)}",
                f"add cabinet: {{{name}: {{size: 500 x 600 x 300 mm}}}}, or state the air, such as air: -8..24 °C",
            )


def _all(drafts: Drafts) -> Iterator[Draft]:
    yield from drafts.zones.values()
    yield from drafts.batteries.values()
    yield from drafts.parts.values()
    yield from drafts.arrays.values()
    yield from drafts.runs


def _no_zone(name: str, place: Place, drafts: Drafts, reading: Reading) -> None:
    known = list(drafts.zones)
    meant = nearest(name, known)
    mend = f"did you mean '{meant}'?" if meant else f"add it to section zones, such as {name}: {{air: 2..27 °C}}"
    reading.tell(
        place,
        f"there is no zone {quoted(name)}",
        f"one of: {listed(known)}" if known else "a zone of section zones; there are none",
        mend,
    )


def _no_part(name: str, key: str, place: Place, drafts: Drafts, reading: Reading) -> None:
    known = list(drafts.names)
    part, slash, way = name.rpartition("/")
    if slash and part.strip() in drafts.names and way.strip().isdigit():
        mend = f"put spaces around the stroke: {part.strip()} / {way.strip()}"
    elif name in drafts.arrays:
        mend = "leave this run out, and state cable and cable length at the array"
    else:
        meant = nearest(name, known)
        mend = f"did you mean '{meant}'?" if meant else f"add {quoted(name)} to section parts"
    reading.tell(
        place,
        f"{key}: there is no part or battery {quoted(name)}",
        f"one of: {listed(known)}" if known else "a name of section parts or battery",
        mend,
    )


def _check_circles(drafts: Drafts, reading: Reading) -> None:
    """No zone lies inside itself, and no air is stated by way of itself."""
    inside = {name: draft.value("inside") or "" for name, draft in drafts.zones.items()}
    above = {name: _air_from(draft, inside[name]) for name, draft in drafts.zones.items()}
    _check_chains(inside, "inside", "lies inside itself", drafts, reading)
    _check_chains(above, "air", "has its air from itself", drafts, reading)


def _air_from(draft: Draft, inside: str) -> str:
    """The zone from whose air that of a zone follows; empty when it is stated."""
    air = draft.value("air")
    if air is None:
        return ""
    return inside if air.made == "heat" else str(air.above)


def _check_chains(links: Mapping[str, str], attribute: str, what: str, drafts: Drafts, reading: Reading) -> None:
    told: set[str] = set()
    for start in links:
        path = [start]
        while (name := links[path[-1]]) in links and name not in path and len(path) <= _DEEPEST:
            path.append(name)
        if name not in links or name in told:
            continue
        place = drafts.zones[name].place_of(attribute)
        if name not in path:
            reading.tell(
                drafts.zones[start].place_of(attribute),
                f"zone {quoted(start)} is the end of more than {_DEEPEST} zones",
                f"at most {_DEEPEST} zones, one from another",
                "state the coldest and hottest air of this zone itself",
            )
            return
        circle = path[path.index(name) :]
        reading.tell(
            place,
            f"zone {quoted(name)} {what}: " + " -> ".join([*circle, name]),
            "zones that end at one with air of its own",
            "change one of these zones",
        )
        told.update(circle)


def _check_runs(drafts: Drafts, reading: Reading) -> None:
    taken: dict[Endpoint, int] = {}
    for number, run in enumerate(drafts.runs, 1):
        start, end = run.value("start"), run.value("end")
        for key, attribute, endpoint in (("from", "start", start), ("to", "end", end)):
            if endpoint is not None:
                _check_endpoint(key, endpoint, run.place_of(attribute), drafts, reading)
        if start is None:
            continue
        if end is not None and end.part == start.part:
            reading.tell(
                run.place_of("end"),
                f"this run begins and ends at {quoted(start.part)}",
                "a run between two parts",
                "name the other part, or leave the run out",
            )
        if start.way is not None and run.value("wires") != "negative":  # a lone return goes beside its positive
            if start in taken:
                first = drafts.runs[taken[start] - 1].place_of("start")
                reading.tell(
                    run.place_of("start"),
                    f"way {start.way} of {quoted(start.part)} feeds two runs, the first in line {first.line}",
                    "one run from each way",
                    "take a free way, or join the two behind a busbar",
                )
            else:
                taken[start] = number


def _check_sides(drafts: Drafts, reading: Reading) -> None:
    """No part is called as the input or output of another is."""
    for name, key in drafts.names.items():
        part, space, side = name.rpartition(" ")
        other = drafts.parts.get(part) if space and side in ("in", "out") else None
        if other is not None and other.cls in _TWO_SIDED:
            what = "input" if side == "in" else "output"
            reading.tell(
                key.place,
                f"{quoted(name)} is what the {what} of {other.label} is called",
                "another name",
                f"rename it, such as {part} {'feed' if side == 'in' else 'load'}",
            )


def _check_endpoint(key: str, endpoint: Endpoint, place: Place, drafts: Drafts, reading: Reading) -> None:
    if endpoint.part not in drafts.names:
        _no_part(endpoint.part, key, place, drafts, reading)
        return
    if endpoint.way is None:
        return
    part = drafts.parts.get(endpoint.part)
    if part is None:
        if endpoint.part in drafts.batteries:
            reading.tell(
                place,
                f"{key}: battery {quoted(endpoint.part)} has no ways",
                "the name of the battery alone",
                f"write {key}: {endpoint.part}",
            )
        return
    attribute = _WAYS.get(part.cls)
    if attribute is None:
        reading.tell(
            place,
            f"{key}: {part.label} has no ways",
            "the name of the part alone; only distribution and ethernet power source have ways",
            f"write {key}: {endpoint.part}",
        )
        return
    count = part.value(attribute)
    if count is not None and endpoint.way > count:
        reading.tell(
            place,
            f"{key}: {quoted(endpoint.part)} has {count} {attribute}, not {endpoint.way}",
            f"a number from 1 to {count}",
            f"take a free one, or correct {attribute}: {count} of the part",
        )


def _check_accepted(drafts: Drafts, reading: Reading) -> None:
    known: dict[str, None] | None = None
    for draft in drafts.accepted:
        name = draft.value("on")
        if not name or name == "site" or name in drafts.names or name in drafts.zones or name in drafts.arrays:
            continue
        if known is None:
            names = [name for _, _, name in named_runs(drafts.runs)]
            known, is_whole = dict.fromkeys(names), len(names) == len(drafts.runs)
        if name in known or not is_whole:
            continue
        meant = nearest(name, [*drafts.names, *drafts.arrays, *known])
        reading.tell(
            draft.place_of("on"),
            f"there is nothing called {quoted(name)}",
            "a part, a battery, a zone, a run such as 'bank -> fuse block', or site",
            f"did you mean '{meant}'?" if meant else "leave it out to accept the finding everywhere",
        )
