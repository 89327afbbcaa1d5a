"""What was found: gravest first, each with its numbers, source, cure, and a trial of the cure on the spot."""

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from ...choose.compare import ChangeRefused, changed_text, compare
from ...quantity.show import show
from ...site.edit import EditRefused
from ...site.read import read_text
from ...tables.sources import source
from ..answers import desk_of, guarded, page, units_of
from ..chapters import entry_of
from ..drawn import differing, ids_of, key_of, marked, pictures
from ..forms import fields_of
from ..shelf import NotHere


@guarded
def finding(request: Request) -> Response:
    """One finding, opened."""
    desk = desk_of(request)
    study = desk.study()
    wanted = request.query_params.get("key", "")
    found = next((one for one in study.findings if key_of(one) == wanted), None)
    if found is None:
        raise NotHere(wanted)
    entry = entry_of(study.site, found.subject)
    fields = [field for field in fields_of(study.site, desk.text(), entry) if field.text] if entry else []
    return page(
        request,
        "finding.html",
        desk=desk,
        finding=found,
        key=wanted,
        numbers=[(name.replace("_", " "), str(number), number.how) for name, number in found.numbers.items()],
        source=source(found.source.key),
        rule=study.page(found.rule),
        case=next((case.title for case in study.cases if case.name == found.case), ""),
        fields=fields,
        drawn=ids_of(study).get(found.subject, ""),
    )


@guarded
def trial(request: Request) -> Response:
    """What a change would do, finding by finding; nothing is written."""
    desk = desk_of(request)
    site = desk.study().site
    query = request.query_params
    change = f"{query.get('name', '')}.{query.get('field', '')}={query.get('value', '')}"
    try:
        after = read_text(changed_text(site, change), desk.shown)
    except (ChangeRefused, EditRefused) as fault:
        mend = getattr(fault, "mend", "")
        return page(request, "trial.html", 422, desk=desk, refused=f"{fault} {mend}".strip(), change=change)
    found = compare(site, after)
    shifts = [
        (s.subject, s.figure, _said(s.before, s.dimension), _said(s.after, s.dimension)) for s in found.shifts[:40]
    ]
    return page(request, "trial.html", desk=desk, refused="", change=change, found=found, shifts=shifts, query=query)


@guarded
def beside(request: Request) -> Response:
    """Two files of the folder side by side."""
    desk = desk_of(request)
    other = request.query_params.get("other", "")
    names = [name for name in request.app.state.shelf.names() if name != desk.shown]
    found, shifts = None, []
    if other:
        found = compare(desk.study().site, request.app.state.shelf.desk(other).study().site)
        shifts = [
            (s.subject, s.figure, _said(s.before, s.dimension), _said(s.after, s.dimension)) for s in found.shifts
        ]
    return page(request, "beside.html", desk=desk, other=other, names=names, found=found, shifts=shifts)


@guarded
def drawing(request: Request) -> Response:
    """The drawing alone; what another file has otherwise is marked."""
    desk = desk_of(request)
    study, other = desk.study(), request.query_params.get("other", "")
    ids = differing(study, request.app.state.shelf.desk(other).study()) if other else set()
    svgs = [marked(svg, ids) for svg in pictures(study, units_of(request))]
    return page(request, "drawing.html", desk=desk, svgs=svgs)


def _said(value: float | None, dimension: str) -> str:
    return "–" if value is None else show(value, dimension)


ROUTES = (
    Route("/s/{file}/finding", finding, name="finding"),
    Route("/s/{file}/trial", trial, name="trial"),
    Route("/s/{file}/drawing", drawing, name="drawing"),
    Route("/s/{file}/beside", beside, name="beside"),
)
