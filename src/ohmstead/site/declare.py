"""How a field of the site file is declared: once, for reading, for the schema and for the docs."""

import dataclasses
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Field:
    """One key that a builder may write.

    key: as written in the file. form: how its text is read (see `forms.py`), for instance
    "number:length" or "span:voltage". doc: one line for the builder. why: set when the field is
    required, the reason it is needed. assumed: said in results when the default is used. bounds: which
    numbers make sense, such as "0 or more", "1..8" or "any"; unsaid: above zero, temperatures any.
    """

    key: str
    form: str
    doc: str
    why: str = ""
    assumed: str = ""
    choosable: str = ""  # "choose" when the builder may leave it open with `choose`
    open: object = None  # what stands there while it is left open
    bounds: str = ""
    derived: str = ""  # "from plan" when the builder may leave it to the plan of the plate


def key(key: str, form: str, doc: str, **more: Any) -> Any:
    """A dataclass field with its declaration; `default` in `more` is what is taken when unwritten."""
    default = more.pop("default", None)
    return dataclasses.field(default=default, metadata={"field": Field(key, form, doc, **more)})


def declared(cls: type) -> dict[str, Field]:
    """Attribute name -> declaration, in order, of every field of `cls` that the builder can write."""
    found = {}
    for name, entry in cls.__dataclass_fields__.items():  # type: ignore[attr-defined]
        declaration = entry.metadata.get("field")
        if declaration is not None:
            found[name] = declaration
    return found
