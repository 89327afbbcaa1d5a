"""The text of the file itself, undo and redo, and the checksum by which a page sees a change made elsewhere."""

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from ...site.edit import EditConflict
from ..answers import back, desk_of, guarded, page
from ..desk import Desk
from ..merge import difference
from ..tab import Tab
from .change import posted

TAB = Tab("file", 90)


@guarded
def file(request: Request) -> Response:
    """The text of the file, with what is wrong in it."""
    desk = desk_of(request)
    return page(request, "file.html", desk=desk, text=desk.text(), problems=desk.problems(), lines=(), clash=False)


def put_text(request: Request, desk: Desk, values: dict[str, str]) -> Response:
    """The whole text. It is kept even where it cannot be used, for the builder may be half-way."""
    text, mark = values.get("text", "").replace("\r\n", "\n"), values.get("mark", "")
    try:
        desk.write(mark, text)
    except EditConflict:
        before, now = desk.seen(mark), desk.text()
        lines = difference(before, now) if before is not None else difference(text, now)
        return page(request, "file.html", 409, desk=desk, text=text, problems=(), lines=lines, clash=True)
    return back(request, "file")


def step(request: Request, desk: Desk, values: dict[str, str]) -> Response:
    """Undo or redo."""
    desk.step("redo" if values.get("direction") == "redo" else "undo", values.get("mark", ""))
    there = values.get("there", "")
    return back(request, there if there in {tab.route for tab in request.app.state.tabs} else "")


@guarded
def mark(request: Request) -> Response:
    """Checksum of what the file holds now, so that a page sees a change made elsewhere."""
    return JSONResponse({"mark": desk_of(request).mark()}, headers={"cache-control": "no-store"})


ROUTES = (
    Route("/s/{file}/file", file, name="file"),
    Route("/s/{file}/mark", mark, name="mark"),
    posted(step, "step", "/s/{file}/step"),
    posted(put_text, "put", "/s/{file}/file"),
)
