"""The sky over an array on the page: obstacles dragged, what they cost reckoned anew, written when asked for."""

from collections.abc import Mapping
from math import isfinite
from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from ...site.edit import EditRefused
from ...site.model import Site
from ...site.problems import SiteError
from ..answers import back, desk_of, guarded, page
from ..desk import Desk
from ..merge import Clash, Standing, put, same_entry
from ..outdoors import hours_of, sited
from ..shelf import NotHere
from .change import posted

KEYS = ("east", "north", "top")
FURTHEST_M = 10_000.0
MOST_KEPT = 20
Figures = dict[str, dict[str, float]]


def sky_of(desk: Desk, array: str, figures: Figures | None = None) -> dict[str, Any] | None:
    """What the tab shows of the sky; None where there is no weather, no array or no obstacle, or no numpy."""
    site = desk.study().site
    if site.weather is None or not site.arrays or not site.obstacles:
        return None
    try:
        from ...season.aside import shaped

        shaded = [name for name in site.arrays if any(one.shades in ("", name) for one in site.obstacles.values())]
        picked = array if array in site.arrays else shaded[0]
        moved = shaped(sited(desk), figures or {})
        return _shown(desk, moved, picked) | {"arrays": list(site.arrays), "array": picked}
    except (ImportError, SiteError, OSError, NotHere):
        return None  # told by the reckoning of the years


@guarded
def look(request: Request) -> Response:
    """The sky with obstacles at the asked places; nothing is written."""
    desk, query = desk_of(request), request.query_params
    try:
        from ...season.aside import dragged, shaped
    except ImportError as missing:
        raise NotHere(str(missing.name)) from None
    array, name = query.get("array", ""), query.get("drag", "")
    if array not in desk.study().site.arrays:
        raise NotHere(array)
    try:
        site = shaped(sited(desk), figures_in(query))
        if name:
            site = dragged(site, hours_of(desk), name, (_figure(query.get("x", "")), _figure(query.get("y", ""))))
    except (KeyError, ValueError):
        return JSONResponse({"refused": "figures"}, 422)
    if query.get("costs") == "yes":
        return JSONResponse({"costs": _costs(desk, site)}, headers={"cache-control": "no-store"})
    return JSONResponse(_shown(desk, site, array), headers={"cache-control": "no-store"})


def place(request: Request, desk: Desk, values: dict[str, str]) -> Response:
    """Write the obstacles into the file where they were dragged or typed to be."""
    from ...season.aside import written_obstacles

    try:
        figures = figures_in(values)
    except ValueError:
        raise EditRefused("every figure is a length in metres") from None

    def change(before: Standing, now: Standing) -> str:
        return written_obstacles(now.site, figures)

    def alike(before: Standing, now: Standing) -> bool:
        return all(same_entry("obstacles", name)(before, now) for name in figures)

    try:
        put(desk, values.get("mark", ""), change, alike)
    except KeyError as missing:
        raise NotHere(str(missing)) from None
    except Clash as clash:
        if not set(figures) & set(clash.now.site.obstacles):
            raise
        return _again(request, desk, values, figures, (409, ()))
    except SiteError as fault:
        if desk.problems():
            raise
        told = tuple(f"{problem.what}; {problem.mend}" for problem in fault.problems)
        return _again(request, desk, values, figures, (422, told))
    return back(request, "season")


def figures_in(values: Mapping[str, str]) -> Figures:
    """The figures in a form, `east:NAME`, `north:NAME` and `top:NAME`. Raises ValueError for one that is none."""
    found: Figures = {}
    for field, text in values.items():
        key, colon, name = field.partition(":")
        if colon and key in KEYS:
            found.setdefault(name, {})[key] = _figure(text)
    return found


def _figure(text: str) -> float:
    figure = float(text.replace(",", "."))
    if not isfinite(figure) or abs(figure) > FURTHEST_M:
        raise ValueError(text)
    return figure


def _again(request: Request, desk: Desk, values: Mapping[str, str], figures: Figures,
           why: tuple[int, tuple[str, ...]]) -> Response:  # fmt: skip
    """The sky as it would be, with the figures that were not written."""
    known = {name: one for name, one in figures.items() if name in desk.study().site.obstacles}
    sky = sky_of(desk, values.get("array", ""), known)
    return page(request, "sky_again.html", why[0], desk=desk, sky=sky, clash=why[0] == 409, told=why[1])


def _shown(desk: Desk, site: Site, array: str) -> dict[str, Any]:
    """The picture, the handles in it, and the figures of the obstacles."""
    from ...season.aside import degree, handles
    from ...season.sky_picture import sky

    hours = hours_of(desk)
    return {
        "svg": sky(site, array, hours),
        "degree": degree(site, hours),
        "obstacles": [
            {
                "name": one.name,
                "x": one.x,
                "y": one.y,
                "azimuth": f"{one.azimuth_deg:.0f}",
                "elevation": f"{one.elevation_deg:.0f}",
                "distance": f"{one.distance_m:.3g}",
                "east": f"{site.obstacles[one.name].east_m:g}",
                "north": f"{site.obstacles[one.name].north_m:g}",
                "top": f"{site.obstacles[one.name].top_m:g}",
            }
            for one in handles(site, array, hours)
        ],
    }


def _costs(desk: Desk, site: Site) -> str:
    """A picture of what each obstacle costs by month, over the years of the file, as `ohmstead shade` has it."""
    from ...season.day_picture import costs
    from ...season.shading import shading_of

    kept: dict[str, str] = desk.study().__dict__.setdefault("_costs", {})
    key = repr(site.obstacles)
    if key not in kept:
        if len(kept) >= MOST_KEPT:
            kept.clear()
        kept[key] = costs(shading_of(site, hours_of(desk)), site.about.name)
    return kept[key]


ROUTES = (
    Route("/s/{file}/sky", look, name="sky"),
    posted(place, "sky-place", "/s/{file}/sky"),
)
