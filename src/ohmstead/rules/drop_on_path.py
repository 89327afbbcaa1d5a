"""A device that loses too much of its supply on the way is the first to stop when the battery is low."""

from collections.abc import Iterator

from ..evidence.drops import Way, gravity, limit_words, lossiest, thicker, trunks_over, ways
from ..evidence.finding import Finding, Number, Source, Words
from ..evidence.remedy import wire_words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence

RULE = Rule("drop-on-path", Source("iec-60364-5-52", "table G.52.1"))
WORDS = Words(
    "{lost} of {supply} are lost on the way to {subject}: {value}, where {limit} is {whose}; {most} of it in {worst}",
    "{cure}",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    trunks = trunks_over(evidence)
    for way in ways(evidence):
        supply_v = way.runs[0].supply_v
        limit_v = evidence.drop_limit_fraction * supply_v
        if way.drop.value <= limit_v or supply_v <= 0 or way.state == "below":
            continue  # below its window: told there
        if way.runs[0].fed_kind not in ("battery", "converter") or any(run in trunks for run in way.runs):
            continue  # a feeder that alone is over the limit: told on the run
        worst = lossiest(way.runs)
        yield RULE.find(
            gravity(evidence, way.drop.value / supply_v),
            Subject(way.name, way.place, way.drop.case),
            WORDS,
            Measure(way.drop.value / supply_v, evidence.drop_limit_fraction, "share"),
            numbers={
                "lost": Number(way.drop.value, "voltage"),
                "supply": Number(supply_v, "voltage", "stated"),
                "most": Number(worst.drop.value, "voltage"),
            },
            texts={"whose": limit_words(evidence), "worst": worst.name, "cure": _cure(way, way.drop.value - limit_v)},
        )


def _cure(way: Way, gain_v: float) -> str:
    found = thicker(way.runs, gain_v, "hours")
    if found is None:
        return "shorten the way, or lay thicker wire from the source on: no single run mends it"
    return f"lay {wire_words(found[1])} or thicker in {found[0].name}"
