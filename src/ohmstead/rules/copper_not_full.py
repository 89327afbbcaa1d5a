"""Wire that holds less copper than its number promises is thinner than it is taken for."""

from collections.abc import Iterator

from ..evidence.drops import limit_words
from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Rule, Subject
from ..evidence.views import Evidence, RunView
from ..parts.gauges import METAL_FACTORS, awg_area_mm2
from ..parts.wire import Wire, like_wire
from ..quantity.show import show_area_both
from ..wiring.ampacity import Laid, ampacity_a

RULE = Rule("copper-not-full", Source("iso-sae-sizes", "SAE and AWG circular-mil areas"))
CLAD = "copper-clad aluminium"
CLAD_WORDS = Words(
    "the wire of {subject} is copper-clad aluminium: with {more} times the resistance of copper, its {size} "
    "conduct like {equal} of copper{consequence}",
    "lay copper of {size}, and until then choose its fuse as for {equal}",
)
SAE_WORDS = Words(
    "the wire of {subject} is SAE gauge: {size} holds {area}, {share} less copper than AWG of the same number"
    "{consequence}",
    "buy it by mm² or AWG: {awg} has {awg_area}",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for view in evidence.runs:
        wire = view.wire
        if wire is None or wire.ambiguous:
            continue  # an unclear size is told by wire-size-ambiguous
        if wire.metal == CLAD:
            yield _clad(evidence, view, wire)
        elif wire.system == "SAE":
            yield _sae(evidence, view, wire)


def _clad(evidence: Evidence, view: RunView, wire: Wire) -> Finding:
    factor = METAL_FACTORS[CLAD]
    full_a = _bears_a(view) / (view.ampacity.metal_factor if view.ampacity else 1.0)
    consequence = _consequence(evidence, view, full_a, factor)
    return RULE.find(
        Severity.TIGHT,
        Subject(view.name, view.place),
        CLAD_WORDS,
        numbers={"more": Number(factor, "number", "table")},
        texts={
            "size": wire.size.replace("mm2", "mm²"),
            "equal": show_area_both(wire.area_mm2 / factor),
            "consequence": consequence,
        },
    )


def _sae(evidence: Evidence, view: RunView, wire: Wire) -> Finding:
    gauge = wire.size.split()[0]
    full_mm2 = awg_area_mm2(gauge)
    full = like_wire(wire, f"{gauge} AWG")
    laid = Laid(view.run.laid.method, view.run.laid.circuits)
    full_a = ampacity_a(full, laid, view.ambient_c, evidence.rules).value_a
    factor = wire.resistance_20_ohm_per_km / full.resistance_20_ohm_per_km
    consequence = _consequence(evidence, view, full_a, factor)
    return RULE.find(
        Severity.TIGHT,
        Subject(view.name, view.place),
        SAE_WORDS,
        numbers={
            "area": Number(wire.area_mm2, "area", "table"),
            "awg_area": Number(full_mm2, "area", "table"),
            "share": Number(1 - wire.area_mm2 / full_mm2, "share"),
        },
        texts={"size": wire.size.replace("mm2", "mm²"), "awg": f"{gauge} AWG", "consequence": consequence},
    )


def _bears_a(view: RunView) -> float:
    return view.ampacity.value_a if view.ampacity else float("inf")


def _consequence(evidence: Evidence, view: RunView, full_a: float, factor: float) -> str:
    """What this wire breaks and full copper of the same number would keep; the rule of that limit condemns it."""
    load_a = view.sustained.value
    if _bears_a(view) < load_a <= full_a:
        return f"; it is overloaded by {Number(load_a, 'current')}, which full copper would bear"
    limit_v = evidence.drop_limit_fraction * view.supply_v
    if view.loop_hot_ohm <= 0 or view.drop.value <= limit_v:
        return ""
    conductor_ohm = max(0.0, view.loop_hot_ohm - view.joint_ohm)
    full_v = view.drop.value * (conductor_ohm / factor + view.joint_ohm) / view.loop_hot_ohm
    if full_v > limit_v:
        return ""
    lost, full = Number(view.drop.value, "voltage"), Number(full_v, "voltage")
    return f"; it loses {lost}, over {limit_words(evidence)}, and full copper would lose {full}"
