"""What was taken for granted because the site file does not say."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from ..network.operate import Operation
from ..quantity.show import show
from ..site.declare import declared
from ..site.kinds import Part
from ..site.model import Battery, Run
from .views import Evidence

if TYPE_CHECKING:  # at work only there for a site with a cabinet
    from ..site.boxes import Cabinet

CELL_RESISTANCE = "pack resistance {fresh} fresh, {old} old, cold or nearly empty, from the kind and size of its cells"


def unsaid(cabinet: "Cabinet") -> Iterator[str]:
    """What was taken for granted of a cabinet, its fan and its filter."""
    idle = set() if cabinet.stands == "outdoors" else {"faces_deg", "shaded_fraction"}
    if cabinet.fan is None or cabinet.fan.on_c is None:
        idle.add("senses")
    if cabinet.days == "weather":
        idle.add("swing_k")
    for thing in (cabinet, cabinet.fan, cabinet.filter):
        if thing is None:
            continue
        for attribute, declaration in declared(type(thing)).items():
            origin = thing.origin[attribute]
            if declaration.assumed and origin.how == "assumed" and attribute not in idle:
                yield origin.note


def assumptions(operation: Operation, evidence: Evidence) -> dict[str, tuple[str, ...]]:
    """Each assumption in words, and the names of the batteries, parts and runs it was made for."""
    notes: dict[str, list[str]] = {}
    for battery in evidence.batteries:
        if battery.battery.resistance_ohm is None:
            fresh, old = show(battery.resistance_ohm, "resistance"), show(battery.resistance_high_ohm, "resistance")
            notes.setdefault(CELL_RESISTANCE.format(fresh=fresh, old=old), []).append(battery.name)
    for path in operation.circuit.paths.values():
        for _, origin in path.origins:
            if origin.how in ("assumed", "choose"):
                notes.setdefault(origin.note, []).append(path.run.name)
        for note in path.wire.assumed if path.wire else ():
            notes.setdefault(f"wire: {note}", []).append(path.run.name)
    site = operation.site
    subjects: list[Battery | Part | Run] = [*site.batteries.values(), *site.parts.values(), *site.runs]
    for subject in subjects:
        for attribute, declaration in declared(type(subject)).items():
            concerns = attribute != "pairs" or getattr(subject, "cable", None) is not None
            if declaration.assumed and concerns and subject.origin[attribute].how == "assumed":
                notes.setdefault(subject.origin[attribute].note, []).append(subject.name)
    for cabinet in site.cabinets.values():
        for note in unsaid(cabinet):
            notes.setdefault(note, []).append(cabinet.name)
    return {note: tuple(names) for note, names in notes.items()}
