"""A plug that does not fit its socket makes no contact, or one that comes and goes."""

from collections.abc import Iterator
from dataclasses import replace

from ..evidence.ends import joints
from ..evidence.finding import Finding, Severity, Source, Words
from ..evidence.state import Rule, Subject
from ..evidence.views import Evidence
from ..parts.plug import mates

RULE = Rule("plug-does-not-mate", Source("iec-60130-10", "type A; other kinds by their own standard"))
WORDS = Words(
    "the {end} of {subject} does not fit {part}: {reason}",
    "put a {inlet} on this end; measure pin and bore before ordering, a drill shank of the size is a good gauge",
)
OPEN_LEADS = ("bare", "butt")  # loose leads of a part take any splice or terminal


def check(evidence: Evidence) -> Iterator[Finding]:
    for joint in joints(evidence):
        if joint.end is None or joint.inlet is None or joint.inlet.kind in OPEN_LEADS:
            continue
        reason = mates(replace(joint.end, polarity=None), replace(joint.inlet, polarity=None))
        if reason:
            yield RULE.find(
                Severity.FAILS,
                Subject(joint.view.name, joint.view.place),
                WORDS,
                texts={
                    "end": joint.end.name,
                    "part": joint.at.part,
                    "reason": reason,
                    "inlet": joint.inlet.name,
                },
            )
