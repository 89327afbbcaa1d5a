"""A thin or long cable from the panels turns part of the harvest into heat, most of it when the sun is best."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence

RULE = Rule("array-cable-drop", Source("common-practice", "loss in the cable of an array"))
USUAL_FRACTION = 0.03  # of the array's voltage at full sun; common practice, no source
OVER = Words(
    "the cable of {subject} takes {value} of its power at full sun ({drop} of {volts}); {limit} is usual",
    "lay {area} or thicker instead of {wire}, or put more modules in series",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for view in evidence.arrays:
        wire = view.array.cable_wire
        if view.drop_v is None or not view.working_v or wire is None:
            continue
        measure = Measure(view.drop_v / view.working_v, USUAL_FRACTION, "share")
        if measure.value > measure.limit:
            area = wire.area_mm2 * measure.value / measure.limit
            yield RULE.find(
                Severity.TIGHT,
                Subject(view.name, view.place),
                OVER,
                measure,
                {
                    "drop": Number(view.drop_v, "voltage"),
                    "volts": Number(view.working_v, "voltage"),
                    "area": Number(area, "area", digits=2),
                },
                {"wire": str(wire)},
            )
