"""Network cable of copper-clad aluminium has half as much resistance again and is outside the standard."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Rule, Subject
from ..evidence.views import Evidence
from ..parts.gauges import METAL_FACTORS

RULE = Rule("ethernet-cable-copper-clad", Source("iec-11801", "conductors of data cable are copper"))
WORDS = Words(
    "the cable from {start} to {end} is copper-clad aluminium: {ohm} out and back where copper has {copper}, "
    "and it breaks when bent or crimped",
    "lay {gauge} cable of solid copper (clad cable weighs about half as much)",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for view in evidence.runs:
        cable = view.run.cable
        if cable is None or cable.metal != "copper-clad aluminium":
            continue
        conductors_ohm = max(0.0, view.loop_hot_ohm - view.joint_ohm)
        numbers = {
            "ohm": Number(view.loop_hot_ohm, "resistance"),
            "copper": Number(conductors_ohm / METAL_FACTORS[cable.metal] + view.joint_ohm, "resistance"),
            "current": Number(view.sustained.value, "current"),
        }
        texts = {
            "start": str(view.run.start),
            "end": str(view.run.end),
            "gauge": f"{cable.name} {cable.gauge}",
        }
        yield RULE.find(Severity.FAILS, Subject(view.name, view.place), WORDS, None, numbers, texts)
