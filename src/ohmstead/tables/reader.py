"""Reads one published table: comma-separated rows under a commented TOML head.

A column is numbers when every filled cell is a number (an empty cell is then `nan`), otherwise text.
The head is only parsed when somebody asks for it, so that a check never pays for it.
"""

from functools import cache
from math import nan
from os.path import dirname, join

Cell = float | str
DATA = join(dirname(__file__), "data")


def _lines(name: str) -> tuple[list[str], list[str]]:
    """The head and the body of a table file, as lines."""
    with open(join(DATA, name + ".csv"), encoding="utf-8") as file:
        lines = file.read().splitlines()
    first = next(i for i, line in enumerate(lines) if not line.startswith("#"))
    return lines[:first], lines[first:]


def _column(cells: list[str]) -> list[Cell]:
    """Numbers if every filled cell is one, else the text as it stands."""
    try:
        return [float(cell) if cell else nan for cell in cells]
    except ValueError:
        return list(cells)


@cache
def columns(name: str) -> dict[str, list[Cell]]:
    """The table by column, in the order of the file. Kept for the life of the process."""
    _, body = _lines(name)
    names = body[0].split(",")
    cells = [line.split(",") for line in body[1:] if line]
    for number, row in enumerate(cells, start=1):
        if len(row) != len(names):
            raise ValueError(f"table {name}, row {number}: {len(row)} cells under {len(names)} columns")
    return {column: _column([row[i].strip() for row in cells]) for i, column in enumerate(names)}


@cache
def rows(name: str) -> list[dict[str, Cell]]:
    """The table row by row. Do not change what you are given: it is shared."""
    table = columns(name)
    return [dict(zip(table, cells, strict=True)) for cells in zip(*table.values(), strict=True)]


def numbers(name: str, column: str) -> list[float]:
    """One column that must be numbers."""
    return [cell if isinstance(cell, float) else _not_a_number(name, column, cell) for cell in columns(name)[column]]


def words(name: str, column: str) -> list[str]:
    """One column as text; a number keeps its shortest form."""
    return [cell if isinstance(cell, str) else f"{cell:g}" for cell in columns(name)[column]]


def _not_a_number(name: str, column: str, cell: str) -> float:
    raise ValueError(f"table {name}, column {column}: {cell!r} is not a number")


def head(name: str) -> dict[str, str]:
    """What the table says of itself: title, source, place, read, and a line for each column."""
    import tomllib

    lines, _ = _lines(name)
    return tomllib.loads("\n".join(line.lstrip("#").strip() for line in lines))


def names() -> list[str]:
    """All tables there are, sorted."""
    from os import listdir

    return sorted(file[:-4] for file in listdir(DATA) if file.endswith(".csv"))
