"""Which run or way loses too large a share of its supply, and which wire would mend it."""

from collections.abc import Iterable, Iterator

from ..parts.wire import Wire
from ..site.place import Place
from ..site.record import record
from ..tables.reader import rows
from .feeding import inlets, way_to
from .finding import Severity
from .remedy import smallest_wire_for_drop
from .views import DeviceView, Evidence, RunView, Worst

CRAFT = "small craft"
# A joint or a reel this much above plan passes unnoticed; commissioning practice, no source.
UNNOTICED_FRACTION = 0.15


@record(frozen=True)
class Way:
    """The runs from a feeding source to what it feeds, and the voltage lost on them.

    state: its window is "kept", "below" (or nearly so) or "unknown".
    """

    name: str
    place: Place
    runs: tuple[RunView, ...]
    drop: Worst
    state: str


def ways(evidence: Evidence) -> Iterator[Way]:
    """One way for every device that is fed by wire, and for every converter and Ethernet source."""
    for device in evidence.devices:
        if device.device.over == "wire" and device.path and not device.victim_of:
            runs = tuple(evidence.run(name) for name in device.path) + returns_of(evidence, device.name)
            yield Way(device.name, device.place, runs, device.path_drop, _device_state(device))
    for inlet in inlets(evidence):
        runs = way_to(evidence, inlet.name)
        if runs and not inlet.victim_of:
            drop = Worst(sum(run.drop.value for run in runs), runs[0].drop.case)
            below = inlet.lowest is not None and inlet.lowest.value < inlet.window.low
            yield Way(inlet.name, inlet.place, runs, drop, "below" if below else "kept")


def returns_of(evidence: Evidence, name: str) -> tuple[RunView, ...]:
    """The runs of a negative wire of its own from a part back to its source, nearest first."""
    found: list[RunView] = []
    lone = [view for view in evidence.runs if view.run.wires == "negative"]
    sources = {view.name for view in evidence.batteries} | {view.name for view in evidence.converters}
    at = name
    while at not in sources:
        here = [view for view in lone if at in (view.run.start.part, view.run.end.part) and view not in found]
        # Of several the one that is written towards this part: a bar has many leaving and one arriving.
        run = next((view for view in here if view.run.end.part == at), here[0] if at == name and here else None)
        if run is None:
            break
        found.append(run)
        at = run.run.start.part if run.run.end.part == at else run.run.end.part
    return tuple(found)


def _device_state(view: DeviceView) -> str:
    if view.low_v is None or view.lowest is None:
        return "unknown"
    reserve_v = UNNOTICED_FRACTION * view.path_drop.value
    return "below" if view.browned_out or view.lowest.value < view.low_v + reserve_v else "kept"


def trunks_over(evidence: Evidence) -> tuple[RunView, ...]:
    """Runs that end in no device and alone lose more than the limit of their supply."""
    ends = {view.name for view in evidence.devices} | {view.name for view in evidence.batteries}
    return tuple(
        view
        for view in evidence.runs
        if view.fed_kind in ("battery", "converter")
        and view.run.wires != "negative"  # its positive tells of both
        and view.run.cable is None
        and view.run.end.part not in ends
        and view.supply_v > 0
        and view.drop.value > evidence.drop_limit_fraction * view.supply_v
    )


def lossiest(runs: Iterable[RunView]) -> RunView:
    """The run that loses most voltage."""
    return max(runs, key=lambda view: view.drop.value)


def thicker(runs: tuple[RunView, ...], gain_v: float, during: str) -> tuple[RunView, Wire] | None:
    """The run, and the wire for it, that brings `gain_v` more to its end; None when no single run can.

    during: "start-up" counts the largest current, "hours" the largest that lasts.
    """
    amps = {view.name: (view.current if during == "start-up" else view.sustained).value for view in runs}
    for view in sorted(runs, key=lambda view: view.loop_hot_ohm * amps[view.name], reverse=True):
        allowed_v = view.loop_hot_ohm * amps[view.name] - gain_v
        if view.wire is None or allowed_v <= 0:
            continue
        wire = smallest_wire_for_drop(view, amps[view.name], allowed_v)
        if wire is not None:
            return view, wire
    return None


def gravity(evidence: Evidence, lost_fraction: float) -> Severity:
    """How grave a drop over the limit is: a limit that the builder set is broken, the usual one only advises.

    In small craft a tenth of the supply is a requirement for every circuit.
    """
    if evidence.drop_limit_how == "stated":
        return Severity.FAILS
    required = [float(row["drop_fraction"]) for row in rows("drop_limit") if row["rules"] == evidence.rules == CRAFT]
    return Severity.FAILS if required and lost_fraction > max(required) else Severity.TIGHT


def limit_words(evidence: Evidence) -> str:
    """Whose limit it is, behind its figure: "the limit set for this site", "the usual limit"."""
    return "the limit set for this site" if evidence.drop_limit_how == "stated" else "the usual limit"
