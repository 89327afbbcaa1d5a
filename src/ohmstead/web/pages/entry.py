"""Forms of the entries of the file: as they are, as they come back when refused, and beside what others changed."""

from collections.abc import Mapping
from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from ...site.declare import declared
from ...site.kinds import KINDS
from ...site.reshape import plain_text
from ..answers import desk_of, guarded, page
from ..chapters import CHAPTERS, Entry, entry_in, new_entry
from ..desk import Desk
from ..forms import FormField, again, blank_fields, fields_of, wanted
from ..merge import Clash, difference, differing_keys
from ..shelf import NotHere

TABS = ("supply", "season", "cabinet")
PREFIX = "key:"
Values = Mapping[str, str]


@guarded
def entry(request: Request) -> Response:
    """The form of one entry of a chapter, written or not yet."""
    desk, query = desk_of(request), request.query_params
    found = entry_in(desk.study().site, query.get("of", ""), query.get("name", ""))
    if found is None:
        raise NotHere(query.get("name", "") or query.get("of", ""))
    return entry_page(request, desk, found, dict(query), {})


@guarded
def adding(request: Request) -> Response:
    """The form for one more part, run, or entry of a chapter."""
    desk, query = desk_of(request), dict(request.query_params)
    found = new_entry(query.get("of", ""), query.get("kind", "device"), "")
    if found is None:
        raise NotHere(query.get("of", "") or query.get("kind", ""))
    return adding_page(request, desk, found, query, {})


def entry_page(request: Request, desk: Desk, found: Entry, values: Values, shown: dict[str, Any]) -> Response:
    """The form of an entry; `shown` may hold its `fields`, `told` (reasons of no field), `differs`, and `status`."""
    site = desk.study().site
    written = bool(plain_text(site.text, site.path, found.steps))
    context = _offered(desk, values) | {"fields": fields_of(site, site.text, found), "written": written} | shown
    return page(request, "entry.html", int(context.pop("status", 200)), desk=desk, entry=found, **context)


def adding_page(request: Request, desk: Desk, found: Entry, values: Values, shown: dict[str, Any]) -> Response:
    """The form of a new entry; `shown` as for `entry_page`."""
    context = (
        _offered(desk, values)
        | {
            "fields": blank_fields(found),
            "kinds": sorted(KINDS),
            "asked": {"name": values.get("name", ""), "around": values.get("around", "")},
        }
        | shown
    )
    if found.of in CHAPTERS and CHAPTERS[found.of].named == "inner":
        context["homes"] = list(desk.study().site.cabinets)
    return page(request, "add.html", int(context.pop("status", 200)), desk=desk, entry=found, **context)


def clash_page(request: Request, desk: Desk, clash: Clash, values: Values, which: tuple[str, str]) -> Response:
    """What was changed meanwhile, and what was typed kept in a form to send anew; `which` is chapter and name."""
    of, name = which
    found = clash.now.entry(of, name)
    typed = typed_in(values)
    if found is None:
        lines = difference(clash.before.text, clash.now.text) if clash.before else []
        return page(request, "gone.html", 409, desk=desk, name=name or of, typed=typed, lines=lines)
    keys = [field.key for field in declared(found.declares).values()]
    if clash.before is not None and (old := clash.before.entry(of, name)) is not None:
        typed = wanted(clash.before.site, clash.before.text, old, typed)
    fields: list[FormField] = again(fields_of(clash.now.site, clash.now.text, found), typed, {})
    rows = differing_keys(clash, of, name, keys)
    shown = {"fields": fields, "differs": rows, "clash": True, "status": 409, "mine": set(typed)}
    return entry_page(request, desk, found, values, shown)


def typed_in(values: Values) -> dict[str, str]:
    """Key -> what was typed at it."""
    return {key.removeprefix(PREFIX): value for key, value in values.items() if key.startswith(PREFIX)}


def _offered(desk: Desk, values: Values) -> dict[str, Any]:
    """What a form offers to pick from, and where it goes back to."""
    site = desk.study().site
    there = values.get("there", "")
    return {
        "names": [*site.batteries, *site.parts],
        "zones": list(site.zones),
        "homes": [],
        "there": there if there in TABS else "supply",
        "told": (),
        "differs": (),
        "clash": False,
        "mine": set(),
    }


ROUTES = (
    Route("/s/{file}/entry", entry, name="entry"),
    Route("/s/{file}/add", adding, name="adding"),
)
