"""A network cable over 100 m, or with too much resistance for its class, keeps no promise of power."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.powered import device_class, device_named, fits
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import EthernetView, Evidence, PortView, RunView
from ..quantity.show import show_length_both
from ..wiring.ethernet import power_class

RULE = Rule("ethernet-run-too-long", Source("iec-11801", "length of a channel; loop resistance of IEEE 802.3"))
LONGEST_M = 100.0  # ISO/IEC 11801: channel with its patch cords; second-hand
LENGTH = Words(
    "the network cable {run} is {length} long; {most} is the most for data and power",
    "put a switch or repeater on the way, or use a radio link, or optical fibre with its own power",
)
RESISTANCE = Words(
    "the cable {run} has {value} out and back when hot; class {class_} counts on {limit} at most",
    "lay a shorter cable, or thicker conductors: 23 or 22 AWG solid copper",
)
TWO_PAIRS = Words(
    "the cable {run} carries power on {pairs} pairs; class {class_} uses four, and over {pairs} the loop has "
    "{value} where {limit} is the most",
    "write `pairs: 4` if all pairs are connected through, and see that they are",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    ports = {port.run: (view, port) for view in evidence.ethernet for port in view.ports}
    for view in evidence.runs:
        if view.run.cable is None:
            continue
        end = device_named(evidence, view.run.end.part)
        if view.run.length_m > LONGEST_M and (view.name in ports or (end and end.device.over != "wire")):
            texts = {
                "length": show_length_both(view.run.length_m),
                "most": show_length_both(LONGEST_M),
                "run": _words(view),
            }
            measure = Measure(view.run.length_m, LONGEST_M, "length")
            yield RULE.find(Severity.FAILS, Subject(view.name, view.place), LENGTH, measure, texts=texts)
        elif view.name in ports and view.run.cable.metal == "copper":
            yield from _resistance(view, *ports[view.name])


def _resistance(view: RunView, source: EthernetView, port: PortView) -> Iterator[Finding]:
    """A loop above what the class of the device counts on; clad cable is told by its own rule."""
    if source.source.standard == "passive" or not fits(source.source, port.device):
        return
    served = power_class(device_class(port.device))
    if port.loop_ohm <= served.loop_ohm:
        return
    measure = Measure(port.loop_ohm, served.loop_ohm, "resistance")
    texts = {"class_": str(served.number), "pairs": str(view.run.pairs), "run": _words(view)}
    numbers = {"length": Number(view.run.length_m, "length", "stated")}
    few = view.run.pairs < served.pairs
    stated = view.run.origin.get("pairs")
    tight = few and (stated is None or stated.how != "stated")
    severity = Severity.TIGHT if tight else Severity.FAILS
    words = TWO_PAIRS if few else RESISTANCE
    yield RULE.find(severity, Subject(view.name, view.place), words, measure, numbers, texts)


def _words(view: RunView) -> str:
    return f"from {view.run.start} to {view.run.end}"
