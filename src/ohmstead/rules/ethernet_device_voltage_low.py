"""A powered device at the end of a long or thin network cable gets too little voltage when it takes most."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.powered import device_class, device_named, fits
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import EthernetView, Evidence, PortView
from ..quantity.show import show_length_both
from ..site.model import Run
from ..wiring.ethernet import power_class
from ..wiring.stability import largest_loop_ohm

RULE = Rule("ethernet-device-voltage-low", Source("ieee-802.3", "clauses 33 and 145, voltage at the device"))
WORDS = Words(
    "{value} reach {subject} at the end of {length} of {cable}; {why} {limit}. The port stands at {port_v}",
    "{cure}",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for view in evidence.ethernet:
        for port in view.ports:
            if fits(view.source, port.device):
                yield from _judge(evidence, view, port)


def _judge(evidence: Evidence, view: EthernetView, port: PortView) -> Iterator[Finding]:
    found = device_named(evidence, port.device.name)
    least = least_v(port)
    if found is None or found.victim_of or least is None:
        return
    known = [worst for worst in (found.browned_out, found.lowest, port.device_v) if worst and worst.value > 0]
    lowest = min(known, key=lambda worst: worst.value, default=None)
    if lowest is None or lowest.value >= least or _port_is_low(view, port):
        return
    run = evidence.run(port.run).run
    numbers = {"port_v": Number(port.port_v.value, "voltage"), "loop": Number(port.loop_ohm, "resistance")}
    texts = {
        "length": show_length_both(run.length_m),
        "cable": str(run.cable or "cable"),
        "why": "it needs" if _own_window(port) else f"class {device_class(port.device)} needs",
        "cure": _cure(port, run, least, _port_v(view, port)),
    }
    subject = Subject(port.device.name, port.device.place, lowest.case)
    yield RULE.find(Severity.FAILS, subject, WORDS, Measure(lowest.value, least, "voltage", "least"), numbers, texts)


def least_v(port: PortView) -> float | None:
    """The least voltage of a device: of its own window, else of its class; None when neither is known. [V]"""
    own = _own_window(port)
    if own is not None:
        return own
    if port.device.over != "ethernet":
        return None
    return power_class(device_class(port.device)).device_least_v


def _own_window(port: PortView) -> float | None:
    window = port.device.input_v
    return window.low if window is not None else port.device.cutoff_v


def _port_is_low(view: EthernetView, port: PortView) -> bool:
    """True when the port itself is below what the class counts on: told by ethernet-port-voltage-low."""
    if view.source.standard == "passive":
        return False
    return 0 < port.port_v.value < power_class(device_class(port.device)).source_least_v


def _port_v(view: EthernetView, port: PortView) -> float:
    """The least voltage at the port; a device that dropped out leaves the source's input to go by. [V]"""
    known = [port.port_v.value]
    if view.source.output_v is None and view.input_lowest is not None:
        known.append(view.input_lowest.value)
    return min((volts for volts in known if volts > 0), default=0.0)


def _cure(port: PortView, run: Run, least: float, source_v: float) -> str:
    """The loop that would do, as a length of the same cable or as more pairs."""
    if source_v <= least:
        return "raise the voltage at the port: no cable helps"
    wanted_ohm = largest_loop_ohm(source_v, port.device_w, least)
    cures = []
    if 0 < wanted_ohm < port.loop_ohm:
        longest_m = float(int(run.length_m * wanted_ohm / port.loop_ohm))
        cures.append(f"at most {show_length_both(longest_m)} of this cable")
    cures.append("thicker conductors (23 or 22 AWG)")
    if run.pairs < 4:
        cures.append("all four pairs, where both ends can use them")
    cures.append("a higher port voltage with a converter at the far end")
    return "use " + "; or ".join(cures)
