"""Passive power puts volts on the cable unasked; standard power waits for an answer: the two do not mix."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.powered import device_class, fits
from ..evidence.state import Rule, Subject
from ..evidence.views import EthernetView, Evidence, PortView
from ..wiring.ethernet import power_class

RULE = Rule("passive-into-standard", Source("ieee-802.3", "detection before power, clause 33"))
UNASKED = Words(
    "{source} is passive and puts up to {volts} on the cable to {subject}, made to take no power from a network cable",
    "unplug it before anything is switched on; feed {subject} by its own cable, or take a source that asks first",
)
WRONG_SIDE = Words(
    "{source} is passive and puts up to {volts} on the cable to {subject}, made for the standard ({least} to "
    "{most}): {effect}",
    "take a source of the standard for {subject}, or a splitter that makes its own voltage from passive power",
)
UNHEARD = Words(
    "{source} keeps to the standard ({standard}) and waits for an answer that {subject}, made for passive power, "
    "never gives: the port stays dark",
    "take a passive source with the voltage of {subject}, or put a converter between standard port and passive device",
)
NO_TAKER = Words(
    "port {port} of {source} is to feed {subject}, made to take no power from a network cable",
    "state `over: ethernet` if it does, feed it by a cable of its own, or use a splitter",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for view in evidence.ethernet:
        for port in view.ports:
            if not fits(view.source, port.device):
                yield _find(view, port)


def _find(view: EthernetView, port: PortView) -> Finding:
    device = port.device
    subject = Subject(device.name, device.place)
    high_v = (
        view.source.output_v.high
        if view.source.output_v
        else (view.input_highest.value if view.input_highest else port.port_v.value)
    )
    standard = power_class(device_class(device))
    texts = {
        "source": view.name,
        "port": str(port.port),
        "standard": view.source.standard,
        "volts": str(Number(high_v, "voltage")),
        "least": str(Number(standard.device_least_v, "voltage")),
        "most": str(Number(standard.device_most_v, "voltage")),
        "effect": _effect(high_v, standard.device_least_v, standard.device_most_v),
    }
    if view.source.standard == "passive" and device.over == "wire":
        return RULE.find(Severity.DANGER, subject, UNASKED, texts=texts)
    if view.source.standard == "passive":
        grave = Severity.DANGER if high_v > standard.device_most_v else Severity.FAILS
        return RULE.find(grave, subject, WRONG_SIDE, texts=texts)
    words = NO_TAKER if device.over == "wire" else UNHEARD
    return RULE.find(Severity.FAILS, subject, words, texts=texts)


def _effect(high_v: float, least_v: float, most_v: float) -> str:
    if high_v < least_v:
        return "it never starts"
    if high_v > most_v:
        return "it is destroyed"
    return "it may start, but nothing was agreed on and nothing guards the port"
