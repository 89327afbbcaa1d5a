"""Sun and storage: the years of the file's weather, their worst weeks, the sky, and which sizes would keep the goal.

The reckoning runs in the background; the page shows how far it is and finds it again after it was closed.
"""

from collections.abc import Callable
from functools import partial
from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from ...quantity.show import show
from ...site.model import Site
from ...site.problems import SiteError
from ...study import season_findings
from ..answers import back, desk_of, guarded, page
from ..chapters import contents
from ..desk import Desk
from ..jobs import Job, Jobs
from ..outdoors import sited
from ..shelf import NotHere
from ..tab import Tab
from .change import posted
from .sky import sky_of

TAB = Tab("season", 30)
CHAPTERS_HERE = ("site", "weather", "arrays", "horizon", "obstacles", "season")
WORKS = ("years", "sizes")
MONTHS_SHOWN = 12


@guarded
def season(request: Request) -> Response:
    """What was reckoned, or the button that begins it."""
    desk = desk_of(request)
    site = desk.study().site
    jobs = {work: _jobs(request).find(desk.shown, work, desk.mark()) for work in WORKS}
    years, sizes = jobs["years"], jobs["sizes"]
    ready = site.weather is not None and bool(site.arrays)
    found = years.result if years and years.state == "done" else None
    sized = sizes.result if sizes and sizes.state == "done" else None
    fault = next((_said(job) for job in jobs.values() if job and job.state == "failed"), "")
    told = contents(site, site.text, CHAPTERS_HERE)
    sky = sky_of(desk, request.query_params.get("array", ""))
    whole: dict[str, Any] = {"contents": told, "sky": sky, "ready": ready, "jobs": jobs}
    return page(request, "season.html", desk=desk, **whole, found=found, sized=sized, fault=fault)


@guarded
def progress(request: Request) -> Response:
    """How far a piece of work is."""
    desk, work = desk_of(request), request.path_params["work"]
    job = _jobs(request).find(desk.shown, work, desk.mark())
    if job is None:
        raise NotHere(work)
    return JSONResponse({"state": job.state, "share": job.share, "left_s": job.left_s})


def begin(request: Request, desk: Desk, values: dict[str, str]) -> Response:
    """Begin a piece of work, or stop it."""
    work = values.get("work", "")
    if work not in WORKS:
        raise NotHere(work)
    key = (desk.shown, work, desk.mark())
    if values.get("do") == "stop":
        _jobs(request).stop(*key)
    else:
        site = sited(desk)
        doing: Callable[[Job], Any] = partial(_sizes if work == "sizes" else _years, site)
        _jobs(request).start(doing, *key)
    return back(request, "season")


def _years(site: Site, job: Job) -> dict[str, Any]:
    """The years, their findings and pictures."""
    from ...season.day_picture import costs, day
    from ...season.pictures import pictures
    from ...season.reckon import reckon
    from ...season.shading import shading_of
    from ...season.sky_picture import sky
    from ...season.view import view_of

    ledger = reckon(site)
    view = view_of(site, ledger)
    drawn = dict(pictures(ledger))
    shading = shading_of(site, ledger.hours)
    for name in site.arrays:
        drawn[f"sky {name}"] = sky(site, name, ledger.hours)
        drawn[f"day {name}"] = day(shading, name, site.about.name)
    drawn["costs"] = costs(shading, site.about.name)
    summary = view.summary
    figures = [
        ("asked", show(summary.asked_wh_a_day, "energy")),
        ("harvest", show(summary.harvest_wh_a_day, "energy")),
        ("unserved", f"{100 * summary.unserved_fraction:.2g} %"),
        ("goal", f"{100 * summary.goal_fraction:.2g} %"),
        ("lowest", f"{100 * summary.lowest_fraction:.0f} %"),
        ("autonomy", f"{summary.autonomy_days:.1f}"),
        ("spilled", f"{100 * summary.spilled_fraction:.0f} %"),
        ("idle", f"{100 * summary.idle_fraction:.0f} %"),
    ]
    return {
        "verdict": summary.verdict,
        "n_year": summary.n_year,
        "figures": figures,
        "months": [
            (m.name, show(m.harvest_wh, "energy"), show(m.spilled_wh, "energy"), show(m.unserved_wh, "energy"),
             f"{100 * m.lowest_fraction:.0f} %")
            for m in summary.months[:MONTHS_SHOWN]
        ],
        "findings": season_findings(site, view),
        "pictures": drawn,
    }  # fmt: skip


def _sizes(site: Site, job: Job) -> dict[str, Any]:
    """The map of arrays and batteries."""
    from ...choose.recommend import recommend
    from ...choose.size_picture import size_map
    from ...season.asked import Wish
    from ...season.sweep import Progress, here

    def watch(step: Progress) -> None:
        job.tell(step.n_done / max(step.n_piece, 1), step.left_s)

    found = recommend(
        site=site, wish=Wish("", "", "", "", "", 0), turned="", manner="grows", prices=None, run=("", here, watch)
    )
    return {"map": size_map(found.sizing), "chosen": bool(found.chosen)}


def _jobs(request: Request) -> Jobs:
    found: Jobs = request.app.state.jobs
    return found


def _said(job: Job) -> str:
    if isinstance(job.fault, SiteError):
        return " ".join(f"{problem.what}; {problem.mend}" for problem in job.fault.problems)
    if isinstance(job.fault, ImportError):
        return f"pip install 'ohmstead[season]' ({job.fault.name})"
    return str(job.fault)


ROUTES = (
    Route("/s/{file}/season", season, name="season"),
    Route("/s/{file}/season/{work}", progress, name="season-progress"),
    posted(begin, "season-begin", "/s/{file}/season"),
)
