"""The supply: drawing, sliders, switches, what was found; everything about one part or run on request."""

from collections.abc import Iterator

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from ...quantity.show import show
from ...study import Study
from ..answers import desk_of, guarded, page, units_of
from ..chapters import entry_of
from ..drawn import LARGEST_SITE, ids_of, key_of, live, moment_from, pictures, switches
from ..forms import fields_of
from ..shelf import NotHere
from ..tab import Tab

TAB = Tab("supply", 10)


@guarded
def supply(request: Request) -> Response:
    """Drawing and findings."""
    desk = desk_of(request)
    study = desk.study()
    if len(study.site.runs) > LARGEST_SITE:
        svgs: tuple[str, ...] = ()
    else:
        svgs = pictures(study, units_of(request))
    return page(
        request,
        "supply.html",
        desk=desk,
        study=study,
        svgs=svgs,
        ids=ids_of(study),
        key_of=key_of,
        switches=list(switches(study)),
        cases=study.rows("cases"),
    )


@guarded
def moment(request: Request) -> Response:
    """What flows at the moment that the sliders and switches say, for the drawing."""
    study = desk_of(request).study()
    try:
        found = live(study, moment_from(study, dict(request.query_params)))
    except ValueError:
        return JSONResponse({"refused": "figures"}, 422)
    return JSONResponse(found)


@guarded
def case(request: Request) -> Response:
    """One of the cases, as sliders and switches: where they stand in it."""
    study = desk_of(request).study()
    wanted = next((case for case in study.cases if case.name == request.query_params.get("case")), None)
    if wanted is None:
        raise NotHere(request.query_params.get("case", ""))
    battery = {"low": 0, "nominal": 50}.get(wanted.battery, 100)
    return JSONResponse(
        {
            "title": wanted.title,
            "battery": battery,
            "warmth": 0 if wanted.temperature == "cold" else 100,
            "states": {name: wanted.states.get(name, "") for name, _, _ in switches(study)},
        }
    )


@guarded
def thing(request: Request) -> Response:
    """A part or run: its values in every case, its findings, and the form to change it."""
    desk = desk_of(request)
    study = desk.study()
    wanted = request.query_params.get("name", "")
    entry = entry_of(study.site, wanted)
    if entry is None:
        raise NotHere(wanted)
    return page(
        request,
        "thing.html",
        desk=desk,
        name=wanted,
        entry=entry,
        fields=fields_of(study.site, desk.text(), entry),
        rows=list(_values(study, wanted)),
        found=[finding for finding in study.findings if finding.subject == wanted],
        key_of=key_of,
        names=[*study.site.batteries, *study.site.parts],
        zones=list(study.site.zones),
    )


def _values(study: Study, name: str) -> Iterator[tuple[str, ...]]:
    """Case, volts, amperes and lost volts, a row a case."""
    operation = study.operation
    run = next((run for run in study.site.runs if run.name == name), None)
    for found, point in zip(study.cases, operation.points, strict=True):
        if run is not None:
            current = operation.run_a(point, run.number)
            wires = [operation.circuit.network.branches[i] for i in operation.circuit.run_branches[run.number]]
            drop = sum(abs(point.voltage_v[wire.start] - point.voltage_v[wire.end]) for wire in wires)
            yield found.title, show(current, "current"), show(drop, "voltage")
            continue
        ends = [end for end in (name, f"{name} in", f"{name} out") if end in operation.circuit.positive]
        yield found.title, *[show(operation.voltage_v(point, end), "voltage", 4) for end in ends]


ROUTES = (
    Route("/s/{file}", supply, name="supply"),
    Route("/s/{file}/moment", moment, name="moment"),
    Route("/s/{file}/case", case, name="case"),
    Route("/s/{file}/thing", thing, name="thing"),
)
