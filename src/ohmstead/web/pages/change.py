"""Changes to the file: fields of a part or run, parts and runs more or less, whole text, undo, accept."""

from collections.abc import Callable

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from ...site.edit import EditRefused
from ...site.kinds import KINDS
from ...site.problems import SiteError
from ...site.read import read_text
from ...study import Study
from ..answers import back, desk_of, guarded, page
from ..desk import Desk
from ..forms import accepted, added_part, added_run, blank_fields, changed, entry_of, removed
from ..shelf import NotHere
from ..tab import Tab

TAB = Tab("file", 90)
Change = Callable[[Study, str, dict[str, str]], str]


def posted(work: Callable[[Request, Desk, dict[str, str]], Response], name: str, path: str) -> Route:
    """A route for a change: the form is read first, then the work is done as for any page."""

    async def answer(request: Request) -> Response:
        form: FormData = await request.form(max_fields=400, max_files=0)
        values = {key: value for key, value in form.items() if isinstance(value, str)}
        return await run_in_threadpool(guarded(lambda request: work(request, desk_of(request), values)), request)

    return Route(path, answer, methods=["POST"], name=name)


def _written(desk: Desk, values: dict[str, str], text: str) -> None:
    """Write a change that leaves the file usable; one that does not is refused with the reasons."""
    if desk.problems() == () and text != desk.text():
        try:
            read_text(text, desk.shown)
        except SiteError as fault:
            raise EditRefused("; ".join(f"{problem.what}; {problem.mend}" for problem in fault.problems)) from None
    desk.write(values.get("mark", ""), text)


def set_fields(request: Request, desk: Desk, values: dict[str, str]) -> Response:
    """Fields of one part or run."""
    site = desk.study().site
    entry = entry_of(site, values.get("name", ""))
    if entry is None:
        raise NotHere(values.get("name", ""))
    typed = {key.removeprefix("key:"): value for key, value in values.items() if key.startswith("key:")}
    _written(desk, values, changed(site, desk.text(), entry, typed))
    return back(request)


def add(request: Request, desk: Desk, values: dict[str, str]) -> Response:
    """One more part, or one more run."""
    site, kind = desk.study().site, values.get("kind", "")
    typed = {key.removeprefix("key:"): value for key, value in values.items() if key.startswith("key:")}
    if kind == "run":
        text = added_run(site, desk.text(), typed)
    else:
        text = added_part(site, desk.text(), kind, values.get("name", ""), typed)
    _written(desk, values, text)
    return back(request)


def remove(request: Request, desk: Desk, values: dict[str, str]) -> Response:
    """One part or run less."""
    site, name = desk.study().site, values.get("name", "")
    entry = entry_of(site, name)
    if entry is None:
        raise NotHere(name)
    _written(desk, values, removed(site, desk.text(), entry, name))
    return back(request)


def accept(request: Request, desk: Desk, values: dict[str, str]) -> Response:
    """A finding that the builder lives with."""
    rule, _, subject = values.get("finding", "").partition("|")
    text = accepted(desk.study().site, desk.text(), rule, subject, values.get("because", ""))
    _written(desk, values, text)
    return back(request)


def step(request: Request, desk: Desk, values: dict[str, str]) -> Response:
    """Undo or redo."""
    desk.step("redo" if values.get("direction") == "redo" else "undo", values.get("mark", ""))
    return back(request, "file" if values.get("there") == "file" else "")


def put_text(request: Request, desk: Desk, values: dict[str, str]) -> Response:
    """The whole text. It is kept even where it cannot be used, for the builder may be half-way."""
    text = values.get("text", "").replace("\r\n", "\n")
    desk.write(values.get("mark", ""), text)
    return back(request, "file")


@guarded
def file(request: Request) -> Response:
    """The text of the file, with what is wrong in it."""
    desk = desk_of(request)
    return page(request, "file.html", desk=desk, text=desk.text(), problems=desk.problems())


@guarded
def mark(request: Request) -> Response:
    """Checksum of what the file holds now, so that a page sees a change made elsewhere."""
    return JSONResponse({"mark": desk_of(request).mark()}, headers={"cache-control": "no-store"})


@guarded
def adding(request: Request) -> Response:
    """The form for one more part or run."""
    desk = desk_of(request)
    kind = request.query_params.get("kind", "device")
    if kind != "run" and kind not in KINDS:
        raise NotHere(kind)
    names, kinds = _ends(desk.study()), sorted(KINDS)
    return page(request, "add.html", desk=desk, kind=kind, kinds=kinds, names=names, fields=blank_fields(kind))


def _ends(study: Study) -> list[str]:
    return [*study.site.batteries, *study.site.parts]


ROUTES = (
    Route("/s/{file}/file", file, name="file"),
    Route("/s/{file}/mark", mark, name="mark"),
    Route("/s/{file}/add", adding, name="adding"),
    posted(set_fields, "set", "/s/{file}/set"),
    posted(add, "add", "/s/{file}/add"),
    posted(remove, "remove", "/s/{file}/remove"),
    posted(accept, "accept", "/s/{file}/accept"),
    posted(step, "step", "/s/{file}/step"),
    posted(put_text, "put", "/s/{file}/file"),
)
