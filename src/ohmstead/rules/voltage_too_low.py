"""A device that gets less voltage than it needs stops just when the battery is low."""

from collections.abc import Iterator

from ..evidence.drops import UNNOTICED_FRACTION, lossiest, returns_of
from ..evidence.feeding import converter_named
from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.remedy import smallest_wire_for_drop, wire_words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import DeviceView, Evidence, RunView, Worst
from ..parts.wire import Wire
from .no_disconnect import spare_v, told_of

RULE = Rule("voltage-too-low", Source("common-practice", "input window on the device's own sheet"))
# A converter this far below its set voltage no longer holds it; set-points are off by 1 % to 2 %, common
# practice, no source.
SET_POINT_FRACTION = 0.02
WORDS = Words(
    "{value} reach {subject}, where {limit} are needed: {source} gives {source_low} at worst, and the way loses up "
    "to {lost}",
    "{cure}",
)
CLOSE = Words(
    "{value} reach {subject} at worst, where {limit} are needed and {lost} are lost on the way: joints {unnoticed} "
    "above plan, which nobody notices, take it below",
    "{cure}",
)
FLAT = Words(
    "with {source} drained to the end {value} reach {subject}, where {limit} are needed: it stops before the "
    "battery does",
    "leave it if it may stop then; else fit a low-voltage disconnect that opens while {limit} still arrive",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    on_ports = {port.device.name for source in evidence.ethernet for port in source.ports}
    for view in evidence.devices:
        met = _lowest(view)
        if view.low_v is None or met is None or view.victim_of or view.name in on_ports:
            continue
        runs = tuple(evidence.run(name) for name in view.path)
        if _converter_gives_way(evidence, view, runs) or _collapses(evidence, view):
            continue
        reserve_v = UNNOTICED_FRACTION * view.path_drop.value
        if met.value >= view.low_v + reserve_v:
            continue
        below = met.value < view.low_v
        flat = below and met.value + spare_v(evidence, view.fed_by, view.name) >= view.low_v + reserve_v
        if flat and told_of(evidence, view.fed_by):
            continue  # its battery is drained to the end: told as no-disconnect or disconnect-passed-by
        source_low_v = runs[0].source_low.value if runs else met.value
        yield RULE.find(
            Severity.FAILS if below and not flat else Severity.TIGHT,
            Subject(view.name, view.place, met.case),
            FLAT if flat else WORDS if below else CLOSE,
            Measure(met.value, view.low_v, "voltage", "least"),
            numbers={
                "lost": Number(max(view.path_drop.value, source_low_v - met.value), "voltage"),
                "source_low": Number(source_low_v, "voltage"),
                "unnoticed": Number(UNNOTICED_FRACTION, "share", "assumed"),
            },
            texts={"source": view.fed_by, "cure": _cure(view, runs, returns_of(evidence, view.name), view.low_v)},
        )


def _lowest(view: DeviceView) -> Worst | None:
    """The lowest voltage it meets, the moment before it was taken off included."""
    known = [worst for worst in (view.browned_out, view.lowest) if worst is not None]
    return min(known, key=lambda worst: worst.value, default=None)


def _converter_gives_way(evidence: Evidence, view: DeviceView, runs: tuple[RunView, ...]) -> bool:
    """True when the feeding converter cannot hold its voltage because of its load or its input: "
    "told there."""
    feeder = converter_named(evidence, view.fed_by)
    if feeder is None or not runs or not (feeder.limited or feeder.locked_out or feeder.passing):
        return False
    return runs[0].source_low.value < feeder.converter.output_v.low * (1 - SET_POINT_FRACTION)


def _collapses(evidence: Evidence, view: DeviceView) -> bool:
    """True when the supply has no operating point with it: told as supply-collapses."""
    margin = evidence.margin
    return margin is not None and margin.factor < 1 and margin.element == view.name


def _cure(view: DeviceView, runs: tuple[RunView, ...], back: tuple[RunView, ...], low_v: float) -> str:
    """What brings enough voltage to the device."""
    needed = Number(low_v, "voltage")
    if not runs or runs[0].source_low.value <= low_v:
        if runs and runs[0].fed_kind == "converter":
            return f"set {view.fed_by} higher, or take a device that works below {needed}: no wire helps"
        return (
            f"feed it through a converter that holds its voltage, let the disconnect open above {needed}, or take "
            "a device that works from less: no wire helps, the battery itself falls that low"
        )
    found = _wire(view, runs, back, low_v)
    if found is not None:
        return f"lay {wire_words(found[1])} or thicker in {found[0].name}"
    worst = lossiest((*runs, *back)).name
    if any(run.run.cable is not None and run.run.pairs < 4 for run in runs):
        return f"use all four pairs of {worst} (`pairs: 4`), shorten it, or put a converter near the device"
    return f"shorten or thicken the whole way, above all {worst}, or put a converter near the device"


def _wire(
    view: DeviceView, runs: tuple[RunView, ...], back: tuple[RunView, ...], low_v: float
) -> tuple[RunView, Wire] | None:
    """The run, and the wire for it, with which the device keeps its least voltage at its largest draw."""
    draw_w = max((draw.power_w.high for draw in view.device.draws), default=0.0)
    own_a, own_now_a = draw_w / low_v, runs[-1].current.value
    whole = (*runs, *back)
    amps = {run.name: own_a + max(0.0, run.current.value - own_now_a) for run in whole}
    losses = {run.name: run.loop_hot_ohm * amps[run.name] for run in whole}
    available_v = (runs[0].source_low.value - low_v) / (1 + UNNOTICED_FRACTION)
    for run in sorted(whole, key=lambda run: losses[run.name], reverse=True):
        allowed_v = available_v - sum(losses.values()) + losses[run.name]
        wire = smallest_wire_for_drop(run, amps[run.name], allowed_v) if allowed_v > 0 else None
        if wire is not None:
            return run, wire
    return None
