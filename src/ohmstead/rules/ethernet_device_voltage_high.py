"""A powered device that gets more volts through its network cable than it bears is destroyed."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.powered import device_class, device_named, fits
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import EthernetView, Evidence, PortView
from ..wiring.ethernet import power_class

RULE = Rule("ethernet-device-voltage-high", Source("ieee-802.3", "clauses 33 and 145, voltage at the device"))
WORDS = Words("up to {value} reach {subject} from port {port} of {source}; {limit} is the most", "{cure}")


def check(evidence: Evidence) -> Iterator[Finding]:
    for view in evidence.ethernet:
        for port in view.ports:
            found = device_named(evidence, port.device.name)
            limit_v = most_v(port)
            if limit_v is None or found is None or found.highest is None or not fits(view.source, port.device):
                continue
            if found.highest.value <= limit_v:
                continue
            above_own = view.input_highest is not None and view.input_highest.value > view.source.input_v.high > 0
            if view.source.output_v is None and above_own:
                continue  # the source itself gets too much: told by converter-input-too-high
            measure = Measure(found.highest.value, limit_v, "voltage")
            texts = {"port": str(port.port), "source": view.name, "cure": _cure(view, limit_v)}
            subject = Subject(port.device.name, port.device.place, found.highest.case)
            yield RULE.find(Severity.DANGER, subject, WORDS, measure, texts=texts)


def most_v(port: PortView) -> float | None:
    """The largest voltage a device bears: of its own window, else of its class. [V]"""
    if port.device.input_v is not None:
        return port.device.input_v.high
    if port.device.over != "ethernet":
        return None
    return power_class(device_class(port.device)).device_most_v


def _cure(view: EthernetView, limit_v: float) -> str:
    bears = Number(limit_v, "voltage")
    if view.source.output_v is None:
        return f"feed {view.name} through a converter that holds its voltage below {bears}"
    return f"take a source that makes less than {bears}, in place of {view.name}"
