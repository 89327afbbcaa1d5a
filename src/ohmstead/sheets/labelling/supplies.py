"""Labels for converters, with what to set, and for plugs, with voltage and polarity."""

from collections.abc import Iterator

from ...evidence.views import RunView
from ...parts.plug import End
from ...parts.yaml_data import part_file
from ...quantity.show import show
from ...site.kinds import Converter
from ..asked import Asked
from ..cutting.ends import TWO_POLE, termination
from ..cutting.pieces import tag_of
from ..oneline.names import Names
from . import words
from .label import Label, Words


def converters(asked: Asked, names: Names) -> Iterator[Label]:
    """One for every converter: what to set and measure before its output is plugged in."""
    for part in asked.site.parts.values():
        if isinstance(part, Converter):
            span = part.output_v
            said = [
                Words(part.name, 1.1, "bold"),
                Words(words.SET.format(volts=show(span.nominal, "voltage")), 1.7, "bold"),
            ]
            if span.low < span.high:
                low, high = (show(volts, "voltage") for volts in (span.low, span.high))
                said.append(Words(words.BETWEEN.format(low=low, high=high)))
            yield Label("converter", part.name, (*said, Words(words.MEASURE)), anchor=names.part_id(part.name))


def plugs(asked: Asked, names: Names) -> Iterator[Label]:
    """One for every end of a run that is a plug with both poles."""
    views = {view.run.number: view for view in asked.evidence.runs}
    for run in asked.site.runs:
        if run.carries != "power" or run.cable is not None:
            continue
        for side in (0, 1):
            found = termination(asked.site, run, side)
            if found.end is not None and (found.end.kind in TWO_POLE or tells_polarity(found.end)):
                what = ("near", "far")[side]
                yield _plug(
                    (tag_of(asked.site, run), what), found.at, found.end, views.get(run.number), names.run_id(run)
                )


def tells_polarity(end: End) -> bool:
    """True for a plug with a centre."""
    return bool(part_file("plugs", end.kind).get("polarity"))


def _plug(tag: tuple[str, str], at: str, end: End, view: RunView | None, anchor: str) -> Label:
    sign, polarity = "", words.MARKED
    if tells_polarity(end):
        sign, polarity = end.polarity or "centre unknown", end.polarity or words.MEASURED_SIGN
    said = [Words(at, 1.0, "bold")]
    if view is None or not view.supply_v:
        said.append(Words(words.UNKNOWN, 1.3, "bold"))
    else:
        said += [
            Words(show(view.supply_v, "voltage"), 1.7, "bold", "whole"),
            Words(words.UP_TO.format(volts=show(view.source_high.value, "voltage"))),
        ]
    return Label("plug", tag[0], (*said, Words(polarity), Words(f"{end.name}, {tag[0]}", 0.85)), tag[1], sign, anchor)
