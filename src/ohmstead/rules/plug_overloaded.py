"""A plug or terminal that carries more than it is made for melts before any fuse notices."""

from collections.abc import Iterator

from ..evidence.ends import Joint, joints
from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence
from ..parts.plug import End, tab_rating_a

RULE = Rule("plug-overloaded", Source("ul-310", "test currents; other kinds by their own standard"))
DATA_PLUGS = ("rj45",)  # several contacts side by side, judged with the port
WORDS = Words(
    "the {end} of {subject} {where} carries {value} for long and is made for {limit}{wire}",
    "take a plug or terminal made for {ample} or more",
)
START = Words(
    "at the start of {device}, the {end} of {subject} {where} carries {value} for {seconds}; it is made for "
    "{limit}{wire}",
    "feel it after a start; if it gets warm take one made for {ample}",
)
BRIEF = Words(
    "at a start the {end} of {subject} {where} carries {value}; it is made for {limit}{wire}",
    "feel it after a start; if it gets warm take one made for {ample}",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for joint in joints(evidence):
        weakest = _weakest(joint)
        if weakest is None:
            continue
        end, limit_a = weakest
        texts = {"end": end.name, "where": joint.where, "wire": _on_wire(joint, end)}
        view = joint.view
        if view.sustained.value > limit_a:
            yield RULE.find(
                Severity.DANGER,
                Subject(view.name, view.place, view.sustained.case),
                WORDS,
                Measure(view.sustained.value, limit_a, "current"),
                _numbers(view.sustained.value, end),
                texts,
            )
        elif view.current.value > limit_a:
            pulse = max(view.pulses, key=lambda pulse: pulse.current_a, default=None)
            numbers = _numbers(view.current.value, end)
            if pulse is not None:
                numbers["seconds"] = Number(pulse.seconds, "time", "stated")
                texts["device"] = pulse.device
            yield RULE.find(
                Severity.TIGHT,
                Subject(view.name, view.place, view.current.case),
                START if pulse else BRIEF,
                Measure(view.current.value, limit_a, "current"),
                numbers,
                texts,
            )


def _weakest(joint: Joint) -> tuple[End, float] | None:
    """Of the plug on the run and the inlet of the part, the one that may carry less."""
    rated = []
    for end in (joint.end, joint.inlet):
        if end is None or end.kind in DATA_PLUGS or joint.view.run.cable is not None:
            continue
        rating_a = _rating_a(joint, end)
        if rating_a is not None:
            rated.append((end, rating_a))
    return min(rated, key=lambda pair: pair[1], default=None)


def _rating_a(joint: Joint, end: End) -> float | None:
    if end.kind == "tab" and joint.view.wire is not None:
        return tab_rating_a(end, joint.view.wire.area_mm2)
    return end.rating_a


def _on_wire(joint: Joint, end: End) -> str:
    return f" on {joint.view.wire}" if end.kind == "tab" and joint.view.wire is not None else ""


def _numbers(current_a: float, end: End) -> dict[str, Number]:
    """The contact's own heat: both poles. [W]"""
    return {"heat": Number(2 * current_a**2 * end.contact_ohm, "power")}
