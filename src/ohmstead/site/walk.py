"""Goes through the sections of the file and makes drafts of everything in it."""

from .drafts import Draft, Reading, section
from .guess import did_you_mean, listed, nearest, quoted
from .kinds import KINDS, Part
from .model import About, Acceptance, Battery, Run, Zone
from .naming import check_name
from .nodes import Mapping, Node, Scalar, Sequence, Source, Spot, broken, is_empty, items_of, text_of
from .place import Place
from .plans import plan
from .problems import Refusal
from .sections import INDOORS, OUTDOORS, sections_of
from .sense import check_sense

_SITE = "site: {name: Skerry hide}"
_ZONE = "loft: {air: -4..41 °C}"
_BATTERY = "bank: {chemistry: LFP, cells: 8, capacity: 230 Ah}"
_PART = "lamps: {kind: device, draws: 18 W}"
_RUN = "- {from: bank, to: fuse block, length: 1.6 m, wire: 16 mm2}"
_ACCEPTED = "- {finding: drop-on-path, on: lamps, because: dim is fine here}"


class Drafts:
    """Everything in the file, as drafts. `names` are all parts and batteries, readable or not."""

    def __init__(self, about: Draft) -> None:
        self.about = about
        self.zones: dict[str, Draft] = {}
        self.batteries: dict[str, Draft] = {}
        self.parts: dict[str, Draft] = {}
        self.runs: list[Draft] = []
        self.accepted: list[Draft] = []
        self.names: dict[str, Scalar] = {}
        self.sections: dict[str, Node] = {}  # sections for which more is loaded, not gone through yet
        self.arrays: dict[str, Draft] = {}
        self.obstacles: dict[str, Draft] = {}
        self.outdoors: dict[str, Draft] = {}  # "weather", "horizon", "season", "plate", as far as written
        self.cabinets: dict[str, Draft] = {}
        self.plate: dict[str, dict[str, Draft]] = {"parts": {}, "entries": {}}


def walk(root: Node | None, reading: Reading) -> Drafts:
    """Drafts of the whole file."""
    found = sections_of(root, reading)
    drafts = Drafts(_about(found.get("site"), reading))
    for name, (key, node) in section(reading, found.get("zones"), "zones", f"zones:, and below it {_ZONE}").items():
        check_name(name, key, reading)
        drafts.zones[name] = _filled(reading, Draft(Zone, name, f"zone {quoted(name)}", key.place, node), _ZONE)
    _batteries(found.get("battery"), drafts, reading)
    for name, (key, node) in section(reading, found.get("parts"), "parts", f"parts:, and below it {_PART}").items():
        _named(name, key, drafts, reading)
        part = _part(name, key, node, reading)
        if part is not None:
            drafts.parts[name] = part
    drafts.runs = _rows(found.get("runs"), "runs", Run, _RUN, reading)
    drafts.accepted = _rows(found.get("accepted"), "accepted", Acceptance, _ACCEPTED, reading)
    drafts.sections = {name: node for name, node in found.items() if name in (*OUTDOORS, *INDOORS)}
    return drafts


def _filled(reading: Reading, draft: Draft, example: str, apart: tuple[str, ...] = ()) -> Draft:
    reading.draft(draft, example, apart)
    check_sense(draft, reading)
    return draft


def _about(node: Node | None, reading: Reading) -> Draft:
    written = node is not None and not is_empty(node)
    if node is None or not written:
        node = Mapping(Source(reading.file, 0), Spot(0, 0, 0), Spot(0, 0, 0))
        node.entries, node.style = {}, "block"
    return reading.draft(Draft(About, "site", "section site", node.place, node), _SITE)


def _batteries(node: Node | None, drafts: Drafts, reading: Reading) -> None:
    entries = section(reading, node, "battery", f"battery:, and below it {_BATTERY}")
    bare = [name for name, (_, value) in entries.items() if name in plan(Battery) and not isinstance(value, Mapping)]
    if bare and node is not None:
        key = entries[bare[0]][0]
        reading.tell(
            key.place,
            f"section battery says {quoted(bare[0])} without the name of a battery",
            "a name for each battery, and its values below the name",
            f"write battery:, and below it {_BATTERY}",
        )
        return
    for name, (key, value) in entries.items():
        _named(name, key, drafts, reading)
        draft = Draft(Battery, name, f"battery {quoted(name)}", key.place, value)
        drafts.batteries[name] = _filled(reading, draft, _BATTERY)


def _named(name: str, key: Scalar, drafts: Drafts, reading: Reading) -> None:
    """Parts and batteries share one set of names."""
    first = drafts.names.get(name)
    if first is not None:
        reading.tell(
            key.place,
            f"{quoted(name)} is the name of a battery and of a part (first in line {first.line})",
            "one name for one thing",
            "rename one of the two",
        )
    else:
        drafts.names[name] = key
    check_name(name, key, reading)


def _part(name: str, key: Scalar, node: Node, reading: Reading) -> Draft | None:
    """A part of the kind it says; None when that cannot be told."""
    if not isinstance(node, Mapping):
        reading.draft(Draft(Part, name, f"part {quoted(name)}", key.place, node), _PART)  # tells why
        return None
    found = node.entries.get("kind")
    if found is None:
        meant = nearest("kind", node.entries)
        reading.tell(
            node.entries[meant][0].place if meant else key.place,
            f"part {quoted(name)} does not say its kind",
            f"kind: one of {listed(KINDS)}",
            f"did you mean 'kind' where '{meant}' stands?" if meant else "add kind: device, or what it is",
        )
        return None
    try:
        kind = text_of(found[1], "kind", f"one of: {listed(KINDS)}", "device")
    except Refusal as refusal:
        reading.add(*refusal.problems)
        return None
    if kind not in KINDS:
        reading.tell(
            found[1].place,
            f"there is no kind {quoted(kind)}",
            f"one of: {listed(KINDS)}",
            did_you_mean(kind, KINDS, "write kind: device for anything that is fed"),
        )
        return None
    return _filled(reading, Draft(KINDS[kind], name, f"{kind} {quoted(name)}", key.place, node), _PART, ("kind",))


def _rows(node: Node | None, name: str, cls: type, example: str, reading: Reading) -> list[Draft]:
    """The drafts of a section that is a list."""
    if node is None or is_empty(node):
        return []
    try:
        items = items_of(node, f"section {name}", f"{name}:, and below it lines such as {example}")
    except Refusal as refusal:
        reading.add(*refusal.problems)
        return []
    what = "run" if cls is Run else "accepted finding"
    return [
        _filled(reading, Draft(cls, str(number), f"{what} {number}", _head(item), item), example)
        for number, item in enumerate(items, 1)
    ]


def _head(node: Node) -> Place:
    """The first entry of a row: pointing at a whole row in braces would underline everything."""
    if isinstance(node, Mapping) and node.entries:
        key, value = next(iter(node.entries.values()))
        is_short = value.line == key.line and not isinstance(value, Mapping | Sequence)
        return broken(key, value if is_short else key).place
    return node.place
