"""A converter whose input falls below its lockout or its window switches off when it is needed most."""

from collections.abc import Iterator

from ..evidence.drops import thicker
from ..evidence.feeding import Inlet, converter_named, fed_by, inlets, way_to
from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.remedy import wire_words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import ConverterView, Evidence, Worst
from .lockout_hunting import hunts
from .no_disconnect import spare_v
from .supply_collapses import collapses_at

RULE = Rule("converter-locked-out", Source("common-practice", "input under-voltage lockout of converter modules"))
# Lockout comparators are commonly off by a few per cent from module to module; common practice, no source.
LOCKOUT_TOLERANCE = 0.03
OFF = Words(
    "the input of {subject} falls to {value}; below {limit} it switches off, and with it all that it feeds",
    "{cure}",
)
BELOW = Words(
    "the input of {subject} falls to {value}; its window begins at {limit}, below that nothing is promised",
    "{cure}",
)
CLOSE = Words(
    "the input of {subject} falls to {value}, next to its lockout of {limit}: lockouts are off by up to "
    "{tolerance} from module to module",
    "{cure}",
)
STAYS_OFF = Words(
    "with the battery low {subject} keeps running, but once off it stays off: its input comes back to "
    "{value} and it starts only at {limit}",
    "take a converter that starts below {value}, or open the low-voltage disconnect earlier",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for inlet in inlets(evidence):
        view = converter_named(evidence, inlet.name)
        if inlet.lowest is None or inlet.victim_of or collapses_at(evidence, inlet.name) or (view and hunts(view)):
            continue
        yield from _judge(evidence, inlet, inlet.lowest, view)


def _judge(evidence: Evidence, inlet: Inlet, lowest: Worst, view: ConverterView | None) -> Iterator[Finding]:
    """The gravest thing to say about one input, or nothing."""
    subject = Subject(inlet.name, inlet.place, lowest.case)
    off_v = inlet.lockout.off_v if inlet.lockout else 0.0
    spare = spare_v(evidence, fed_by(evidence, inlet.name), inlet.name)
    if lowest.value + spare > max(off_v, inlet.window.low) > lowest.value:
        return  # it goes off because its battery is flat, and so spares it
    if lowest.value < off_v or (view is not None and view.locked_out is not None):
        limit_v = off_v or inlet.window.low
        yield _find(evidence, Severity.FAILS, subject, OFF, Measure(lowest.value, limit_v, "voltage", "least"))
    elif lowest.value < inlet.window.low:
        measure = Measure(lowest.value, inlet.window.low, "voltage", "least")
        yield _find(evidence, Severity.FAILS, subject, BELOW, measure)
    elif off_v and lowest.value < off_v * (1 + LOCKOUT_TOLERANCE):
        yield _find(evidence, Severity.TIGHT, subject, CLOSE, Measure(lowest.value, off_v, "voltage", "least"))
    elif inlet.lockout and view is not None and 0 < view.source_v <= inlet.lockout.on_v:
        measure = Measure(view.source_v, inlet.lockout.on_v, "voltage", "least")
        yield RULE.find(Severity.TIGHT, Subject(inlet.name, inlet.place), STAYS_OFF, measure)


def _find(evidence: Evidence, severity: Severity, subject: Subject, words: Words, measure: Measure) -> Finding:
    view = converter_named(evidence, subject.name)
    wanted_v = measure.limit * (1 + LOCKOUT_TOLERANCE)
    numbers = {
        "tolerance": Number(LOCKOUT_TOLERANCE, "share", "assumed"),
        "wanted": Number(wanted_v, "voltage"),
    }
    cure = _cure(evidence, subject.name, wanted_v, wanted_v - measure.value)
    if view is not None and 0 < view.source_v <= measure.limit:
        cure = (
            f"take a converter that works from less, or raise what {fed_by(evidence, view.name)} gives "
            f"({Number(view.source_v, 'voltage')}) well above {numbers['wanted']}"
        )
    return RULE.find(severity, subject, words, measure, numbers, {"cure": cure})


def _cure(evidence: Evidence, name: str, wanted_v: float, gain_v: float) -> str:
    """The run to thicken when one alone does it, or the converter before it to set higher."""
    feeder = converter_named(evidence, fed_by(evidence, name))
    if feeder is not None and feeder.converter.output_v.low <= wanted_v:
        arrive = Number(wanted_v, "voltage")
        return f"set {feeder.name} higher, so that at least {arrive} arrive with its tolerance"
    found = thicker(way_to(evidence, name), gain_v, "start-up")
    if found is None:
        return "lay shorter and thicker wires all the way from the battery, or take a converter that works from less"
    run, wire = found
    way = run.name.replace("->", "to")
    return f"lay {wire_words(wire)} or thicker from {way}, or take a converter that works from less"
