"""The equations of a box as machine code: the same functions, compiled once and kept beside their source."""

from collections.abc import Iterable
from os import stat
from types import FunctionType, ModuleType
from typing import Any

import numpy as np
from numba import njit

from ..sun.hours import FloatArray
from . import hours, kernel, passage


def array(values: Iterable[float]) -> FloatArray:
    """One row of numbers."""
    return np.array(values if isinstance(values, list | np.ndarray) else list(values), dtype=float)


def table(rows: list[list[float]]) -> FloatArray:
    """Rows of numbers."""
    return np.array(rows, dtype=float)


def empty(n_row: int, n_hour: int) -> FloatArray:
    """Room for an answer."""
    return np.zeros((n_row, n_hour))


def _compiled(modules: tuple[ModuleType, ...]) -> dict[str, Any]:
    """Copies of all functions, in the order they stand, each seeing the compiled ones before it; all names.

    The cache asks only the file of a function whether it is stale, so all say that they come from the newest.
    """
    newest = max((str(module.__file__) for module in modules), key=lambda file: stat(file).st_mtime)
    names: dict[str, Any] = {}

    for module in modules:
        names |= {name: value for name, value in vars(module).items() if name not in names}
        for name, value in vars(module).items():
            if isinstance(value, FunctionType) and value.__module__ == module.__name__:
                code = value.__code__.replace(co_filename=newest)
                names[name] = njit(cache=True, error_model="numpy")(FunctionType(code, names, name))
    return names


names = _compiled((kernel, passage, hours))
fast = names["run"]
