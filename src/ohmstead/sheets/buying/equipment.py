"""Batteries, chargers, switches, blocks, converters: what the file calls parts, described without makes."""

from collections import defaultdict
from collections.abc import Iterator

from ...parts.cell import chemistry
from ...quantity.show import show, show_span
from ...site.kinds import Busbar, Charger, Converter, Disconnect, Distribution, EthernetSource, Part, Switch
from ...site.model import Battery, Site
from ..cutting.pieces import OPEN
from .item import Item

GROUP = "equipment"
ORDER = (
    "battery",
    "charger",
    "switch",
    "low-voltage disconnect",
    "distribution",
    "busbar",
    "converter",
    "ethernet power source",
)
NOT_STATED = "{what} not stated"
ASKS = {
    "battery": "protection electronics, internal fuse or the fuse at its terminal",
    "switch": "made for direct current at this voltage",
    "low-voltage disconnect": "set points adjustable or as stated",
    "distribution": "cover, stud and ways for the wires that land on it",
    "busbar": "covered",
    "converter": "lockout, idle current and derating on its sheet",
    "ethernet power source": "budget at this supply voltage on its sheet",
    "charger": "set for this kind of cell",
}


def equipment_items(site: Site) -> Iterator[Item]:
    """Everything but devices, like parts together."""
    names: dict[tuple[str, str], list[str]] = defaultdict(list)
    for battery in site.batteries.values():
        names["battery", battery_words(battery)].append(battery.name)
    for part in site.parts.values():
        kind = getattr(part, "kind", "")
        if kind in ORDER:
            names[kind, part_words(part)].append(part.name)
    for (kind, what), group in sorted(names.items(), key=lambda entry: ORDER.index(entry[0][0])):
        yield Item(GROUP, what, len(group), 0, None, "", tuple(group), ASKS[kind])


def battery_words(battery: Battery) -> str:
    """A battery by its cells."""
    size = f"{battery.cells} cells in series" if battery.cells else show(battery.voltage_v or 0.0, "voltage")
    strings = f", {battery.parallel} strings" if battery.parallel > 1 else ""
    return f"battery {chemistry(battery.chemistry).name}, {size}{strings}, {show(battery.capacity_ah, 'charge')}"


def part_words(part: Part) -> str:
    """A part by what it must do."""
    if isinstance(part, Converter):
        isolated = ", isolated" if part.isolated == "yes" else ""
        rating = show(part.rating_w, "power") if part.rating_w is not None else _open(part, "rating_w", "rating")
        return (
            f"converter, {part.type}{isolated}, {show_span(part.input_v, 'voltage')} to "
            f"{show_span(part.output_v, 'voltage')}, {rating}"
        )
    if isinstance(part, Distribution):
        ways = _open(part, "ways", "ways") if part.ways is None else f"{part.ways} ways"
        return _joined(
            "fuse block",
            ways,
            _of(part.total_a, "current", "in all"),
            _of(part.per_way_a, "current", "a way"),
            _of(part.voltage_v, "voltage", ""),
            _stud(part.stud_mm),
        )
    if isinstance(part, Busbar):
        return _joined("busbar", _of(part.rating_a, "current", ""), _stud(part.stud_mm))
    if isinstance(part, Switch):
        return _joined(
            "switch", _of(part.rating_a, "current", ""), _of(part.voltage_v, "voltage", "DC"), _stud(part.stud_mm)
        )
    if isinstance(part, Disconnect):
        return _joined(
            "low-voltage disconnect",
            _of(part.rating_a, "current", ""),
            f"off {show(part.off_v, 'voltage')}, on {show(part.on_v, 'voltage')}",
            _stud(part.stud_mm),
        )
    if isinstance(part, EthernetSource):
        return _joined(
            "network power source",
            part.standard,
            f"{part.ports} ports",
            _of(part.budget_w, "power", ""),
            show_span(part.input_v, "voltage"),
        )
    assert isinstance(part, Charger)
    return _joined(f"charger from {part.supply}", show(part.voltage_v, "voltage"), show(part.current_a, "current"))


def _open(part: Part, attribute: str, what: str) -> str:
    origin = part.origin.get(attribute)
    return f"{what} {OPEN}" if origin is not None and origin.how == "choose" else NOT_STATED.format(what=what)


def _of(value: float | None, dimension: str, after: str) -> str:
    return "" if value is None else f"{show(value, dimension)} {after}".strip()


def _stud(stud_mm: float | None) -> str:
    return "" if stud_mm is None else f"studs M{stud_mm:g}"


def _joined(*words: str) -> str:
    return ", ".join(word for word in words if word)
