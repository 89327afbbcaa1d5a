"""Water from the air settles on walls colder than its dew point, and then on terminals."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence

RULE = Rule("cabinet-condenses", Source("common-practice", "coldest wall against the dew point of the air around"))
WORDS = Words(
    "on the coldest day the walls of {box} fall to {value} inside, and the air around it has a dew point of "
    "{limit}: water settles for {hours} h, on {subject} too",
    "let the gear run through the night (a few watts keep the walls warm), line the walls, shade it from the night "
    "sky, and leave a drain or a breather at the lowest point",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for view in evidence.cabinets:
        if not view.damp_h or view.wall_c is None or view.dew_c is None:
            continue
        yield RULE.find(
            Severity.TIGHT,
            Subject(view.subject, view.place),
            WORDS,
            Measure(view.wall_c, view.dew_c, "temperature", "least"),
            texts={"box": view.name, "hours": str(view.damp_h)},
        )
