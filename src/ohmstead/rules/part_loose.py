"""A part that no run touches hangs in the air: a forgotten cable, or a leftover of the file."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Severity, Source, Words
from ..evidence.state import Rule, Subject
from ..evidence.views import Evidence
from ..site.kinds import Charger, Converter, Device, EthernetSource

RULE = Rule("part-loose", Source("common-practice", "what is listed is wired"))
AWAITED = (Device, Converter, EthernetSource, Charger)  # parts that somebody counts on; the rest only carries current
WORDS = Words(
    "no run touches {subject}",
    "add the run that joins it, or take it out of the file (a spare in the cupboard needs no entry)",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for part in evidence.loose:
        severity = Severity.FAILS if isinstance(part, AWAITED) else Severity.TIGHT
        yield RULE.find(severity, Subject(part.name, part.place), WORDS)
    touched = {end.part for view in evidence.runs for end in (view.run.start, view.run.end)}
    for battery in evidence.batteries:
        if battery.name not in touched:
            yield RULE.find(Severity.FAILS, Subject(battery.name, battery.place), WORDS)
