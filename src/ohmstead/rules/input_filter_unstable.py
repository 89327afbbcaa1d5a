"""A converter on long wires with too little capacitance at its input can oscillate with them."""

from collections.abc import Iterator
from math import sqrt

from ..evidence.feeding import way_to
from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import ConverterView, Evidence
from ..wiring.stability import input_resistance_ohm

RULE = Rule("input-filter-unstable", Source("middlebrook-1976", "impedance of the source below that of the converter"))
CABLE_H_PER_M = 1e-6  # loop inductance of two wires side by side; common practice, no source
MARGIN = 2.0  # 6 dB, the least that Middlebrook's criterion asks for (second-hand: 6 to 10 dB)
LEAST_RATIO = 4.0  # damping capacitor over input capacitor; second-hand, from a design note on filter damping
UNSTABLE = Words(
    "{subject} and its wires can swing against each other: {wires} of loop and {capacitance} at its input "
    "make {value}, the converter itself shows {limit} at {input}",
    "put an electrolytic capacitor of {damping} or more with {series} in series (its own resistance counts) "
    "across the input of {subject}",
)
CLOSE = Words(
    "{subject} and its wires are close to swinging against each other: {wires} of loop and {capacitance} at "
    "its input make {value}, the converter itself shows {shown} at {input}, and twice as much is asked for",
    "put an electrolytic capacitor of {damping} or more with {series} in series (its own resistance counts) "
    "across the input of {subject}",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for view in evidence.converters:
        length_m = sum(run.run.length_m for run in way_to(evidence, view.name))
        if view.converter.capacitance_f <= 0 or length_m <= 0 or view.locked_out or view.victim_of:
            continue
        yield from _judge(view, length_m * CABLE_H_PER_M)


def _judge(view: ConverterView, cable_h: float) -> Iterator[Finding]:
    lowest = view.input_lowest
    if lowest is None or view.input_a.value <= 0:
        return
    capacitance_f = view.converter.capacitance_f
    surge_ohm = sqrt((cable_h + view.converter.inductance_h) / capacitance_f)
    shown_ohm = input_resistance_ohm(lowest.value, lowest.value * view.input_a.value)
    if surge_ohm * MARGIN <= shown_ohm:
        return
    ratio, series_ohm = damping(surge_ohm, shown_ohm)
    numbers = {
        "wires": Number(cable_h + view.converter.inductance_h, "inductance"),
        "capacitance": Number(capacitance_f, "capacitance", "stated"),
        "input": Number(lowest.value, "voltage"),
        "shown": Number(shown_ohm, "resistance"),
        "damping": Number(ratio * capacitance_f, "capacitance"),
        "series": Number(series_ohm, "resistance"),
    }
    subject = Subject(view.name, view.place, lowest.case)
    if surge_ohm > shown_ohm:
        yield RULE.find(Severity.FAILS, subject, UNSTABLE, Measure(surge_ohm, shown_ohm, "resistance"), numbers)
    else:
        measure = Measure(surge_ohm, shown_ohm / MARGIN, "resistance")
        yield RULE.find(Severity.TIGHT, subject, CLOSE, measure, numbers)


def damping(surge_ohm: float, shown_ohm: float) -> tuple[float, float]:
    """The damping capacitor as a multiple of the input capacitor, and the resistance in series with it [Ω].

    With n the ratio, the flattest peak is Z·√(2·(2 + n)) / n, reached with a resistance of
    Z·√((2 + n)·(4 + 3·n) / (2·n²·(4 + n))); n is taken so that the peak keeps the margin. Optimum parallel
    damping, from memory of the literature that follows Middlebrook.
    """
    wanted = shown_ohm / MARGIN / surge_ohm
    n = max(LEAST_RATIO, (1 + sqrt(1 + 4 * wanted**2)) / wanted**2)
    return n, surge_ohm * sqrt((2 + n) * (4 + 3 * n) / (2 * n**2 * (4 + n)))
