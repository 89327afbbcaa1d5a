"""A powered device at the end of a long or thin network cable gets too little voltage when it takes most."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.powered import device_class, device_named, fits
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import EthernetView, Evidence, PortView, Worst
from ..quantity.show import show_length_both
from ..site.model import Run
from ..wiring.ethernet import power_class
from ..wiring.stability import largest_loop_ohm

RULE = Rule("ethernet-device-voltage-low", Source("ieee-802.3", "clauses 33 and 145, voltage at the device"))
WORDS = Words(
    "{subject} gets {value} at the end of {length} of {cable}; {why} {limit}. The port stands at {port_v}",
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
        "cure": _cure(port, run, least, lowest),
    }
    subject = Subject(port.device.name, port.device.place, lowest.case)
    yield RULE.find(
        Severity.FAILS, subject, WORDS, Measure(lowest.value, least, "voltage", "least"), numbers, texts
    )


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


def _cure(port: PortView, run: Run, least: float, lowest: Worst) -> str:
    """The loop that would do, as a length of the same cable or as more pairs."""
    source_v = port.port_v.value or lowest.value
    wanted_ohm = largest_loop_ohm(source_v, port.device_w, least)
    if source_v <= least:
        return "a higher voltage at the port: no cable helps"
    cures = []
    if wanted_ohm > 0 and port.loop_ohm > 0 and run.length_m > 0:
        longest_m = run.length_m * min(1.0, wanted_ohm / port.loop_ohm)
        cures.append(f"at most {show_length_both(float(int(longest_m)))} of this cable")
    if run.pairs < 4:
        cures.append("thicker conductors (23 or 22 AWG), or all four pairs where both ends can use them")
    else:
        cures.append("thicker conductors (23 or 22 AWG)")
    cures.append("a higher port voltage with a converter at the far end")
    return "; or ".join(cures)
