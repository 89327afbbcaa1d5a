"""What is still left to choose cannot be judged."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Severity, Source, Words
from ..evidence.state import Rule, Subject
from ..evidence.views import Evidence
from ..network.path import PLACEHOLDER

RULE = Rule("choice-left-open", Source("common-practice", "what is not known is not judged"))
WORDS = Words(
    "{what} of {subject} is not yet chosen: {meanwhile}",
    "write a value in its place and check again",
)
MEANWHILE = {
    "wire": f"{PLACEHOLDER} stands in for it, and neither its load nor its protection is judged",
    "fuse": "until then the run counts as having none",
    "rating": "any load is let through, and its rating is not judged",
}


def check(evidence: Evidence) -> Iterator[Finding]:
    for subject, what, place in evidence.open_choices:
        yield RULE.find(
            Severity.TIGHT,
            Subject(subject, place),
            WORDS,
            texts={"what": what, "meanwhile": MEANWHILE.get(what, "nothing is judged that hangs on it")},
        )
