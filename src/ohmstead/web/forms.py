"""Forms made of the declarations of the site file: one field a key, as the builder typed it."""

from dataclasses import dataclass

from ..site.declare import Field, declared
from ..site.edit import EditRefused
from ..site.kinds import KINDS
from ..site.model import Battery, Run, Site
from ..site.reshape import Step, value_text, with_item, with_value, without

MOST_TEXT = 400


@dataclass(frozen=True)
class Entry:
    """Something that a form changes: its class of declarations, the steps to it in the file, its kind."""

    steps: tuple[Step, ...]
    declares: type
    kind: str


@dataclass(frozen=True)
class FormField:
    """One key of a form: what stands in the file, what is taken when nothing does, and what it means."""

    key: str
    text: str
    doc: str
    needed: str
    choosable: str
    words: tuple[str, ...]


def entry_of(site: Site, name: str) -> Entry | None:
    """The entry of a battery, part or run; None for a name that is none."""
    if name in site.batteries:
        return Entry(("battery", name), Battery, "battery")
    if name in site.parts:
        part = site.parts[name]
        return Entry(("parts", name), type(part), str(getattr(part, "kind", "part")))
    for run in site.runs:
        if run.name == name:
            return Entry(("runs", site.runs.index(run)), Run, "run")
    return None


def fields_of(site: Site, text: str, entry: Entry) -> list[FormField]:
    """The fields of an entry; what is written stands first, the rest in the order of the declarations."""
    written = (
        _field(field, value_text(text, site.path, (*entry.steps, field.key)))
        for field in declared(entry.declares).values()
    )
    return sorted(written, key=lambda field: not field.text)


def blank_fields(kind: str) -> list[FormField]:
    """The empty fields of a new part, or of a new "run". Raises KeyError for a kind that is none."""
    return [_field(field, "") for field in declared(Run if kind == "run" else KINDS[kind]).values()]


def _field(field: Field, text: str) -> FormField:
    words = tuple(field.form.partition("word:")[2].split("|")) if field.form.startswith("word:") else ()
    return FormField(field.key, text, field.doc, field.why, field.choosable, words)


def changed(site: Site, text: str, entry: Entry, values: dict[str, str]) -> str:
    """The text with the values of a form; an emptied field is taken out. Raises EditRefused."""
    for key in (field.key for field in declared(entry.declares).values()):
        if key not in values:
            continue
        new = _one_line(values[key])
        old = value_text(text, site.path, (*entry.steps, key))
        if new == old:
            continue
        steps = (*entry.steps, key)
        text = with_value(text, site.path, steps, new) if new else without(text, site.path, steps)
    return text


def added_part(site: Site, text: str, kind: str, name: str, values: dict[str, str]) -> str:
    """The text with one more part. Raises EditRefused."""
    if kind not in KINDS:
        raise EditRefused(f"there is no kind `{kind}`")
    name = _one_line(name)
    if not name or name in site.parts or name in site.batteries:
        raise EditRefused(f"`{name}` is taken or empty: every part has a name of its own")
    body = ", ".join(f"{key}: {_one_line(value)}" for key, value in values.items() if value.strip())
    inside = f"kind: {kind}, {body}" if body else f"kind: {kind}"
    return with_value(text, site.path, ("parts", name), f"{{{inside}}}")


def added_run(site: Site, text: str, values: dict[str, str]) -> str:
    """The text with one more run. Raises EditRefused."""
    body = ", ".join(f"{key}: {_one_line(value)}" for key, value in values.items() if value.strip())
    return with_item(text, site.path, "runs", f"{{{body}}}")


def removed(site: Site, text: str, entry: Entry, name: str) -> str:
    """The text without an entry, and without the runs that end at it. Raises EditRefused."""
    if entry.declares is not Run:
        ends = [i for i, run in enumerate(site.runs) if name in (run.start.part, run.end.part)]
        for index in reversed(ends):
            text = without(text, site.path, ("runs", index))
    return without(text, site.path, entry.steps)


def accepted(site: Site, text: str, rule: str, subject: str, because: str) -> str:
    """The text with a finding accepted for a reason. Raises EditRefused."""
    reason = _one_line(because)
    if not reason:
        raise EditRefused("a finding is accepted with a reason")
    if any(sign in reason for sign in ",{}[]#") or ": " in reason:
        reason = "'" + reason.replace("'", "''") + "'"
    return with_item(text, site.path, "accepted", f"{{finding: {rule}, on: {subject}, because: {reason}}}")


def _one_line(text: str) -> str:
    return " ".join(text.split())[:MOST_TEXT]
