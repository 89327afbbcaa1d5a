"""The page as an application: routes found by folder, static files, the guard around all of it."""

from collections.abc import Iterable
from importlib import import_module
from pkgutil import iter_modules

from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Mount
from starlette.staticfiles import StaticFiles
from starlette.types import ASGIApp

from . import pages
from .answers import refusal
from .guard import Guard, Pairing, TooLarge, TooSlow
from .jobs import Jobs
from .shelf import Shelf


def build(shelf: Shelf, hosts: Iterable[str], pairing: Pairing) -> ASGIApp:
    """The whole page on one folder, callable under `hosts` (names with port)."""
    modules = [import_module(f"{pages.__name__}.{found.name}") for found in iter_modules(pages.__path__)]
    routes: list[BaseRoute] = [route for module in modules for route in getattr(module, "ROUTES", ())]
    routes.append(Mount("/static", StaticFiles(packages=[("ohmstead.web", "static")]), name="static"))
    app = Starlette(routes=routes, exception_handlers=HANDLERS)
    app.state.shelf, app.state.pairing, app.state.hosts = shelf, pairing, tuple(hosts)
    app.state.jobs = Jobs()
    app.state.tabs = sorted((module.TAB for module in modules if hasattr(module, "TAB")), key=lambda tab: tab.order)
    return Guard(app, hosts, pairing)


async def _missing(request: Request, fault: Exception) -> Response:
    return refusal(request, getattr(fault, "status_code", 404), "no-page", request.url.path)


async def _broken(request: Request, fault: Exception) -> Response:
    """Our own fault: said without its inside."""
    return refusal(request, 500, "inside", type(fault).__name__)


async def _too_large(request: Request, fault: Exception) -> Response:
    """A body that never ends, or ends too late."""
    return refusal(request, 413, "too-large")


async def _too_slow(request: Request, fault: Exception) -> Response:
    """A body that stops coming."""
    return refusal(request, 408, "too-slow")


HANDLERS = {404: _missing, 405: _missing, 500: _broken, TooLarge: _too_large, TooSlow: _too_slow}
