"""Changes to the file by form: fields of an entry, entries more or less, a finding accepted.

A form that is refused comes back with what was typed and the reason at its field; one that was made from an older text
is put into the text of now where both agree about what it changes, and comes back beside the difference where not.
"""

from collections.abc import Callable, Mapping

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from ...site.edit import EditRefused
from ...site.model import Run
from ...site.problems import SiteError
from ...site.reshape import inside_braces, plain_text, with_value
from ...study import Study
from ..answers import back, desk_of, guarded
from ..chapters import Entry, entry_in, new_entry
from ..desk import Desk
from ..drawn import key_of
from ..forms import (
    FormRefused,
    accepted,
    added,
    again,
    at_fields,
    blank_fields,
    changed,
    fields_of,
    one_line,
    removed,
    wanted,
)
from ..merge import Alike, Change, Clash, Standing, any_text, put, same_entry, same_with_runs
from ..shelf import NotHere
from .entry import TABS, adding_page, clash_page, entry_page, typed_in


def posted(work: Callable[[Request, Desk, dict[str, str]], Response], name: str, path: str) -> Route:
    """A route for a change: the form is read first, then the work is done as for any page."""

    async def answer(request: Request) -> Response:
        form: FormData = await request.form(max_fields=400, max_files=0)
        values = {key: value for key, value in form.items() if isinstance(value, str)}
        return await run_in_threadpool(guarded(lambda request: work(request, desk_of(request), values)), request)

    return Route(path, answer, methods=["POST"], name=name)


def set_fields(request: Request, desk: Desk, values: dict[str, str]) -> Response:
    """Fields of one entry."""
    of, name, typed = values.get("of", ""), values.get("name", ""), typed_in(values)

    def change(before: Standing, now: Standing) -> str:
        seen, there = entry_in(before.site, of, name), entry_in(now.site, of, name)
        if seen is None or there is None:
            raise NotHere(name)
        return changed(now.site, now.text, there, wanted(before.site, before.text, seen, typed))

    found = entry_in(desk.study().site, of, name)
    try:
        _put(desk, values, (change, same_entry(of, name)), found)
    except Clash as clash:
        return clash_page(request, desk, clash, values, (of, name))
    except FormRefused as refused:
        if found is None:
            raise
        site = desk.study().site
        fields = again(fields_of(site, site.text, found), typed, refused.at)
        return entry_page(request, desk, found, values, {"fields": fields, "told": refused.apart, "status": 422})
    return _done(request, values)


def add(request: Request, desk: Desk, values: dict[str, str]) -> Response:
    """One more part, run, or entry of a chapter."""
    of, name, typed = values.get("of", ""), one_line(values.get("name", "")), typed_in(values)
    found = new_entry(of, values.get("kind", ""), name)
    if found is None:
        raise NotHere(of or values.get("kind", ""))

    def change(before: Standing, now: Standing) -> str:
        if found.declares is not Run:
            taken = plain_text(now.text, now.site.path, found.steps) or (not of and name in now.site.batteries)
            if not name or taken:
                raise FormRefused({}, (f"`{name}` is taken or empty: everything has a name of its own",))
        text = added(now.site, now.text, found, typed)
        return _in_zone(now, text, name, values) if of == "cabinet" else text

    try:
        _put(desk, values, (change, any_text), found)
    except Clash:  # made from a text that nobody knows
        shown = {"fields": again(blank_fields(found), typed, {}), "clash": True, "status": 409}
        return adding_page(request, desk, found, values, shown)
    except FormRefused as refused:
        fields = again(blank_fields(found), typed, refused.at)
        return adding_page(request, desk, found, values, {"fields": fields, "told": refused.apart, "status": 422})
    return _done(request, values)


def remove(request: Request, desk: Desk, values: dict[str, str]) -> Response:
    """One entry less."""
    of, name = values.get("of", ""), values.get("name", "")
    found = entry_in(desk.study().site, of, name)

    def change(before: Standing, now: Standing) -> str:
        there = now.entry(of, name)
        if there is None:
            raise NotHere(name or of)
        text, air = removed(now.site, now.text, there), one_line(values.get("air", ""))
        if of == "cabinet" and air:
            return with_value(text, now.site.path, ("zones", name, "air"), air)
        return text

    try:
        _put(desk, values, (change, same_with_runs(of, name)), found)
    except Clash as clash:
        return clash_page(request, desk, clash, values, (of, name))
    except FormRefused as refused:
        if found is None:
            raise
        told = (*refused.at.values(), *refused.apart)
        return entry_page(request, desk, found, values, {"told": told, "status": 422})
    return _done(request, values)


def accept(request: Request, desk: Desk, values: dict[str, str]) -> Response:
    """A finding that the builder lives with."""
    rule, _, subject = values.get("finding", "").partition("|")

    def said(standing: Standing) -> list[str]:
        return [one.message for one in Study(standing.site).findings if key_of(one) == f"{rule}|{subject}"]

    def alike(before: Standing, now: Standing) -> bool:
        return bool(said(now)) and said(before) == said(now)

    def change(before: Standing, now: Standing) -> str:
        return accepted(now.site, now.text, rule, subject, values.get("because", ""))

    _put(desk, values, (change, alike), None)
    return back(request)


def _put(desk: Desk, values: Mapping[str, str], doing: tuple[Change, Alike], entry: Entry | None) -> None:
    """Put a change into the file. Raises FormRefused with the reasons at the fields where the file would not do."""
    made = ""

    def noted(before: Standing, now: Standing) -> str:
        nonlocal made
        made = doing[0](before, now)
        return made

    try:
        put(desk, values.get("mark", ""), noted, doing[1])
    except SiteError as fault:
        if desk.problems() or not made:
            raise
        if entry is None:
            told = "; ".join(f"{problem.what}; {problem.mend}" for problem in fault.problems)
            raise EditRefused(told) from None
        site = desk.study().site
        if entry.steps == ("runs",):  # one that was added is the last of its list
            entry = Entry(("runs", len(site.runs)), Run, "run", "", "")
        raise at_fields(site, made, entry, fault.problems) from None


def _in_zone(now: Standing, text: str, name: str, values: Mapping[str, str]) -> str:
    """The zone of a new cabinet: inside another, its air from the heat in the box."""
    path, around = now.site.path, one_line(values.get("around", ""))
    if around:
        text = with_value(text, path, ("zones", name, "inside"), inside_braces(around))
    return with_value(text, path, ("zones", name, "air"), "from heat")


def _done(request: Request, values: Mapping[str, str]) -> Response:
    there = values.get("there", "")
    return back(request, there if there in TABS else "")


ROUTES = (
    posted(set_fields, "set", "/s/{file}/set"),
    posted(add, "add", "/s/{file}/add"),
    posted(remove, "remove", "/s/{file}/remove"),
    posted(accept, "accept", "/s/{file}/accept"),
)
