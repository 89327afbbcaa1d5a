"""What was taken for granted because the site file does not say."""

from ..network.operate import Operation
from ..quantity.show import show
from ..site.declare import declared
from ..site.kinds import Part
from ..site.model import Battery, Run
from .views import Evidence

CELL_RESISTANCE = "pack resistance {fresh} fresh, {old} old, cold or nearly empty, from the kind and size of its cells"


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
    return {note: tuple(names) for note, names in notes.items()}
