"""A conductor too thin to bear vibration and pull breaks inside its insulation."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence, RunView
from ..parts.gauges import awg_area_mm2, sae_area_mm2

SOURCE = Source("33-cfr-183", "183.425; metric sizes by iso-10133")
RULE = Rule("conductor-too-thin-for-mechanics", SOURCE)
# Least conductors in small craft, single and sheathed. Sources: 33-cfr-183, 183.425; iso-10133, second-hand.
SINGLE_GAUGE, SHEATHED_GAUGE = "16", "18"
SINGLE_MM2, SHEATHED_MM2 = 1.0, 0.75
SIGNAL_A = 1.0  # circuits below this are exempt. Source: 33-cfr-183, 183.425.
WORDS = Words(
    "{subject} has {value} of copper; {how} in small craft a conductor needs at least {least} to bear vibration "
    "and pull, whatever it carries",
    "lay {least} or thicker{sheath}",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    if evidence.rules != "small craft":
        return
    for view in evidence.runs:
        if view.wire is None:
            continue
        by_gauge = view.wire.system in ("AWG", "SAE")
        limit_mm2, least = _least(view)
        if view.wire.area_mm2 >= limit_mm2 * 0.999 or (by_gauge and view.current.value < SIGNAL_A):
            continue
        yield RULE.find(
            Severity.FAILS,
            Subject(view.name, view.place),
            WORDS,
            Measure(view.wire.area_mm2, limit_mm2, "area", "least"),
            texts={
                "least": least,
                "how": "in a sheath" if view.run.sheathed == "yes" else "laid singly",
                "sheath": "" if view.run.sheathed == "yes" else ", or a multicore cable in a sheath",
            },
        )


def _least(view: RunView) -> tuple[float, str]:
    """The thinnest conductor allowed for this run, and its name."""
    sheathed = view.run.sheathed == "yes"
    assert view.wire is not None
    if view.wire.system in ("AWG", "SAE"):
        gauge = SHEATHED_GAUGE if sheathed else SINGLE_GAUGE
        area = sae_area_mm2(gauge) if view.wire.system == "SAE" else awg_area_mm2(gauge)
        return area, f"{gauge} {'AWG' if view.wire.system == 'AWG' else 'gauge'}"
    area = SHEATHED_MM2 if sheathed else SINGLE_MM2
    return area, f"{area:g} mm²"
