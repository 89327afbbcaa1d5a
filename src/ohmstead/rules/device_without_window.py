"""A device whose voltage window is not known cannot be told from one that browns out or is destroyed."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Rule, Subject
from ..evidence.views import Evidence

RULE = Rule("device-without-window", Source("common-practice", "what is not known is not judged"))
WORDS = Words(
    "no `input` window is stated for {subject}; {range} arrive, and nobody can say whether that is right",
    "write what its label or sheet says, such as `input: 10..15 V`; a label that says only 12 V is best tried on a "
    "supply that can be turned {turn}",
)
HIGH_SIDE = Words(
    "a `cut-off` but no `input` window is stated for {subject}; up to {highest} arrive, and nobody can say whether "
    "that is right",
    "write what its label or sheet says, such as `input: 10..15 V`",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    standard = {port.device.name for source in evidence.ethernet for port in source.ports}
    for view in evidence.devices:
        # A port that keeps to IEEE 802.3 and a device that does too have their window from the standard.
        by_standard = view.device.over == "ethernet" and view.name in standard
        if by_standard or view.high_v is not None or view.highest is None:
            continue
        lowest_v = view.lowest.value if view.lowest is not None else view.highest.value
        numbers = {
            "lowest": Number(lowest_v, "voltage"),
            "highest": Number(view.highest.value, "voltage"),
        }
        steady = str(numbers["lowest"]) == str(numbers["highest"])
        texts = {
            "range": str(numbers["highest"]) if steady else f"{numbers['lowest']} to {numbers['highest']}",
            "turn": f"around {numbers['highest']}" if steady else f"from {numbers['lowest']} to {numbers['highest']}",
        }
        words = WORDS if view.low_v is None else HIGH_SIDE
        yield RULE.find(Severity.TIGHT, Subject(view.name, view.place, view.highest.case), words, None, numbers, texts)
