"""What feeds a part: its input with the voltages it sees, and the runs on the way to it."""

from collections.abc import Iterator

from ..quantity.span import Span
from ..site.model import NOWHERE
from ..site.pieces import Lockout
from ..site.place import Place
from ..site.record import record
from .views import ConverterView, Evidence, RunView, Worst


@record(frozen=True)
class Inlet:
    """The input of a converter or of an Ethernet source: its window and the voltages it sees."""

    name: str
    place: Place
    window: Span
    lockout: Lockout | None
    lowest: Worst | None
    highest: Worst | None
    victim_of: str


def inlets(evidence: Evidence) -> Iterator[Inlet]:
    """Every input with a stated window, each part once."""
    seen = set()
    for source in evidence.ethernet:
        seen.add(source.name)
        if source.source.input_v.high > 0:
            yield Inlet(
                source.name,
                source.place,
                source.source.input_v,
                None,
                source.input_lowest,
                source.input_highest,
                _victim(evidence, source.name),
            )
    for view in evidence.converters:
        if view.name in seen or view.converter.input_v.high <= 0:
            continue
        yield Inlet(
            view.name,
            view.place,
            view.converter.input_v,
            view.converter.lockout,
            _lower(view.locked_out, view.input_lowest),
            view.input_highest,
            view.victim_of,
        )


def _victim(evidence: Evidence, name: str) -> str:
    own = converter_named(evidence, name)
    return own.victim_of if own else ""


def _lower(one: Worst | None, other: Worst | None) -> Worst | None:
    """The lower of two voltages, either of which may be missing."""
    known = [worst for worst in (one, other) if worst is not None]
    return min(known, key=lambda worst: worst.value, default=None)


def converter_named(evidence: Evidence, name: str) -> ConverterView | None:
    """The converter of that name, if there is one."""
    return next((view for view in evidence.converters if view.name == name), None)


def run_into(evidence: Evidence, name: str) -> RunView | None:
    """The run that brings power to a part; where none does, one that would."""
    if name in evidence.supplied:
        return evidence.run(evidence.supplied[name])
    return next((view for view in evidence.runs if view.run.end.part == name and view.fed_by != name), None)


def way_to(evidence: Evidence, name: str) -> tuple[RunView, ...]:
    """The runs from the feeding source to a part, nearest to the part first."""
    last = run_into(evidence, name)
    if last is None:
        return ()
    return (last, *(evidence.run(run) for run in last.upstream))


def fed_by(evidence: Evidence, name: str) -> str:
    """The battery, converter or other source that feeds a part; empty when nothing does."""
    last = run_into(evidence, name)
    return last.fed_by if last else ""


def feeders_of(evidence: Evidence, name: str) -> tuple[str, ...]:
    """What feeds a part, what feeds that, and so on; nothing twice, should two converters feed each other."""
    found: list[str] = []
    above = fed_by(evidence, name)
    while above and above not in found:
        found.append(above)
        above = fed_by(evidence, above)
    return tuple(found)


def place_of(evidence: Evidence, name: str) -> Place:
    """Where a part or battery stands in the file."""
    found = {view.name: view.place for view in evidence.devices}
    found |= {view.name: view.place for view in evidence.converters}
    found |= {view.name: view.place for view in evidence.ethernet}
    found |= {view.name: view.place for view in evidence.disconnects}
    found |= {view.name: view.place for view in evidence.batteries}
    return found.get(name, NOWHERE)
