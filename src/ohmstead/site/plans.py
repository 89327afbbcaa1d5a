"""For each class of the model: which keys it has, how each is read, and what holds when it is not written."""

from dataclasses import MISSING, dataclass
from functools import cache
from typing import Any

from . import duty, electrical, fittings, forms, levels, lists, rates
from .bounds import bounds_of
from .declare import Field, declared
from .forms import Reader
from .place import Origin

READERS: dict[str, Reader] = {
    "number": forms.number,
    "span": forms.span,
    "word": forms.word,
    "text": forms.text,
    "zone": forms.text,
    "part or battery": forms.text,
    "slug": forms.slug,
    "date": forms.date,
    "stud": forms.stud,
    "air": forms.air,
    "power": electrical.power,
    "draws": electrical.draws,
    "idle": electrical.idle,
    "efficiency": electrical.efficiency,
    "lockout": electrical.lockout,
    "limits": electrical.limits,
    "open circuit": electrical.open_circuit,
    "rates": rates.rates,
    "fuse window": electrical.fuse_window,
    "duty": duty.duty,
    "level": levels.level,
    "shed": levels.shed,
    "endpoint": fittings.endpoint,
    "height": fittings.height,
    "wire": fittings.wire,
    "ethernet cable": fittings.ethernet_cable,
    "fuse": fittings.fuse,
    "end": fittings.end,
    "ends": fittings.ends,
    "laid": fittings.laid,
    "twelve": lists.twelve,
    "one or twelve": lists.one_or_twelve,
    "months": lists.months,
    "skyline": lists.skyline,
    "columns": lists.columns,
    "arrays": lists.arrays,
    "array": forms.text,
}


@dataclass(frozen=True, slots=True)
class Entry:
    """One key: the attribute it fills, its declaration, its reader, and its origin when unwritten."""

    attribute: str
    field: Field
    read: Reader
    unwritten: Origin


@cache
def plan(cls: type) -> dict[str, Entry]:
    """Key -> how it is read, for every key a builder may write in this thing."""
    found = {}
    for attribute, field in declared(cls).items():
        default = cls.__dataclass_fields__[attribute].default  # type: ignore[attr-defined]
        reader = _reader(field.form.partition(":")[0])
        found[field.key] = Entry(attribute, field, reader, _unwritten(field, default))
    return found


def _reader(form: str) -> Reader:
    if form in READERS:
        return READERS[form]
    from .box_forms import BOX_READERS

    if form in BOX_READERS:
        return BOX_READERS[form]
    from . import plate_forms

    found: Reader = getattr(plate_forms, form)
    return found


@cache
def required(cls: type) -> tuple[Entry, ...]:
    """The keys that must be written: those whose declaration says why."""
    return tuple(entry for entry in plan(cls).values() if entry.field.why)


@cache
def unwritten_origins(cls: type) -> dict[str, Origin]:
    """Attribute -> origin, as if nothing were written."""
    return {entry.attribute: entry.unwritten for entry in plan(cls).values()}


def _unwritten(field: Field, default: Any) -> Origin:
    if field.assumed:
        return Origin("assumed", field.assumed)
    shown = shown_default(field, default)
    return Origin("assumed", shown) if shown else Origin("missing")


def shown_default(field: Field, default: Any) -> str:
    """A default as the builder would write it; an empty text when there is none."""
    if default is None or default is MISSING or default in ("", ()):
        return ""
    form, _, dimension = field.form.partition(":")
    if form == "number":
        if default == 0 and bounds_of(field.bounds, dimension).kind == "above":
            return ""  # stands for "not known"
        from ..quantity.show import show

        return show(float(default), dimension)
    return str(default) if isinstance(default, str) else ""
