"""A fuse above its rated voltage opens and goes on burning."""

from collections.abc import Iterator

from ..evidence.coverage import others
from ..evidence.finding import Finding, Severity, Source, Words
from ..evidence.remedy import breaking_fuse
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence, FuseView, RunView

RULE = Rule("fuse-voltage-low", Source("iso-8820-3", "rated voltage 32 V or 58 V"))
CLOSE_FRACTION = 0.05  # a charger's set point and a meter together are easily this far off; common practice
WORDS = Words(
    "the {fuse} in {subject}{also} is made for {limit} of direct voltage; up to {value} stand there{when}{printed}",
    "fit {better}",
)
CLOSE = Words(
    "the {fuse} in {subject}{also} is made for {limit}, and {value} stand there{when}: nothing is left for a "
    "charger set a little too high",
    "fit {better}, or check the charging voltage with a meter and keep it there",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    alike: dict[tuple[str, float, Words], list[RunView]] = {}
    for view in evidence.runs:
        own = view.own_fuse
        if own is None or view.run.wires == "negative":
            continue
        limit_v, voltage_v = own.fuse.family.rated_v, view.source_high.value
        if voltage_v <= limit_v * (1 - CLOSE_FRACTION):
            continue
        words = WORDS if voltage_v > limit_v else CLOSE
        alike.setdefault((view.fed_by, limit_v, words), []).append(view)
    for (_, limit_v, words), views in alike.items():
        yield from _finding(views, limit_v, words)


def _finding(views: list[RunView], limit_v: float, words: Words) -> Iterator[Finding]:
    """Fuses of one rated voltage behind one source have one cause."""
    view = max(views, key=lambda one: one.source_high.value)
    if view.own_fuse is None:
        return
    yield RULE.find(
        Severity.DANGER if words is WORDS else Severity.TIGHT,
        Subject(view.name, view.place, view.source_high.case),
        words,
        Measure(view.source_high.value, limit_v, "voltage"),
        texts={
            "fuse": str(view.own_fuse.fuse),
            "also": others(other.name for other in views if other is not view),
            "printed": _printed(view.own_fuse),
            "when": _when(view.source_high.case),
            "better": _better(view, view.own_fuse),
        },
    )


def _when(case: str) -> str:
    """Names the state of the battery that brings the voltage, where the case tells it."""
    state = case.split("-", 1)[0]
    return {"charging": " while charging", "equalising": " while equalising", "bulk": " while charging"}.get(state, "")


def _printed(own: FuseView) -> str:
    """A number on the body that misleads."""
    printed_v = own.fuse.family.printed_ac_v
    return "" if printed_v is None else f"; the {printed_v:g} V printed on it hold for alternating current only"


def _better(view: RunView, own: FuseView) -> str:
    """A fuse of about this rating made for the voltage."""
    voltage_v = view.source_high.value / (1 - CLOSE_FRACTION)
    fault_a = view.fault_near.largest_a if view.fault_near else 0.0
    fuse = breaking_fuse(view, own, voltage_v, fault_a) or breaking_fuse(view, own, voltage_v, 0.0)
    return f"{fuse} ({fuse.family.rated_v:g} V)" if fuse else "a fuse made for this direct voltage"
