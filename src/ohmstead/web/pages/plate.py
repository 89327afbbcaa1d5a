"""The plate on the page: parts moved by hand, wires led anew at once, places proposed in the background."""

from collections.abc import Mapping
from functools import partial
from math import isfinite
from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from ...cli.plan import RULES
from ...plan.apply import written
from ...plan.moved import freed, looked_at, moved, wire_m, written_moved
from ...plan.plan import Plan, plan_of
from ...quantity.show import show
from ...sheets.document import Terms
from ...sheets.oneline.svg import to_svg
from ...sheets.plating.drawn import draw_bare
from ...site.edit import EditRefused
from ...site.model import Site
from ...site.problems import SiteError
from ...study import Study
from ..answers import back, desk_of, guarded, page, units_of
from ..desk import Desk
from ..jobs import Job, Jobs
from ..merge import Clash, Standing, put, same_entry
from ..shelf import NotHere
from .change import posted

FURTHEST_MM = 10_000.0
WORK = "places"
Spots = dict[str, tuple[float, float]]


def plate_of(request: Request, desk: Desk, spots: Spots | None = None) -> dict[str, Any] | None:
    """What the tab shows of the plate, with parts at `spots` where they are given; None for a site without one."""
    study = desk.study()
    if study.site.plate is None:
        return None
    job = jobs_of(request).find(desk.shown, WORK, desk.mark())
    try:
        plan, told = looked_at(_moved(study.site, spots) if spots else study.site)
    except SiteError as fault:  # no places found
        return {"job": job, "told": [f"{one.what}: {one.mend}" for one in fault.problems], "plan": None}
    shown = _shown(request, study, plan) | {"job": job, "told": [told] if told else [], "plan": plan}
    return shown | {"proposal": _proposal(request, study, job), "fault": _fault(job)}


@guarded
def look(request: Request) -> Response:
    """The plate with parts at the asked places; nothing is written."""
    desk, query = desk_of(request), request.query_params
    study = desk.study()
    try:
        site = _moved(study.site, spots_in(query))
    except (KeyError, ValueError):
        return JSONResponse({"refused": "figures"}, 422)
    plan, told = looked_at(site)
    answer = _shown(request, study, plan) | {"told": [told] if told else []}
    if query.get("check") == "yes" and not told:
        answer["found"] = [
            {"severity": one.severity.value, "rule": one.rule, "message": f"{one.subject}: {one.message}"}
            for one in Study(site).findings
            if one.rule in RULES
        ]
    return JSONResponse(answer, headers={"cache-control": "no-store"})


def place(request: Request, desk: Desk, values: dict[str, str]) -> Response:
    """Write the places into the file, those that were typed or dragged, or those that were proposed."""
    if values.get("do") in ("start", "stop"):
        return _work(request, desk, values["do"])
    job = jobs_of(request).find(desk.shown, WORK, values.get("mark", ""))
    try:
        spots = spots_in(values)
    except ValueError:
        raise EditRefused("every place is two lengths in millimetres") from None

    def change(before: Standing, now: Standing) -> str:
        if values.get("do") != "take":
            return written_moved(now.site, spots)
        if job is None or job.state != "done":
            raise NotHere(WORK)
        return written(freed(now.site), job.result)

    alike = _never if values.get("do") == "take" else same_entry("plate", "")
    try:
        put(desk, values.get("mark", ""), change, alike)
    except KeyError as missing:
        raise NotHere(str(missing)) from None
    except Clash as clash:
        if clash.now.site.plate is None or values.get("do") == "take":
            raise
        return _again(request, desk, spots, 409)
    except SiteError:
        if desk.problems():
            raise
        return _again(request, desk, spots, 422)
    return back(request, "cabinet")


def _never(before: Standing, now: Standing) -> bool:
    """Places that were found belong to one text only."""
    return False


def _again(request: Request, desk: Desk, spots: Spots, status: int) -> Response:
    """The plate as it would be, with the places that were not written."""
    here = {stand.name for stand in looked_at(desk.study().site)[0].stands}
    kept = {name: spot for name, spot in spots.items() if name in here}
    plate = plate_of(request, desk, kept)
    return page(request, "plate_again.html", status, desk=desk, plate=plate, clash=status == 409)


def spots_in(values: Mapping[str, str]) -> Spots:
    """The places in a form, `right:NAME` and `down:NAME`. Raises ValueError for a figure that is none."""
    found = {}
    for key, text in values.items():
        if key.startswith("right:"):
            name = key.removeprefix("right:")
            spot = float(text.replace(",", ".")), float(values.get(f"down:{name}", "").replace(",", "."))
            if not all(isfinite(figure) and abs(figure) <= FURTHEST_MM for figure in spot):
                raise ValueError(name)
            found[name] = spot
    return found


def jobs_of(request: Request) -> Jobs:
    """The work of this server."""
    found: Jobs = request.app.state.jobs
    return found


@guarded
def progress(request: Request) -> Response:
    """How far the search for places is."""
    desk = desk_of(request)
    job = jobs_of(request).find(desk.shown, WORK, desk.mark())
    if job is None:
        raise NotHere(WORK)
    return JSONResponse({"state": job.state, "share": job.share, "left_s": job.left_s})


def _work(request: Request, desk: Desk, do: str) -> Response:
    key = (desk.shown, WORK, desk.mark())
    if do == "stop":
        jobs_of(request).stop(*key)
    else:
        jobs_of(request).start(partial(_search, desk.study().site), *key)
    return back(request, "cabinet")


def _search(site: Site, job: Job) -> Plan:
    return plan_of(freed(site))


def _moved(site: Site, spots: Spots) -> Site:
    return moved(site, looked_at(site)[0], spots)


def _proposal(request: Request, study: Study, job: Job | None) -> dict[str, Any] | None:
    return _shown(request, study, job.result) if job is not None and job.state == "done" else None


def _fault(job: Job | None) -> str:
    if job is None or job.fault is None:
        return ""
    if isinstance(job.fault, SiteError):
        return " ".join(f"{one.what}; {one.mend}" for one in job.fault.problems)
    return str(job.fault)


def _shown(request: Request, study: Study, plan: Plan) -> dict[str, Any]:
    """The drawing, its scale, where parts stand, and how long wires are."""
    sheet = draw_bare(plan, study, Terms(units=units_of(request)))
    svg = to_svg(sheet.page, study.site.about.name).replace('role="img"', 'role="group"', 1)
    names = sheet.names
    return {
        "svg": svg,
        "scale": sheet.scale,
        "parts": [
            {"name": stand.name, "id": names.part_id(stand.name), "right": stand.corner[0], "down": stand.corner[1]}
            for stand in plan.stands
        ],
        "wires": [{"name": led.name, "length": show(led.length_m, "length")} for led in plan.wires],
        "together": show(wire_m(plan), "length") if plan.wires else "–",
    }


ROUTES = (
    Route("/s/{file}/plate/look", look, name="plate-look"),
    Route("/s/{file}/plate/places", progress, name="plate-progress"),
    posted(place, "plate-place", "/s/{file}/plate"),
)
