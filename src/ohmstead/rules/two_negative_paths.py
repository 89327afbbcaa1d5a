"""A second negative through a data cable takes part of a device's current, one day all of it."""

from collections.abc import Iterator

from ..evidence.feeding import run_into
from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Rule, Subject
from ..evidence.views import Evidence, RunView

RULE = Rule("two-negative-paths", Source("common-practice", "galvanic paths through shields and cases"))
WORDS = Words(
    "{one} and {other} have a second path between their negatives through {run}: it takes its share now, and "
    "up to {most} when the negative wire of {loaded} comes loose",
    "join the shield at one end only, use unshielded cable or an isolated link, or feed both from one place "
    "with short negatives",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for join in evidence.joins:
        if join.isolated_between:
            continue
        fed = [(name, view) for name in join.negatives if (view := run_into(evidence, name)) is not None]
        if len(fed) < 2 or all(view.fed_kind == "nothing" for _, view in fed):
            continue
        loaded, view = max(fed, key=_sustained)
        one, other = join.negatives
        numbers = {"most": Number(view.sustained.value, "current")}
        texts = {
            "one": one,
            "other": other,
            "loaded": loaded,
            "run": f"the data cable {join.run.name.replace('->', 'to')}",
        }
        yield RULE.find(Severity.TIGHT, Subject(join.run.name, join.run.place), WORDS, None, numbers, texts)


def _sustained(entry: tuple[str, RunView]) -> float:
    return entry[1].sustained.value
