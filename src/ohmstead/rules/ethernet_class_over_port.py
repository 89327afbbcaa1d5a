"""A powered device that wants more than its port's type or its own class allows is cut off or starved."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.powered import HIGHEST_CLASS, fits
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence, PortView
from ..wiring.ethernet import PowerClass, power_class

RULE = Rule("ethernet-class-over-port", Source("ieee-802.3", "clauses 33 and 145, power by class and type"))
OVER_PORT = Words(
    "up to {value} go to {subject}; port {port} of {source} serves class {most} at most, {limit} at the device",
    "{cure}",
)
OVER_CLASS = Words(
    "up to {value} go to {subject}, whose class {class_} allows {limit} at the device: the port may cut it off",
    "state its true class or its true watts; if both are right, feed it in another way",
)
DEMOTED = Words(
    "{subject}: class {class_}, and port {port} of {source} serves class {most} at most. The {value} still pass "
    "({limit} allowed), if it starts at all on less than its class",
    "{cure}, or read in its sheet that it runs on class {most}",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for view in evidence.ethernet:
        most = HIGHEST_CLASS.get(view.source.standard)
        if most is None:
            continue
        for port in view.ports:
            if fits(view.source, port.device):
                yield from _judge(view.name, port, power_class(most))


def _judge(source: str, port: PortView, served: PowerClass) -> Iterator[Finding]:
    device = port.device
    subject = Subject(device.name, device.place)
    texts = {
        "port": str(port.port),
        "source": source,
        "most": str(served.number),
        "class_": str(device.class_),
        "cure": _cure(port),
    }
    numbers = {"reserved": Number(port.reserved_w, "power", "table")}
    most_w = Measure(port.device_w, served.device_w, "power")
    if port.device_w > served.device_w:
        yield RULE.find(Severity.FAILS, subject, OVER_PORT, most_w, numbers, texts)
    elif device.class_ is not None and device.class_ > served.number:
        yield RULE.find(Severity.TIGHT, subject, DEMOTED, most_w, numbers, texts)
    elif device.class_ is not None and port.device_w > power_class(device.class_).device_w:
        allowed = Measure(port.device_w, power_class(device.class_).device_w, "power")
        yield RULE.find(Severity.FAILS, subject, OVER_CLASS, allowed, numbers, texts)


def _cure(port: PortView) -> str:
    """The least type of port that serves the device."""
    for standard, number in HIGHEST_CLASS.items():
        enough = power_class(number).device_w >= port.device_w
        if enough and (port.device.class_ is None or number >= port.device.class_):
            return f"use a port of type `{standard}` or above"
    return "feed it by a cable of its own: no port of the standard gives that much"
