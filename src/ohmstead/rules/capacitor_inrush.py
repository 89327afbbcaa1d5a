"""Empty capacitors switched on at once draw a pulse that trips a battery, opens a fuse or welds a contact."""

from collections.abc import Iterator

from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.rush import Rush, rush_at_battery, rush_into_run
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence, RunView
from ..quantity.show import show
from ..wiring.fuse_time import melting_a2s, melting_window_s
from ..wiring.inrush import pulse_share

RULE = Rule("capacitor-inrush", Source("battery-textbook", "charging a capacitor: peak U/R, heat C·U²/2"))
# Electronics of a battery take a short for real after 0.1 to 0.5 ms; common practice, no source.
SURELY_MISSED_S, SURELY_SEEN_S = 1e-4, 5e-4
STARTS = 10_000.0  # a start a day for 27 years; common practice
# A contact bears ten times its rating for the moment a cold lamp takes, from memory of lamp ratings of switches;
# a spark below one joule leaves no mark worth naming, common practice.
CONTACT_TIMES, SPARK_WS = 10.0, 1.0
PRECHARGE = (
    "connect through {resistor} first, with all loads off, wait {wait} and then close the main path; or fit a part "
    "that does so by itself"
)
TRIPS = Words(
    "the empty input capacitors behind {subject} ({into}) draw up to {value} for {above} above the short-trip of "
    "{limit}: its electronics {verb} cut off",
    PRECHARGE,
)
MELTS = Words(
    "charging {into} puts {value} into the {fuse} in {subject}, which {verb} melt at {melting}; it should stay below "
    "{limit}",
    "take a slower or larger fuse if the wire allows it, or " + PRECHARGE,
)
SPARKS = Words(
    "charging {into} draws up to {value} through {contact}, made for {rating}: the spark of {energy} pits or welds it",
    PRECHARGE,
)


def check(evidence: Evidence) -> Iterator[Finding]:
    tripping = set()
    for battery in evidence.batteries:
        rush, trip_a = rush_at_battery(evidence, battery), battery.battery.limits.short_trip_a
        if rush is None or trip_a is None or rush.above_s(trip_a) <= SURELY_MISSED_S:
            continue
        tripping.add(battery.name)
        sure = rush.above_s(trip_a) >= SURELY_SEEN_S
        numbers = _numbers(rush) | {"above": Number(rush.above_s(trip_a), "time")}
        yield RULE.find(
            Severity.FAILS if sure else Severity.TIGHT,
            Subject(battery.name, battery.place),
            TRIPS,
            Measure(rush.peak_a, trip_a, "current"),
            numbers,
            _texts(rush) | {"verb": "will" if sure else "may"},
        )
    melting: dict[str, tuple[Finding, ...]] = {}
    for view in evidence.runs:
        rush = rush_into_run(evidence, view)
        if rush is None or view.fed_by in tripping:
            continue
        melting[view.name] = tuple(_melting(view, rush))
        yield from _sparking(evidence, view, rush)
    for name, found in melting.items():
        if not any(melting.get(below) for below in evidence.run(name).downstream):  # the thinner fuse tells of it
            yield from found


def _melting(view: RunView, rush: Rush) -> Iterator[Finding]:
    """A pulse of some milliseconds against the melting I²t of the run's own fuse."""
    if view.own_fuse is None or view.own_fuse.fuse.family.kind == "breaker":
        return
    fuse = view.own_fuse.fuse
    soonest, limit = melting_a2s(fuse), melting_a2s(fuse) * pulse_share(STARTS)
    if rush.heat_a2s <= limit:
        return
    highest_a = max(gate.percent for gate in fuse.window.gates) * fuse.rating_a / 100
    latest = highest_a**2 * melting_window_s(fuse, highest_a)[1]
    sure = rush.heat_a2s >= latest
    verb = "will" if sure else "may" if rush.heat_a2s >= soonest else "wears out and in the end may"
    melting = Number(latest if sure else soonest, "fuse heat", "table")
    yield RULE.find(
        Severity.FAILS if sure else Severity.TIGHT,
        Subject(view.name, view.place),
        MELTS,
        Measure(rush.heat_a2s, limit, "fuse heat"),
        _numbers(rush) | {"melting": melting},
        _texts(rush) | {"fuse": str(fuse), "verb": verb},
    )


def _sparking(evidence: Evidence, view: RunView, rush: Rush) -> Iterator[Finding]:
    """A switch that the run feeds, or a plug at its end, that closes onto the capacitors."""
    switch = next((s for s in evidence.switches if s.name == view.run.end.part and s.part.rating_a), None)
    rated = [
        (end.rating_a, f"the {end.name} of {view.name}")
        for end in view.run.ends
        if end is not None and end.rating_a is not None
    ]
    if switch is not None and switch.part.rating_a:
        rated.append((switch.part.rating_a, switch.name))
    rating_a, contact = min(rated, default=(0.0, ""))
    if not contact or rush.energy_ws < SPARK_WS or rush.peak_a <= CONTACT_TIMES * rating_a:
        return
    numbers = _numbers(rush) | {"rating": Number(rating_a, "current")}
    texts = _texts(rush) | {"contact": contact, "energy": f"{rush.energy_ws:.2g} J"}
    measure = Measure(rush.peak_a, CONTACT_TIMES * rating_a, "current")
    yield RULE.find(Severity.TIGHT, Subject(view.name, view.place), SPARKS, measure, numbers, texts)


def _numbers(rush: Rush) -> dict[str, Number]:
    return {
        "capacitance": Number(rush.capacitance_f, "capacitance", "stated"),
        "loop": Number(rush.loop_ohm, "resistance"),
        "voltage": Number(rush.voltage_v, "voltage"),
    }


def _texts(rush: Rush) -> dict[str, str]:
    first, rest = rush.into[0], len(rush.into) - 1
    wait_s = max(1.0, rush.precharge_s())  # a hand cannot do less than a second
    return {
        "into": f"{first} and {rest} more, {show(rush.capacitance_f, 'capacitance')} together"
        if rest
        else f"{show(rush.capacitance_f, 'capacitance')} in {first}",
        "resistor": f"{show(rush.precharge_ohm(), 'resistance')} (5 W or more)",
        "wait": show(wait_s, "time", 2),
    }
