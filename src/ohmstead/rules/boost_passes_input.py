"""A boost converter cannot hold its output below its input: it passes the battery through."""

from collections.abc import Iterator

from ..evidence.feeding import fed_by
from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import ConverterView, Evidence

RULE = Rule("boost-passes-input", Source("common-practice", "direct path from input to output of a boost converter"))
HARMS = Words(
    "up to {value} come in at {subject}, set to {limit}: a boost passes that through, and {harmed}",
    "take a converter that steps both up and down, or a higher set voltage and devices that bear it",
)
LOSES_HOLD = Words(
    "up to {value} come in at {subject}, set to {limit}: a boost passes that through instead of holding its output",
    "take a converter that steps both up and down, or a set voltage above {value}",
)
HARMLESS = Words(
    "up to {value} come in at {subject}, set to {limit}: a boost passes that through. What hangs on it bears it",
    "leave it; look again before anything else is connected to it",
)


def passed_v(view: ConverterView) -> float | None:
    """The input voltage that a boost passes on, when it is above all that its set voltage may be."""
    if view.converter.type != "boost" or view.input_highest is None:
        return None
    set_v = view.converter.output_v.high
    return view.input_highest.value if view.input_highest.value > set_v > 0 else None


def check(evidence: Evidence) -> Iterator[Finding]:
    own_voltage = {view.name for view in evidence.ethernet}
    for view in evidence.converters:
        high_v = passed_v(view)
        if high_v is None or view.input_highest is None or view.name in own_voltage:
            continue
        behind = _windows_behind(evidence, view)
        harmed = {name: limit_v for name, limit_v in behind.items() if limit_v is not None and limit_v < high_v}
        subject = Subject(view.name, view.place, view.input_highest.case)
        measure = Measure(high_v, view.converter.output_v.high, "voltage")
        if harmed:
            most = {name: Number(limit_v, "voltage") for name, limit_v in harmed.items()}
            told = " and ".join(f"{name} may get {limit} at most" for name, limit in most.items())
            yield RULE.find(Severity.DANGER, subject, HARMS, measure, texts={"harmed": told})
        elif behind and all(limit_v is not None for limit_v in behind.values()):
            yield RULE.find(Severity.TIGHT, subject, HARMLESS, measure)
        else:
            yield RULE.find(Severity.FAILS, subject, LOSES_HOLD, measure)


def _windows_behind(evidence: Evidence, view: ConverterView) -> dict[str, float | None]:
    """Upper end of the window of all that hangs on its output; None where it is not known."""
    found: dict[str, float | None] = {d.name: d.high_v for d in evidence.devices if d.fed_by == view.name}
    for other in evidence.converters:
        if fed_by(evidence, other.name) == view.name:
            found[other.name] = other.converter.input_v.high or None
    for source in evidence.ethernet:
        if fed_by(evidence, source.name) == view.name:
            found[source.name] = source.source.input_v.high or None
    return found
