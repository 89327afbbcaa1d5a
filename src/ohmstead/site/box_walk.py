"""Goes through section cabinet and makes drafts of what is in it. Only loaded for a file that has one."""

from .boxes import Cabinet, CabinetFan, CabinetFilter
from .drafts import Draft, Reading, section
from .guess import listed, nearest, quoted
from .nodes import Mapping, Node
from .plans import plan
from .walk import Drafts

_CABINET = "cabinet: {size: 500 x 600 x 300 mm, mounted: wall}"
_FAN = "{free flow: 50 m3/h, pressure: 30 Pa, power: 2.5 W}"
_FILTER = "{class: G3, area: 90 cm2}"
_INNER: dict[str, tuple[type, str, str]] = {
    "fan": (CabinetFan, "the fan", _FAN),
    "filter": (CabinetFilter, "the filter", _FILTER),
}


def walk_cabinets(drafts: Drafts, reading: Reading) -> None:
    """Adds a draft for each cabinet, with its fan and filter as drafts of their own."""
    entries = section(reading, drafts.sections.get("cabinet"), "cabinet", f"cabinet:, and below it {_CABINET}")
    bare = [key for key, (_, value) in entries.items() if key in plan(Cabinet) and not isinstance(value, Mapping)]
    if bare:
        reading.tell(
            entries[bare[0]][0].place,
            f"section cabinet says {quoted(bare[0])} without the zone whose air it is",
            "a zone for each cabinet, and its values below the name of the zone",
            f"write cabinet:, and below it {_CABINET}",
        )
        return
    for name, (key, node) in entries.items():
        draft = reading.draft(Draft(Cabinet, name, f"cabinet {quoted(name)}", key.place, node), _CABINET)
        drafts.cabinets[name] = draft
        for attribute, (cls, what, example) in _INNER.items():
            found = draft.value(attribute)
            if isinstance(found, Node):
                inner = Draft(cls, attribute, f"{what} of cabinet {quoted(name)}", found.place, found)
                draft.values[attribute] = reading.draft(inner, example)
    _check_zones(drafts, reading)
    from .box_sense import check_box_sense

    for draft in drafts.cabinets.values():
        check_box_sense(draft, drafts, reading)


def built_cabinet(draft: Draft) -> object:
    """The finished cabinet, its fan and filter built too."""
    for attribute in _INNER:
        inner = draft.value(attribute)
        if isinstance(inner, Draft):
            draft.values[attribute] = inner.built({})
    return draft.built({"name": draft.name})


def _check_zones(drafts: Drafts, reading: Reading) -> None:
    """Each cabinet makes the air of a zone that leaves it to it, and stands in another."""
    for name, draft in drafts.cabinets.items():
        zone = drafts.zones.get(name)
        if zone is None:
            known = list(drafts.zones)
            meant = nearest(name, known)
            reading.tell(
                draft.place,
                f"section cabinet: there is no zone {quoted(name)}",
                f"one of: {listed(known)}" if known else "a zone of section zones; there are none",
                f"did you mean '{meant}'?"
                if meant
                else f"add it to section zones, such as {name}: {{inside: hide, air: from heat}}",
            )
            continue
        air = zone.value("air")
        if air is not None and air.made != "heat":
            reading.tell(
                zone.place_of("air"),
                f"zone {quoted(name)} states its air, and section cabinet works it out",
                "one of the two",
                "write air: from heat; a measured rise goes to the cabinet, such as measured rise: 8 K at 60 W",
            )
        if not zone.value("inside") and "inside" not in zone.nodes:
            reading.tell(
                zone.place,
                f"zone {quoted(name)} does not say in which zone the cabinet stands",
                "inside: the zone whose air is around the box",
                f"add inside: {next((z for z in drafts.zones if z != name), 'hide')}",
            )
