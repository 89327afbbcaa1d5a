"""An Ethernet power source fed with too little voltage cannot keep what its type promises at the far end."""

from collections.abc import Iterator

from ..evidence.feeding import converter_named, fed_by
from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.powered import HIGHEST_CLASS, device_class, fits
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import EthernetView, Evidence, PortView
from ..wiring.ethernet import power_class

RULE = Rule("ethernet-port-voltage-low", Source("ieee-802.3", "clauses 33 and 145, voltage at the source"))
WORDS = Words(
    "the ports of {subject} stand at {value} at worst; {type} asks for {limit} at the port, and {device} "
    "(class {class_}) counts on it",
    "{cure}",
)
ENOUGH_HERE = Words(
    "the ports of {subject} stand at {value} at worst; {type} asks for {limit} at the port. What hangs on it now "
    "gets along with {least}",
    "{cure}, before a device of a higher class is added",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for view in evidence.ethernet:
        most = HIGHEST_CLASS.get(view.source.standard)
        ports = [port for port in view.ports if port.port_v.value > 0 and fits(view.source, port.device)]
        if most is None or not ports or _off(view):
            continue
        port = min(ports, key=lambda port: port.port_v.value)
        type_v = power_class(most).source_least_v
        if port.port_v.value >= type_v:
            continue
        short = [p for p in ports if p.port_v.value < power_class(device_class(p.device)).source_least_v]
        yield _find(evidence, view, short or [port], type_v, Severity.FAILS if short else Severity.TIGHT)


def _off(view: EthernetView) -> bool:
    """True when its input falls below its own window: told by converter-locked-out."""
    lowest = view.input_lowest
    return lowest is not None and lowest.value < view.source.input_v.low


def _find(evidence: Evidence, view: EthernetView, ports: list[PortView], type_v: float, severity: Severity) -> Finding:
    port = max(ports, key=lambda port: device_class(port.device))
    least_v = power_class(device_class(port.device)).source_least_v
    limit_v = type_v if severity is Severity.TIGHT else least_v
    texts = {
        "type": f"their type `{view.source.standard}`",
        "device": port.device.name,
        "class_": str(device_class(port.device)),
        "cure": _cure(evidence, view, type_v),
    }
    numbers = {"least": Number(least_v, "voltage", "table")}
    subject = Subject(view.name, view.place, port.port_v.case)
    measure = Measure(port.port_v.value, limit_v, "voltage", "least")
    return RULE.find(severity, subject, ENOUGH_HERE if severity is Severity.TIGHT else WORDS, measure, numbers, texts)


def _cure(evidence: Evidence, view: EthernetView, type_v: float) -> str:
    wanted = Number(type_v, "voltage")
    if view.source.output_v is not None:
        return f"take a source that makes at least {wanted} itself, tolerance counted"
    feeder = converter_named(evidence, fed_by(evidence, view.name))
    if feeder is not None:
        return f"set {feeder.name} so that at least {wanted} arrive (54 V is usual), tolerance and wires counted"
    return f"feed it from a converter that holds 54 V, so that at least {wanted} arrive with the battery low"
