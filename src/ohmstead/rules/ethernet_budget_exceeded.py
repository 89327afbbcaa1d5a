"""An Ethernet power source has one budget for all its ports: past it the last port stays dark."""

from collections.abc import Callable, Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import EthernetView, Evidence, PortView

RULE = Rule("ethernet-budget-exceeded", Source("ieee-802.3", "power classes; budget on the source's own sheet"))
REAL = Words(
    "the devices on {subject} take up to {value} with the loss in their cables; the budget is {limit}, and counted "
    "in port order it ends at port {port} ({device})",
    "take a source with a budget of {ample} or more, hang fewer devices on this one, or lay a shorter or thicker "
    "cable to the farthest",
)
RESERVED = Words(
    "the devices on {subject} take up to {real}, but by their classes {value} is reserved; the budget is {limit}, "
    "and a source that reserves by class leaves port {port} ({device}) dark",
    "let the source hand out power by what is measured, if it can be set so; state the class of the devices if it "
    "is lower; or take a budget of {ample}",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for view in evidence.ethernet:
        budget_w = view.source.budget_w
        if budget_w is None or not view.ports:
            continue
        numbers = {"real": Number(view.total_w, "power")}
        subject = Subject(view.name, view.place)
        if view.total_w > budget_w:
            texts = _loser(view, budget_w, lambda port: port.port_w)
            yield RULE.find(Severity.FAILS, subject, REAL, Measure(view.total_w, budget_w, "power"), numbers, texts)
        elif view.reserved_w > budget_w and view.source.standard != "passive":
            texts = _loser(view, budget_w, lambda port: port.reserved_w)
            measure = Measure(view.reserved_w, budget_w, "power")
            yield RULE.find(Severity.TIGHT, subject, RESERVED, measure, numbers, texts)


def _loser(view: EthernetView, budget_w: float, power: Callable[[PortView], float]) -> dict[str, str]:
    """The first port, counted from the lowest, that the budget does not reach."""
    left_w = budget_w
    for port in sorted(view.ports, key=lambda port: port.port):
        left_w -= power(port)
        if left_w < 0:
            return {"port": str(port.port), "device": port.device.name}
    last = view.ports[-1]
    return {"port": str(last.port), "device": last.device.name}
