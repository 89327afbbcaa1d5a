"""What sits at the ends of the runs, and the inlet or stud that each end meets."""

from collections.abc import Iterator

from ..parts.plug import End
from ..site.kinds import Busbar, Charger, Converter, Disconnect, Distribution, Part, Switch
from ..site.pieces import Endpoint
from ..site.record import record
from .views import Evidence, RunView

STUDDED = (Busbar, Charger, Converter, Disconnect, Distribution, Switch)


@record(frozen=True)
class Joint:
    """One end of a run. `end` is its plug or terminal, `inlet` that of the part; None where not stated."""

    view: RunView
    side: str  # "source end" or "far end"
    at: Endpoint
    end: End | None
    inlet: End | None
    stud_mm: float | None
    part: Part | None

    @property
    def where(self) -> str:
        """The end in words: "at recorder"."""
        return f"at {self.at}"


def joints(evidence: Evidence) -> Iterator[Joint]:
    """Both ends of every power run, source end first."""
    parts = _parts(evidence)
    poles = {view.name: view.battery.stud_mm for view in evidence.batteries}
    for view in evidence.runs:
        sides = (("source end", view.run.start), ("far end", view.run.end))
        for number, (side, at) in enumerate(sides):
            part = parts.get(at.part)
            end = view.run.ends[number] if len(view.run.ends) == len(sides) else None
            inlet = getattr(part, "inlet", None) if at.way is None else None  # a port is no inlet
            yield Joint(view, side, at, end, inlet, poles.get(at.part, _stud_mm(part, at)), part)


def _parts(evidence: Evidence) -> dict[str, Part]:
    """Every part that has an inlet or a stud, by name."""
    found: list[Part] = [view.device for view in evidence.devices]
    found += [view.source for view in evidence.ethernet]
    found += [view.block for view in evidence.blocks]
    found += [view.part for view in evidence.switches]
    found += [view.part for view in evidence.busbars]
    found += [view.part for view in evidence.disconnects]
    found += [view.part for view in evidence.chargers]
    found += [view.converter for view in evidence.converters]
    return {part.name: part for part in found}


def _stud_mm(part: Part | None, at: Endpoint) -> float | None:
    """The stud that a run lands on; the ways of a block have none."""
    return part.stud_mm if isinstance(part, STUDDED) and at.way is None else None


def thread(stud_mm: float) -> str:
    """A thread as it is called: "M8", "5/16 in"."""
    if abs(stud_mm - round(stud_mm)) < 0.01:
        return f"M{round(stud_mm)}"
    parts, whole = round(stud_mm / 25.4 * 16), 16
    while parts % 2 == 0 and whole > 1:
        parts, whole = parts // 2, whole // 2
    return f"{parts}/{whole} in"
