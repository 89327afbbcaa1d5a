"""A feeder that alone loses too much of its supply starves everything behind it."""

from collections.abc import Iterator

from ..evidence.drops import Way, gravity, limit_words, thicker, trunks_over, ways
from ..evidence.finding import Finding, Number, Source, Words
from ..evidence.remedy import wire_words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence, RunView

RULE = Rule("drop-on-run", Source("iec-60364-5-52", "table G.52.1"))
WORDS = Words(
    "{subject} loses {lost} at {current}: {value} of its {supply}, where {limit} is {whose} for the whole way{behind}",
    "{cure}",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    known = tuple(ways(evidence))
    for view in trunks_over(evidence):
        behind = [way for way in known if view in way.runs]
        if any(way.state == "below" for way in behind):
            continue  # what starves behind it names this run and the wire it needs
        limit_v = evidence.drop_limit_fraction * view.supply_v
        yield RULE.find(
            gravity(evidence, view.drop.value / view.supply_v),
            Subject(view.name, view.place, view.drop.case),
            WORDS,
            Measure(view.drop.value / view.supply_v, evidence.drop_limit_fraction, "share"),
            numbers={
                "lost": Number(view.drop.value, "voltage"),
                "current": Number(view.sustained.value, "current"),
                "supply": Number(view.supply_v, "voltage", "stated"),
                "loop": Number(view.loop_hot_ohm, "resistance"),
            },
            texts={
                "whose": limit_words(evidence),
                "behind": _behind(behind),
                "cure": _cure(view, view.drop.value - limit_v),
            },
        )


def _behind(behind: list[Way]) -> str:
    names = [way.name for way in behind]
    return f"; behind it: {', '.join(names)}" if names else ""


def _cure(view: RunView, gain_v: float) -> str:
    found = thicker((view,), gain_v, "hours")
    if found is None:
        return "shorten it, or lay a second pair beside it"
    return f"lay {wire_words(found[1])} or thicker, or shorten it"
