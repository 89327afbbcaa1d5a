"""A plug wired the other way round destroys the device in the moment it goes in."""

from collections.abc import Iterator

from ..evidence.ends import joints
from ..evidence.finding import Finding, Severity, Source, Words
from ..evidence.state import Rule, Subject
from ..evidence.views import Evidence

RULE = Rule("plug-polarity-reversed", Source("common-practice", "sign beside the device's inlet"))
WORDS = Words(
    "the plug of {subject} is {end}, the inlet of {part} is {inlet}",
    "wire the plug {inlet}, and measure it with a meter before it goes in for the first time",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for joint in joints(evidence):
        if joint.end is None or joint.inlet is None or joint.end.kind != joint.inlet.kind:
            continue
        stated = (joint.end.polarity, joint.inlet.polarity)
        if stated[0] is not None and stated[1] is not None and stated[0] != stated[1]:
            yield RULE.find(
                Severity.DANGER,
                Subject(joint.view.name, joint.view.place),
                WORDS,
                texts={"end": stated[0], "inlet": stated[1], "part": joint.at.part},
            )
