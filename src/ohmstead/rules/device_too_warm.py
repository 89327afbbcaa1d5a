"""A device in air hotter than it bears fails early or shuts itself off."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import DeviceView, Evidence

RULE = Rule("device-too-warm", Source("common-practice", "limit of air on the device's own sheet"))
SMALL_MARGIN_K = 5.0  # what a thermometer in a cabinet may be off; common practice
COOLER = "stand it in a cooler place, shade or ventilate this one"
COOLER_BOX = "put it lower in the box, or let the box lose more: `ohmstead heat` compares vents, fan, shade and colour"
COOLER_PLACE = "move or shade the box: the air around it is what is too hot"
WORDS = Words(
    "the air {where} reaches {value}{when}; {limit} is the most for {subject}",
    "{cure}, or take a device made for {ample} and more",
)
CLOSE = Words(
    "the air {where} reaches {value}{when}, and {limit} is the most for {subject}: nothing is left for a hotter day",
    "leave it free air on all sides and watch a maximum thermometer there for a week",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for view in evidence.devices:
        limit_c = view.device.warm_limit_c
        if limit_c is None or view.ambient_c <= limit_c - SMALL_MARGIN_K:
            continue
        over = view.ambient_c > limit_c
        yield RULE.find(
            Severity.FAILS if over else Severity.TIGHT,
            Subject(view.name, view.place),
            WORDS if over else CLOSE,
            Measure(view.ambient_c, limit_c, "temperature"),
            texts=_texts(evidence, view),
        )


def _texts(evidence: Evidence, view: DeviceView) -> dict[str, str]:
    """Where, when, and what can be done about it there."""
    where = f"in {view.device.zone}" if view.device.zone else "around it"
    for cabinet in evidence.cabinets:
        if view.name in cabinet.climate.inside.own_m:
            hour = cabinet.climate.hot.trace.hottest(cabinet.climate.inside.heights_m[view.name])[0]
            over_k = Number(view.ambient_c - cabinet.around_c, "temperature difference")
            too_hot = cabinet.around_c >= (view.device.warm_limit_c or 0.0)
            heat = Number(cabinet.heat_w, "power")
            when = f" at {hour}:00 of the hottest day, {over_k} above the air around the box, from up to {heat} inside"
            return {"where": where, "when": when, "cure": COOLER_PLACE if too_hot else COOLER_BOX}
    return {"where": where, "when": "", "cure": COOLER}
