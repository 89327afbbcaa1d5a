"""The drawing on the page: ids of parts and runs, and what is lettered at each for a moment."""

import re
from collections.abc import Iterator
from typing import Any

from ..evidence.finding import Finding
from ..network.between import Flow, Moment, flow_at
from ..network.points import TWO_SIDED
from ..quantity.show import show
from ..sheets import one_line
from ..sheets.document import Picture, Terms
from ..sheets.oneline.names import Names
from ..study import Study
from .chapters import entry_of
from .forms import fields_of

WEIGHTS = ((100.0, 1.5), (30.0, 1.0), (10.0, 0.6), (3.0, 0.4), (0.0, 0.25))
"""Line weight from so many amperes on, as on the printed sheet."""
LARGEST_SITE = 400
STILL = 1e-6


def pictures(study: Study, units: str) -> tuple[str, ...]:
    """The one-line drawing, a picture a sheet."""
    document = one_line.draw(study, Terms(units=units))
    return tuple(block.svg for block in document.blocks if isinstance(block, Picture))


def moment_from(study: Study, query: dict[str, str]) -> Moment:
    """The moment that the sliders and switches say; what is left unsaid is as in the heaviest case.

    Raises ValueError for a figure that is none.
    """
    states = dict(study.heaviest_case().states)
    for name, state in query.items():
        if name.startswith("state:"):
            device = name.removeprefix("state:")
            if state:
                states[device] = state
            else:
                states.pop(device, None)
    battery, warmth = float(query.get("battery", "50")) / 100, float(query.get("warmth", "100")) / 100
    return Moment(battery, warmth, states)


def live(study: Study, moment: Moment) -> dict[str, Any]:
    """What changes on the drawing: texts and line weight of every run, volts of every part, and what gave up."""
    operation = study.operation
    flow = flow_at(operation, moment)
    names = Names(study.site, "named")
    runs = {
        names.run_id(run): {
            "current": show(_still(abs(flow.current_a.get(run.number, 0.0))), "current"),
            "drop": show(_still(flow.drop_v.get(run.number, 0.0)), "voltage"),
            "weight": _weight(abs(flow.current_a.get(run.number, 0.0))),
        }
        for run in study.site.runs
    }
    events = {event.element: event for event in flow.point.events}
    parts = {}
    for name in (*study.site.batteries, *study.site.parts):
        gone = events.get(name)
        parts[names.part_id(name)] = {"volts": _volts(study, flow, name), "gone": gone.kind if gone else ""}
    told = [f"{event.element}: {event.kind}, {show(event.voltage_v, 'voltage')}" for event in flow.point.events]
    given = sum(flow.point.source_a)
    return {"runs": runs, "parts": parts, "events": told, "battery": show(given, "current")}


def _still(figure: float) -> float:
    """Less than a micro of anything is rounding."""
    return 0.0 if figure < STILL else figure


def _weight(current_a: float) -> float:
    return next(width for least, width in WEIGHTS if current_a >= least)


def _volts(study: Study, flow: Flow, name: str) -> list[str]:
    part = study.site.parts.get(name)
    if isinstance(part, TWO_SIDED):
        sides = (("in", f"{name} in"), ("out", f"{name} out"))
        return [f"{word} {show(flow.volts[point], 'voltage', 4)}" for word, point in sides if point in flow.volts]
    return [show(flow.volts[name], "voltage", 4)] if name in flow.volts else []


def switches(study: Study) -> Iterator[tuple[str, str, tuple[str, ...]]]:
    """Devices with states to choose from: name, state in the heaviest case, all states."""
    busy = study.heaviest_case().states
    for name, part in study.site.parts.items():
        draws = getattr(part, "draws", ())
        states = tuple(draw.state for draw in draws)
        if states:
            yield name, busy.get(name, ""), states


def ids_of(study: Study) -> dict[str, str]:
    """What a part or run is called -> the id of its group on the drawing."""
    names = Names(study.site, "named")
    parts = {name: names.part_id(name) for name in (*study.site.batteries, *study.site.parts)}
    return parts | {run.name: names.run_id(run) for run in study.site.runs}


def key_of(finding: Finding) -> str:
    """What a finding is called in an address."""
    return f"{finding.rule}|{finding.subject}"


def differing(study: Study, other: Study) -> set[str]:
    """Ids of the parts and runs that are not written alike in the other file, or not there."""
    ours, theirs = _written(study), _written(other)
    ids = ids_of(study)
    return {ids[name] for name, text in ours.items() if theirs.get(name) != text and name in ids}


def _written(study: Study) -> dict[str, tuple[str, ...]]:
    """Name -> what the builder wrote of it, key by key, the order of keys aside."""
    site, found = study.site, {}
    for name in (*site.batteries, *site.parts, *(run.name for run in site.runs)):
        entry = entry_of(site, name)
        if entry is not None:
            fields = fields_of(site, site.text, entry)
            found[name] = tuple(
                sorted(f"{field.key}: {' '.join(field.text.split())}" for field in fields if field.text)
            )
    return found


def marked(svg: str, ids: set[str]) -> str:
    """The drawing with the groups of these ids marked."""

    def mark(found: "re.Match[str]") -> str:
        return f'<g id="{found[1]}" class="{(found[2] or "")} differs"' if found[1] in ids else found[0]

    return re.sub(r'<g id="([^"]+)"(?: class="([^"]+)")?', mark, svg)
