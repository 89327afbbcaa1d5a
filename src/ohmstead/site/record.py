"""Frozen dataclasses that cost little to define.

`dataclass` writes and compiles five functions for every class; with some thirty classes that takes longer
than reading a site file. `record` lets it collect the fields only and adds functions that all classes
share, so `fields`, `replace` and type checkers see a plain frozen dataclass.
"""

from dataclasses import MISSING, FrozenInstanceError, dataclass
from typing import TYPE_CHECKING, Any

__all__ = ["record"]

if TYPE_CHECKING:
    from dataclasses import dataclass as record
else:

    def record(*, frozen: object) -> Any:
        """Make a class a frozen dataclass; `frozen=True` is said so that type checkers know it."""

        def finish(cls: type) -> type:
            cls = dataclass(init=False, repr=False, eq=False)(cls)
            cls.__record_defaults__ = {
                name: field.default for name, field in cls.__dataclass_fields__.items() if field.default is not MISSING
            }
            cls.__init__ = _init
            cls.__repr__ = _repr
            cls.__eq__ = _eq
            cls.__hash__ = _hash
            cls.__setattr__ = _setattr
            cls.__delattr__ = _delattr
            return cls

        return finish


def _init(self: Any, *given: Any, **named: Any) -> None:
    fields, defaults = self.__dataclass_fields__, self.__record_defaults__
    if given:
        by_place = dict(zip(fields, given, strict=False))
        if len(given) > len(fields) or not named.keys().isdisjoint(by_place):
            raise TypeError(f"{type(self).__name__} got too many values, or one of them twice")
        named |= by_place
    if not named.keys() <= fields.keys():
        raise TypeError(f"{type(self).__name__} has no {', '.join(named.keys() - fields.keys())}")
    values = self.__dict__
    values.update(defaults)
    values.update(named)
    if len(values) < len(fields):
        for name in fields.keys() - values.keys():
            if fields[name].default_factory is MISSING:
                values.clear()
                raise TypeError(f"{type(self).__name__} lacks {name}")
            values[name] = fields[name].default_factory()


def _values(thing: Any) -> tuple[Any, ...]:
    return tuple(getattr(thing, name) for name in thing.__dataclass_fields__)


def _repr(self: Any) -> str:
    shown = ", ".join(f"{name}={getattr(self, name)!r}" for name in self.__dataclass_fields__)
    return f"{type(self).__qualname__}({shown})"


def _eq(self: Any, other: object) -> Any:
    return _values(self) == _values(other) if other.__class__ is self.__class__ else NotImplemented


def _hash(self: Any) -> int:
    return hash(_values(self))


def _setattr(self: Any, name: str, value: Any) -> None:
    raise FrozenInstanceError(f"cannot assign to field {name!r}")


def _delattr(self: Any, name: str) -> None:
    raise FrozenInstanceError(f"cannot delete field {name!r}")
