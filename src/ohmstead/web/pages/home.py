"""The first page: the files of the folder, examples to look at, and a few questions for a new one."""

from collections.abc import Callable, Iterator

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from ...cli.start import ask_all, starter
from ...quantity.faults import QuantityError
from ...site.problems import SiteError
from ...site.read import read_text
from ..answers import UNITS, guarded, page, refusal, shelf_of, words_of
from ..samples import samples
from ..shelf import NotHere
from ..words import LANGUAGES

YEAR_S = 31_536_000


@guarded
def home(request: Request) -> Response:
    """Files to open."""
    return _home(request, 200, {}, {})


@guarded
def pair(request: Request) -> Response:
    """A device with a code comes in once; after that its cookie opens the page."""
    pairing = request.app.state.pairing
    if not pairing.redeem(request.query_params.get("code", "")):
        return refusal(request, 403, "code")
    answer = RedirectResponse(_own_path(request.query_params.get("there", "/")), 303)
    answer.set_cookie(pairing.cookie, pairing.token, max_age=YEAR_S, httponly=True, samesite="strict")
    return answer


async def pick(request: Request) -> Response:
    """Language and units, kept in the browser."""
    form = await request.form(max_fields=8)
    answer = RedirectResponse(_own_path(str(form.get("there", "/"))), 303)
    for name, allowed in (("language", tuple(LANGUAGES)), ("units", UNITS)):
        value = str(form.get(name, ""))
        if value in allowed:
            answer.set_cookie(name, value, max_age=YEAR_S, samesite="strict")
    return answer


async def new(request: Request) -> Response:
    """A first file from a few answers."""
    form = await request.form(max_fields=80)
    asked = {key: str(value).strip() for key, value in form.items()}
    return guarded(lambda request: _create(request, asked))(request)


def _create(request: Request, asked: dict[str, str]) -> Response:
    shelf = shelf_of(request)
    file = asked.get("file", "")
    file = file if file.endswith((".yaml", ".yml")) else f"{file}.yaml"
    told, at = {}, "form"
    answers = _in_order(asked)

    def give(question: str, accept: Callable[[str], str]) -> str:
        nonlocal at
        at, answer = next(answers)
        return accept(answer)

    try:
        text = starter(ask_all(give))
        read_text(text, file)
    except QuantityError as fault:
        told[at] = f"{fault.problem}; {fault.expected}"
    except SiteError as fault:
        told["form"] = "; ".join(problem.what for problem in fault.problems)
    if not told:
        try:
            shelf.create(file, text)
        except NotHere:
            told["file"] = words_of(request)("home.bad-name")
        except FileExistsError:
            told["file"] = words_of(request)("home.exists")
    if told:
        return _home(request, 422, told, asked)
    return RedirectResponse(request.url_for("supply", file=file).path, 303)


def _home(request: Request, status: int, told: dict[str, str], asked: dict[str, str]) -> Response:
    files = shelf_of(request).names()
    return page(request, "home.html", status, files=files, samples=tuple(samples()), told=told, asked=asked)


def _in_order(asked: dict[str, str]) -> Iterator[tuple[str, str]]:
    """Name of the field and its answer, as the command line asks; devices without a name are left out."""
    yield from ((key, asked.get(key, "")) for key in ("name", "chemistry", "volts", "capacity", "limit", "distance"))
    number = 0
    while f"device{number}" in asked:
        if name := asked[f"device{number}"]:
            yield f"device{number}", name
            yield from ((f"{key}{number}", asked.get(f"{key}{number}", "")) for key in ("window", "power"))
            yield f"way{number}", asked.get(f"way{number}", "") or "2 m"
        number += 1
    yield "form", ""


@guarded
def example(request: Request) -> Response:
    """A copy of an example in the folder, under a name that is free."""
    name = request.path_params["name"]
    source = samples().get(name)
    if source is None:
        raise NotHere(name)
    shelf, wanted, number = shelf_of(request), name, 1
    while wanted in shelf.names():
        number += 1
        wanted = name.replace(".yaml", f"-{number}.yaml")
    shelf.create(wanted, source.read_text(encoding="utf-8"))
    return RedirectResponse(request.url_for("supply", file=wanted).path, 303)


def _own_path(path: str) -> str:
    """Only to a page of ours."""
    return path if path.startswith("/") and not path.startswith(("//", "/\\")) else "/"


ROUTES = (
    Route("/", home, name="home"),
    Route("/pair", pair, name="pair"),
    Route("/pick", pick, methods=["POST"], name="pick"),
    Route("/new", new, methods=["POST"], name="new"),
    Route("/example/{name}", example, methods=["POST"], name="example"),
)
