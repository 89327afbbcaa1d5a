"""A data cable that joins the negatives on both sides of an isolated converter undoes its isolation."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Severity, Source, Words
from ..evidence.state import Rule, Subject
from ..evidence.views import Evidence

RULE = Rule("isolation-bridged", Source("common-practice", "galvanic paths through shields and cases"))
WORDS = Words(
    "{isolated} is isolated, but {run} joins its two negatives again, between {one} and {other}",
    "break the path: a shield joined at one end only, unshielded cable, or an isolated data link (optical, "
    "radio); or take a converter with common negative and plan for it",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for join in evidence.joins:
        if not join.isolated_between:
            continue
        one, other = join.negatives
        subject = Subject(join.run.name, join.run.place)
        texts = {
            "isolated": join.isolated_between,
            "one": one,
            "other": other,
            "run": f"the data cable {join.run.name.replace('->', 'to')}",
        }
        yield RULE.find(Severity.FAILS, subject, WORDS, texts=texts)
