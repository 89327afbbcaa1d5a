"""A terminal crimped on a wire it is not made for holds a few strands, or none."""

from collections.abc import Iterator

from ..evidence.ends import joints
from ..evidence.finding import Finding, Number, Severity, Source, Words
from ..evidence.state import Measure, Rule, Subject
from ..evidence.views import Evidence
from ..parts.plug import End, read_end, takes_wire
from ..parts.yaml_data import part_file

SOURCE = Source("din-46235", "wire ranges; other kinds by their own standard")
RULE = Rule("terminal-does-not-take-wire", SOURCE)
WORDS = Words(
    "the {end} of {subject} {where} does not take its wire of {value}: {reason}",
    "{cure}; never cut strands away and never fold a thin wire double",
)


def check(evidence: Evidence) -> Iterator[Finding]:
    for joint in joints(evidence):
        view = joint.view
        if joint.end is None or view.wire is None or joint.end.assumed:
            continue
        area_mm2 = view.wire.area_mm2
        reason = takes_wire(joint.end, area_mm2)
        if not reason:
            continue
        over = joint.end.wire_most_mm2 is not None and area_mm2 > joint.end.wire_most_mm2
        limit_mm2 = (joint.end.wire_most_mm2 if over else joint.end.wire_least_mm2) or 0.0
        yield RULE.find(
            Severity.FAILS,
            Subject(view.name, view.place),
            WORDS,
            Measure(area_mm2, limit_mm2, "area", "most" if over else "least"),
            numbers={"ohm": Number(joint.end.contact_ohm, "resistance", "table")},
            texts={
                "end": joint.end.name,
                "where": joint.where,
                "reason": reason,
                "cure": _cure(joint.end, area_mm2),
            },
        )


def _cure(wrong: End, area_mm2: float) -> str:
    """The size of the same kind that takes the wire, if there is one."""
    fitting = [end for end in _sizes(wrong) if not end.assumed and not takes_wire(end, area_mm2)]
    fitting = [end for end in fitting if end.size != "any"] or fitting
    if wrong.kind == "ring" or not fitting:
        area = Number(area_mm2, "area")
        return f"take one made for {area}, or join it by a short piece of wire that fits"
    best = min(fitting, key=lambda end: end.wire_most_mm2 or 0.0)
    return f"take a {best.name}"


def _sizes(end: End) -> Iterator[End]:
    """All sizes of an end's kind."""
    for size in part_file("plugs", end.kind)["sizes"]:
        yield read_end(end.kind if size == "any" else f"{end.kind} {size}")
