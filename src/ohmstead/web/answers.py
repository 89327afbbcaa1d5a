"""Answers of the page: templates filled with words, and refusals said in the builder's words."""

from collections.abc import Callable
from functools import cache, wraps
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, RedirectResponse, Response

from ..site.edit import EditConflict, EditRefused
from ..site.problems import SiteError
from .desk import Desk
from .fahrenheit import in_fahrenheit
from .shelf import NotHere, Shelf
from .words import LANGUAGES, Words, preferred

UNITS = ("metric", "imperial")
Handler = Callable[[Request], Response]


@cache
def environment() -> Environment:
    """Templates of the package; everything is escaped."""
    return Environment(
        loader=PackageLoader("ohmstead.web"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )


def shelf_of(request: Request) -> Shelf:
    """The folder that this server was started on."""
    found: Shelf = request.app.state.shelf
    return found


def desk_of(request: Request) -> Desk:
    """The desk of the file in the address. Raises NotHere."""
    return shelf_of(request).desk(request.path_params["file"])


def words_of(request: Request) -> Words:
    """Texts in the language that was picked, or else in the browser's."""
    picked = request.cookies.get("language", "")
    return Words(picked if picked in LANGUAGES else preferred(request.headers.get("accept-language", "")))


def units_of(request: Request) -> str:
    """ "metric" or "imperial", which of the two stands first."""
    picked = request.cookies.get("units", "metric")
    return picked if picked in UNITS else "metric"


def page(request: Request, template: str, status: int = 200, **context: Any) -> HTMLResponse:
    """A filled template. Every template finds its words in `t` and the tabs in `tabs`."""
    desk: Desk | None = context.get("desk")
    everywhere = {
        "t": words_of(request),
        "languages": LANGUAGES,
        "units": units_of(request),
        "layout": "bare.html" if request.headers.get("hx-request") else "base.html",
        "url": lambda file, route: request.url_for(route, file=file).path,
        "tabs": request.app.state.tabs,
        "here": request.url.path,
        "desk": desk,
        "mark": desk.mark() if desk else "",
        "steps": desk.steps() if desk else {},
    }
    text = environment().get_template(template).render(everywhere | context)
    if everywhere["units"] == "imperial":
        text = in_fahrenheit(text)
    return HTMLResponse(text, status, {"cache-control": "no-store"})


def back(request: Request, tab: str = "") -> Response:
    """After a change: to the page it was made on, or to a tab of the file."""
    there = request.url_for(tab or "supply", file=request.path_params["file"]).path
    if request.headers.get("hx-request"):
        return Response(status_code=204, headers={"hx-redirect": there})
    return RedirectResponse(there, 303)


def guarded(handler: Handler) -> Handler:
    """What can go wrong with a file, said on a page instead of broken off."""

    @wraps(handler)
    def answer(request: Request) -> Response:
        try:
            return handler(request)
        except NotHere as missing:
            return refusal(request, 404, "not-here", str(missing))
        except SiteError as fault:
            desk = desk_of(request)
            return page(request, "problems.html", 422, desk=desk, problems=fault.problems, lines=fault.text)
        except EditConflict as conflict:
            return refusal(request, 409, "conflict", str(conflict))
        except EditRefused as refused:
            return refusal(request, 422, "refused", str(refused))
        except UnicodeDecodeError:
            return refusal(request, 422, "no-text", request.path_params.get("file", ""))
        except OSError as fault:
            return refusal(request, 500, "disk", fault.strerror or "")

    return answer


def refusal(request: Request, status: int, key: str, detail: str = "") -> Response:
    """A page that says what was refused and why; JSON for a program."""
    t = words_of(request)
    if "application/json" in request.headers.get("accept", ""):
        return JSONResponse({"refused": t(f"refused.{key}"), "detail": detail}, status)
    file = request.path_params.get("file", "")
    known = file in shelf_of(request).names()
    return page(request, "refused.html", status, key=key, detail=detail, file=file if known else "")
