"""A wire size that can be read in two ways may hide half the copper that was planned."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Rule, Subject
from ..evidence.views import Evidence

RULE = Rule("wire-size-ambiguous", Source("common-practice", "vehicle cable sold by its outer diameter"))
WORDS = Words(
    "the wire of {subject} can be read in two ways: {readings}",
    "read the cross-section printed on the jacket and write it with mm2, AWG or SAE; or measure: out "
    "and back "
    "together, {loop} at 20 °C would agree with what was counted",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for view in evidence.runs:
        if view.wire is None or not view.wire.ambiguous:
            continue
        n_wire = 2 if view.run.wires == "both" else 1
        loop_ohm = n_wire * view.run.length_m / 1000 * view.wire.resistance_20_ohm_per_km
        yield RULE.find(
            Severity.TIGHT,
            Subject(view.name, view.place),
            WORDS,
            numbers={
                "loop": Number(loop_ohm, "resistance"),
                "counted": Number(view.wire.area_mm2, "area", "assumed"),
            },
            texts={"readings": view.wire.ambiguous},
        )
