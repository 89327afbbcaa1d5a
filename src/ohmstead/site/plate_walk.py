"""Goes through section plate and makes drafts of what is in it. Only loaded for a file that has one."""

from .drafts import PLAN, Draft, Reading, section
from .guess import did_you_mean, listed, nearest, quoted
from .naming import check_name
from .nodes import Mapping, Node, is_empty
from .place import Place
from .plates import Entry, Mount, Plate
from .walk import Drafts

_PLATE = "plate: {zone: cabinet, size: 500 x 700 mm, depth: 200 mm}"
_MOUNT = "rack supply: {size: 110 x 90 x 40 mm, in: left, out: right}"
_ENTRY = "lower gland: {at: [60 mm, 700 mm], for: bank}"
_INNER = {"parts": (Mount, _MOUNT, "mounted part"), "entries": (Entry, _ENTRY, "entry")}
_RIGHT_ANGLES = (0.0, 90.0, 180.0, 270.0)


def walk_plate(drafts: Drafts, reading: Reading) -> None:
    """Adds the drafts of section plate, its sense and its references looked at."""
    node = drafts.sections.get("plate")
    if node is None or is_empty(node):
        return
    bare = _without(node, tuple(_INNER))
    draft = reading.draft(Draft(Plate, "plate", "section plate", _head(node), bare), _PLATE)
    drafts.outdoors["plate"] = draft
    entries = node.entries if isinstance(node, Mapping) else {}
    for name, (cls, example, what) in _INNER.items():
        if name not in entries:
            continue
        found = section(reading, entries[name][1], f"plate, {name}", f"{name}:, and below it {example}")
        for label, (key, value) in found.items():
            check_name(label, key, reading)
            inner = reading.draft(Draft(cls, label, f"{what} {quoted(label)}", key.place, value), example)
            drafts.plate[name][label] = inner
    _check_plate(draft, drafts, reading)
    for inner in drafts.plate["parts"].values():
        _check_mount(inner, draft, drafts, reading)
    for inner in drafts.plate["entries"].values():
        _check_entry(inner, draft, drafts, reading)


def check_planned(drafts: Drafts, reading: Reading) -> None:
    """A length is only taken from the plan where both ends of the run stand on the plate."""
    plate = drafts.outdoors.get("plate")
    for run in drafts.runs:
        if "length_m" not in run.origin or run.origin["length_m"].how != PLAN:
            continue
        ends = [end.part for end in (run.value("start"), run.value("end")) if end is not None]
        away = [name for name in ends if name in drafts.names and not _on_plate(name, plate, drafts)]
        if plate is None:
            what, mend = "length: from plan, and there is no plan", f"state the length, or add {_PLATE}"
        elif away:
            what = f"length: from plan, and {quoted(away[0])} does not stand on the plate"
            mend = f"state the length of the whole route, or put {quoted(away[0])} on the plate"
        else:
            continue
        reading.tell(run.place_of("length_m"), what, "a run between two parts on the plate, or a length", mend)


def _on_plate(name: str, plate: Draft | None, drafts: Drafts) -> bool:
    mount = drafts.plate["parts"].get(name)
    if mount is not None:
        return bool(mount.value("stands") != "elsewhere")
    part = drafts.parts.get(name)
    zone = part.value("zone") if part is not None else ""
    return plate is not None and bool(zone and zone == plate.value("zone"))


def _head(node: Node) -> Place:
    if isinstance(node, Mapping) and node.entries:
        return next(iter(node.entries.values()))[0].place
    return node.place


def _without(node: Node, names: tuple[str, ...]) -> Node:
    """The mapping without entries that are read apart."""
    if not isinstance(node, Mapping):
        return node
    kept = Mapping(node.source, node.begin, node.finish)
    kept.entries = {name: entry for name, entry in node.entries.items() if name not in names}
    kept.style = node.style
    return kept


def _check_plate(draft: Draft, drafts: Drafts, reading: Reading) -> None:
    zone = draft.value("zone")
    if zone and zone not in drafts.zones:
        known = list(drafts.zones)
        meant = nearest(zone, known)
        reading.tell(
            draft.place_of("zone"),
            f"there is no zone {quoted(zone)}",
            f"one of: {listed(known)}" if known else "a zone of section zones; there are none",
            f"did you mean '{meant}'?" if meant else f"add it to section zones, such as {zone}: {{air: 2..27 °C}}",
        )
    size, ducts = draft.value("size_mm"), draft.value("ducts_mm")
    if ducts is None:
        for attribute, key in (
            ("rows", "rows"),
            ("across_mm", "across"),
            ("upright_mm", "upright"),
            ("fill_fraction", "fill"),
        ):
            if attribute in draft.nodes and "ducts_mm" not in draft.nodes:
                reading.tell(
                    draft.place_of(attribute),
                    f"the plate has {key} and no ducts",
                    "ducts: width and height of a wiring duct",
                    f"add ducts: 40 x 60 mm, or leave {key} out",
                )
    rows, across = draft.value("rows"), draft.value("across_mm")
    if rows and across and len(across) != rows + 1:
        reading.tell(
            draft.place_of("across_mm"),
            f"across names {len(across)} level ducts for {rows} rows of parts",
            "one level duct more than rows: above, between and below them",
            "leave rows out, or correct the two",
        )
    if size and ducts:
        for attribute, key, most in (("across_mm", "across", size[1]), ("upright_mm", "upright", size[0])):
            far = [value for value in draft.value(attribute) or () if value + ducts[0] > most + 1e-9]
            if far:
                reading.tell(
                    draft.place_of(attribute),
                    f"{key}: a duct at {far[0]:g} mm, {ducts[0]:g} mm wide, ends beyond the plate of {most:g} mm",
                    f"at most {max(0.0, most - ducts[0]):g} mm",
                    "correct it, or the size of the plate",
                )
    has = [attribute in draft.nodes for attribute in ("mains_at_mm", "mains_size_mm")]
    if any(has) and not all(has):
        reading.tell(
            draft.place_of("mains_at_mm" if has[0] else "mains_size_mm"),
            "section plate says only one of mains at and mains size",
            "both, or neither",
            "add mains size: 150 x 700 mm" if has[0] else "add mains at: [350 mm, 0 mm]",
        )


def _check_mount(mount: Draft, plate: Draft, drafts: Drafts, reading: Reading) -> None:
    name = mount.name
    if name not in drafts.names:
        known = list(drafts.names)
        meant = nearest(name, known)
        reading.tell(
            mount.place,
            f"plate, parts: there is no part or battery {quoted(name)}",
            f"one of: {listed(known)}" if known else "a name of section parts or battery",
            f"did you mean '{meant}'?" if meant else f"add {quoted(name)} to section parts",
        )
    turned = mount.value("turned_deg")
    if turned is not None and turned not in _RIGHT_ANGLES:
        reading.tell(
            mount.place_of("turned_deg"),
            f"{mount.label} is turned by {turned:g}°",
            "0°, 90°, 180° or 270°, clockwise",
            "write the nearest of them",
        )
    size, plate_size = mount.value("size_mm"), plate.value("size_mm")
    for hole in mount.value("holes_mm") or ():
        if size and (abs(hole[0]) > size[0] or abs(hole[1]) > size[1]):
            reading.tell(
                mount.place_of("holes_mm"),
                f"{mount.label} is {size[0]:g} x {size[1]:g} mm and has a hole beyond its outline",
                "holes within the outline; the size is that of the outline with its feet",
                "correct holes, or make size as large as the feet reach",
            )
            break
    at = mount.value("at_mm")
    if at and plate_size and (at[0] >= plate_size[0] or at[1] >= plate_size[1]):
        reading.tell(
            mount.place_of("at_mm"),
            f"{mount.label} begins at {at[0]:g} mm right, {at[1]:g} mm down, which is beyond the plate",
            f"a corner on the plate of {plate_size[0]:g} x {plate_size[1]:g} mm",
            "measure from the upper left corner of the plate",
        )
    if mount.value("stands") == "elsewhere" and "at_mm" in mount.nodes:
        reading.tell(
            mount.place_of("at_mm"),
            f"{mount.label} stands elsewhere and has a place on the plate",
            "one of the two",
            "leave at out, and say with an entry where its wires go; or leave stands out",
        )


def _check_entry(entry: Draft, plate: Draft, drafts: Drafts, reading: Reading) -> None:
    at, size = entry.value("at_mm"), plate.value("size_mm")
    if at and size and (at[0] > size[0] or at[1] > size[1]):
        reading.tell(
            entry.place_of("at_mm"),
            f"{entry.label} is at {at[0]:g} mm right, {at[1]:g} mm down, which is beyond the plate",
            f"a spot on the plate of {size[0]:g} x {size[1]:g} mm, or on its edge",
            "measure from the upper left corner of the plate",
        )
    for name in entry.value("for_") or ():
        if name not in drafts.names:
            meant = nearest(name, list(drafts.names))
            reading.tell(
                entry.place_of("for_"),
                f"for: there is no part or battery {quoted(name)}",
                f"one of: {listed(list(drafts.names))}",
                did_you_mean(name, list(drafts.names), f"add {quoted(name)} to section parts")
                if meant
                else f"add {quoted(name)} to section parts",
            )
