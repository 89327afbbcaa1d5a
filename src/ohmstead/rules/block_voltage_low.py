"""A fuse block made for less voltage than stands at it has too little distance between its metal parts."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence

RULE = Rule("block-voltage-low", Source("common-practice", "voltage on the block's own sheet"))
WORDS = Words(
    "up to {value} stand at {subject}, made for {limit}",
    "take a block made for {ample} or more: blocks for blade fuses mostly end at 32 V or 58 V",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for view in evidence.blocks:
        limit_v = view.block.voltage_v
        if limit_v is not None and view.high_v > limit_v:
            measure = Measure(view.high_v, limit_v, "voltage")
            yield RULE.find(Severity.FAILS, Subject(view.name, view.place), WORDS, measure)
