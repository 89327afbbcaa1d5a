"""A buck converter whose input sinks to its output can only follow the battery down."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import ConverterView, DeviceView, Evidence

RULE = Rule("buck-in-dropout", Source("common-practice", "drop-out of step-down converters"))
LEAVES = Words(
    "the input of {subject} falls to {input}, too little to hold its output of {set}: the output follows the "
    "battery down, and {harmed}",
    "take a converter that steps both up and down, or a device that works from less",
)
FOLLOWS = Words(
    "the input of {subject} falls to {input}, too little to hold its output of {set}: the output follows the "
    "battery down",
    "leave it while everything on it may get that little (the windows stated say so); else take a converter that "
    "steps both up and down",
)
UNKNOWN = Words(
    "the input of {subject} falls to {input}, too little to hold its output of {set}: the output follows the "
    "battery down",
    "take a converter that steps both up and down, or state the window of what hangs on it",
)


def in_dropout(view: ConverterView) -> bool:
    """True when it is a buck that runs but cannot regulate in some case."""
    return view.converter.type == "buck" and bool(view.passing) and not view.victim_of and view.locked_out is None


def check(evidence: Evidence) -> Iterator[Finding]:
    for view in evidence.converters:
        if not in_dropout(view) or view.input_lowest is None:
            continue
        set_v = view.converter.output_v.nominal
        behind = [device for device in evidence.devices if device.fed_by == view.name]
        harmed = [device for device in behind if _leaves_window(device)]
        known = all(device.low_v is not None for device in behind)
        words, severity = (FOLLOWS, Severity.TIGHT) if known else (UNKNOWN, Severity.FAILS)
        if harmed:
            words, severity = LEAVES, Severity.FAILS
        input_v = view.input_lowest.value
        numbers = {"set": Number(set_v, "voltage", "stated"), "input": Number(input_v, "voltage")}
        subject = Subject(view.name, view.place, view.passing)
        measure = Measure(input_v, set_v, "voltage", "least") if input_v < set_v else None
        yield RULE.find(severity, subject, words, measure, numbers, {"harmed": " and ".join(map(_told, harmed))})


def _leaves_window(device: DeviceView) -> bool:
    if device.browned_out is not None:
        return True
    return device.low_v is not None and device.lowest is not None and device.lowest.value < device.low_v


def _told(device: DeviceView) -> str:
    least = Number(device.low_v, "voltage") if device.low_v is not None else "the cut-off"
    return f"{device.name} may get no less than {least}"
