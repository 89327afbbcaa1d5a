"""The sheets: looked at on the page, printed, or taken along as PDF, workbook and drawings."""

from mimetypes import guess_type

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from ...sheets.document import Terms
from ...sheets.render.pack import Files, missing, pack
from ..answers import desk_of, guarded, page, units_of
from ..desk import Desk
from ..shelf import NotHere
from ..tab import Tab

TAB = Tab("sheets", 80)
LOOKED_AT = (
    "default-src 'none'; style-src 'unsafe-inline'; img-src data:; frame-ancestors 'self'; base-uri 'none'; "
    "form-action 'none'"
)
PAPERS = ("A4", "Letter")
FORMS = ("html", "pdf", "xlsx", "csv", "svg", "dxf")


def _terms(request: Request) -> Terms:
    query = request.query_params
    sharing = "anonymous" if query.get("sharing") == "anonymous" else "named"
    paper = query.get("paper", "A4") if query.get("paper", "A4") in PAPERS else "A4"
    return Terms(query.get("date", "")[:10], query.get("revision", "")[:8], sharing, paper, units_of(request))


@guarded
def sheets(request: Request) -> Response:
    """All sheets, with what can be made here."""
    desk = desk_of(request)
    documents = desk.study().sheets(_terms(request))
    lacking = missing(FORMS)
    titles = [(document.name, document.title) for document in documents]
    query = str(request.url.query)
    return page(request, "sheets.html", desk=desk, titles=titles, lacking=lacking, query=query, picked=_terms(request))


@guarded
def sheet(request: Request) -> Response:
    """One file of the set."""
    desk, name = desk_of(request), request.path_params["name"]
    files = _made(desk, name, _terms(request))
    if name not in files:
        raise NotHere(name)
    kind = "text/html; charset=utf-8" if name.endswith(".html") else guess_type(name)[0] or "application/octet-stream"
    headers = {"content-security-policy": LOOKED_AT}
    if not name.endswith((".html", ".pdf", ".svg")):
        headers["content-disposition"] = f'attachment; filename="{name.rpartition("/")[2]}"'
    return Response(files[name], media_type=kind, headers=headers)


def _made(desk: Desk, name: str, terms: Terms) -> Files:
    """The files of the form that a name ends in; a single sheet is made alone."""
    study = desk.study()
    form = name.rpartition(".")[2]
    if form not in FORMS or form in missing(FORMS):
        raise NotHere(name)
    documents = study.sheets(terms)
    alone = tuple(document for document in documents if name == f"{document.name}.{form}")
    asked = study.nameless() if terms.sharing == "anonymous" else study
    return pack(asked, terms, alone or documents, (form,))


ROUTES = (
    Route("/s/{file}/sheets", sheets, name="sheets"),
    Route("/s/{file}/sheets/{name:path}", sheet, name="sheet"),
)
