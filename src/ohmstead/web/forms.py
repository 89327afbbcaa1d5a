"""Forms made of the declarations of the site file: one field a key, as the builder typed it."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from ..site.declare import Field, declared
from ..site.edit import EditRefused
from ..site.model import Run, Site
from ..site.problems import Problem
from ..site.reshape import (
    inside_braces,
    names_at,
    plain_text,
    stretches,
    with_item,
    with_value,
    without,
)
from .chapters import Entry

MOST_TEXT = 20_000
OWN_FORM = {"cabinet fan": "fan", "cabinet filter": "filter"}
Typed = Mapping[str, str]


@dataclass(frozen=True)
class FormField:
    """One key of a form: what stands in the file, what is taken when nothing does, what it means, what is wrong."""

    key: str
    text: str
    doc: str
    needed: str
    choosable: str
    words: tuple[str, ...]
    told: str = ""


class FormRefused(EditRefused):
    """What was typed cannot be written: `at` says why at each key, `apart` what belongs to none of them."""

    def __init__(self, at: Mapping[str, str], apart: Iterable[str] = ()) -> None:
        self.at, self.apart = dict(at), tuple(apart)
        super().__init__("; ".join([*self.at.values(), *self.apart]))


def fields_of(site: Site, text: str, entry: Entry) -> list[FormField]:
    """The fields of an entry; what is written stands first, the rest in the order of the declarations."""
    apart = [key for key in OWN_FORM.values() if names_at(text, site.path, (*entry.steps, key))]
    written = (
        _field(field, plain_text(text, site.path, (*entry.steps, field.key)))
        for field in declared(entry.declares).values()
        if not (field.form in OWN_FORM and field.key in apart)
    )
    return sorted(written, key=lambda field: not field.text)


def blank_fields(entry: Entry) -> list[FormField]:
    """The empty fields of a new entry; what is needed stands first."""
    fields = (_field(field, "") for field in declared(entry.declares).values())
    return sorted(fields, key=lambda field: not field.needed)


def again(fields: list[FormField], typed: Typed, told: Typed) -> list[FormField]:
    """The same fields with what was typed, and what is wrong with it; those stand first."""
    filled = [replace(f, text=typed.get(f.key, f.text), told=told.get(f.key, "")) for f in fields]
    return sorted(filled, key=lambda field: (not field.told, not field.text))


def _field(field: Field, text: str) -> FormField:
    words = tuple(field.form.partition("word:")[2].split("|")) if field.form.startswith("word:") else ()
    return FormField(field.key, text, field.doc, field.why, field.choosable, words)


def wanted(site: Site, text: str, entry: Entry, typed: Typed) -> dict[str, str]:
    """What a form changes, seen from the text it was made from: key -> new value, empty where it is taken out."""
    keys = [field.key for field in declared(entry.declares).values() if field.key in typed]
    now = {key: plain_text(text, site.path, (*entry.steps, key)) for key in keys}
    return {key: one_line(typed[key]) for key in keys if one_line(typed[key]) != now[key]}


def changed(site: Site, text: str, entry: Entry, values: Typed) -> str:
    """The text with new values at keys of an entry; an empty one is taken out. Raises FormRefused."""
    _bounded(values)
    at = {}
    for key, new in values.items():
        steps = (*entry.steps, key)
        there = plain_text(text, site.path, steps)
        try:
            if new:
                text = with_value(text, site.path, steps, new if there else inside_braces(new))
            elif there:
                text = without(text, site.path, steps)
        except EditRefused as fault:
            at[key] = str(fault)
    if at:
        raise FormRefused(at)
    return text


def added(site: Site, text: str, entry: Entry, values: Typed) -> str:
    """The text with one more part, run, or entry of a chapter. Raises FormRefused."""
    _bounded(values)
    pairs = [(key, one_line(value)) for key, value in values.items() if value.strip()]
    body = ", ".join(f"{key}: {inside_braces(value)}" for key, value in pairs)
    try:
        if entry.declares is Run:
            return with_item(text, site.path, "runs", f"{{{body}}}")
        if entry.of == "":
            body = f"kind: {entry.kind}" + (f", {body}" if body else "")
        return with_value(text, site.path, entry.steps, f"{{{body}}}")
    except EditRefused as fault:
        raise FormRefused({}, (str(fault),)) from None


def removed(site: Site, text: str, entry: Entry) -> str:
    """The text without an entry, without the runs that end at it and its place on the plate. Raises EditRefused."""
    if entry.of in ("", "battery") and entry.declares is not Run:
        for index in reversed(ends_at(site, entry.name)):
            text = without(text, site.path, ("runs", index))
        if entry.name in names_at(text, site.path, ("plate", "parts")):
            text = without(text, site.path, ("plate", "parts", entry.name))
    return without(text, site.path, entry.steps)


def ends_at(site: Site, name: str) -> list[int]:
    """Positions of the runs that end at a part or battery."""
    return [i for i, run in enumerate(site.runs) if name in (run.start.part, run.end.part)]


def accepted(site: Site, text: str, rule: str, subject: str, because: str) -> str:
    """The text with a finding accepted for a reason. Raises EditRefused."""
    reason = one_line(because)
    if not reason:
        raise EditRefused("a finding is accepted with a reason")
    values = f"finding: {rule}, on: {inside_braces(subject)}, because: {inside_braces(reason)}"
    return with_item(text, site.path, "accepted", f"{{{values}}}")


def at_fields(site: Site, text: str, entry: Entry, problems: Iterable[Problem]) -> FormRefused:
    """What is wrong with a text that a form made, sorted to the keys of the form."""
    where = stretches(text, site.path, entry.steps)
    at: dict[str, str] = {}
    apart = []
    known = {field.key for field in declared(entry.declares).values()}
    for problem in problems:
        told = f"{problem.what}; {problem.mend}" if problem.mend else problem.what
        spot = problem.place.start
        key = next((key for key, (start, end) in where.items() if start <= spot < max(end, start + 1)), "")
        if key in known and problem.place.line:
            at[key] = f"{at[key]}. {told}" if key in at else told
        else:
            apart.append(told)
    return FormRefused(at, apart)


def one_line(text: str) -> str:
    """What was typed, as one line."""
    return " ".join(text.split())


def _bounded(values: Typed) -> None:
    """Raises FormRefused for what is too long for one line."""
    at = {key: f"{len(new)} characters are more than the {MOST_TEXT} that a line takes"
          for key, new in values.items() if len(new) > MOST_TEXT}  # fmt: skip
    if at:
        raise FormRefused(at)
