"""At the box with a phone: one step a screen, the reading stored and judged at once, sent once when the air is back."""

from collections.abc import Callable
from typing import Any
from urllib.parse import quote

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from ...bench import words
from ...bench.figures import band_text, shown_at, unit_of, value_text
from ...bench.kept import attach, keep_revision
from ...bench.plan import plan_of
from ...bench.session import Outcome, outcomes_of
from ...bench.step import Plan, Step
from ...bench.store import Store, open_store, store_path
from ...bench.taken import Typed, take
from ...site.problems import SiteError
from ...study import Study
from ..answers import desk_of, guarded, page, words_of
from ..desk import Desk
from ..tab import Tab
from .change import posted

TAB = Tab("bench", 50)
LOCAL = ("localhost", "127.", "[::1]")


@guarded
def bench(request: Request) -> Response:
    """The steps, and the screen that walks through them."""
    desk = desk_of(request)
    plan = _plan(desk.study())
    stages: dict[str, list[Step]] = {}
    for step in plan.steps:
        stages.setdefault(step.stage, []).append(step)
    return page(request, "bench.html", desk=desk, plan=plan, stages=stages, titles=words.STAGES)


@guarded
def steps(request: Request) -> Response:
    """The whole plan with what was answered, so that it works while nobody answers."""
    desk = desk_of(request)
    plan = _plan(desk.study())
    with open_store(store_path(desk.path)) as store:
        answered = {outcome.step.id: _told(outcome) for outcome in outcomes_of(plan, store.entries())}
    found = [_step(step, answered.get(step.id)) for step in plan.steps]
    return JSONResponse({"revision": plan.revision, "steps": found}, headers={"cache-control": "no-store"})


def reading(request: Request, desk: Desk, sent: dict[str, Any]) -> Response:
    """One reading; the same token again changes nothing."""
    plan = _plan(desk.study())
    if sent.get("revision") not in ("", None, plan.revision):
        return JSONResponse({"problem": words_of(request)("bench.other-revision")}, 409)
    names = ("step", "text", "who", "token", "meter", "note", "at", "skipped")
    typed = Typed(**{name: str(sent.get(name, ""))[:2000] for name in names})
    try:
        with open_store(store_path(desk.path)) as store:
            keep_revision(store, desk.shown, desk.text())
            outcome = take(store, plan, typed)
            _picture(store, outcome, sent, typed.who)
    except KeyError:
        return JSONResponse({"problem": words_of(request)("refused.not-here")}, 404)
    except ValueError as fault:
        return JSONResponse({"problem": str(fault)}, 422)
    except SiteError as fault:
        said = [f"{problem.what}; {problem.mend}" for problem in fault.problems]
        return JSONResponse({"problem": " ".join(said), "kept": False}, 503)
    return JSONResponse(_told(outcome))


def _picture(store: Store, outcome: Outcome, sent: dict[str, Any], who: str) -> None:
    from base64 import b64decode
    from binascii import Error

    given = sent.get("picture")
    if not given or outcome.entry.pictures:
        return
    try:
        data = b64decode(str(given.get("data", "")), validate=True)
    except (Error, AttributeError):
        raise ValueError("the picture did not arrive whole") from None
    attach(store, outcome.entry.number, str(given.get("name", "picture"))[:120], data, who)


def phone(request: Request, desk: Desk, values: dict[str, str]) -> Response:
    """A code that opens this page once on one more device."""
    pairing, port = request.app.state.pairing, request.url.port
    if not pairing.token:
        return page(request, "phone.html", desk=desk, address="", code="")
    there = request.url_for("bench", file=desk.shown).path
    host = next((host for host in request.app.state.hosts if not host.startswith(LOCAL)), f"localhost:{port}")
    address = f"http://{host}/pair?code={pairing.new_code()}&there={quote(there)}"
    return page(request, "phone.html", desk=desk, address=address, code=_code(address))


def _code(address: str) -> str:
    """The address as a drawing that a camera reads; empty where the package for it is not installed."""
    try:
        import segno
    except ModuleNotFoundError:
        return ""
    drawn: str = segno.make(address, error="m", micro=False).svg_inline(scale=6, border=4, dark="#111", light="#fff")
    return drawn


def posted_json(work: Callable[[Request, Desk, dict[str, Any]], Response], name: str, path: str) -> Route:
    """A route for a change that a script sends."""

    async def answer(request: Request) -> Response:
        try:
            sent = await request.json()
        except ValueError:
            sent = None
        if not isinstance(sent, dict):
            return JSONResponse({"problem": "JSON with the fields of a reading is expected"}, 400)
        return await run_in_threadpool(guarded(lambda request: work(request, desk_of(request), sent)), request)

    return Route(path, answer, methods=["POST"], name=name)


def _plan(study: Study) -> Plan:
    """Made once for each text."""
    kept: Plan | None = study.__dict__.get("_plan")
    if kept is None:
        kept = study.__dict__["_plan"] = plan_of(study.operation)
    return kept


def _step(step: Step, answered: dict[str, Any] | None) -> dict[str, Any]:
    number = step.asks == "number"
    return {
        "id": step.id,
        "stage": words.STAGES[step.stage],
        "title": step.title,
        "act": step.act,
        "probes": step.probes,
        "marks": step.marks,
        "asks": step.asks,
        "unit": unit_of(step) if number else "",
        "expected": value_text(step) if number else "",
        "band": band_text(step),
        "causes": {"low": step.causes_low, "high": step.causes_high},
        "cautions": step.cautions,
        "basis": step.basis,
        "answered": answered,
    }


def _told(outcome: Outcome) -> dict[str, Any]:
    verdict = outcome.verdict
    return {
        "number": outcome.entry.number,
        "shown": shown_at(outcome.step, outcome.entry.reading.value or 0.0) if verdict else outcome.entry.reading.note,
        "word": verdict.word if verdict else "skipped",
        "said": words.VERDICTS[verdict.word] if verdict else words.SKIPPED,
        "side": words.SIDES[verdict.side] if verdict else "",
        "causes": verdict.causes if verdict else (),
        "who": outcome.entry.reading.who,
        "at": outcome.entry.reading.at,
    }


ROUTES = (
    Route("/s/{file}/bench", bench, name="bench"),
    Route("/s/{file}/bench/steps", steps, name="bench-steps"),
    posted(phone, "phone", "/s/{file}/phone"),
    posted_json(reading, "bench-reading", "/s/{file}/bench/reading"),
)
