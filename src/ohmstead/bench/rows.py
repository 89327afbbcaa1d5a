"""Rows of the store as entries, and the questions that are asked of them."""

import sqlite3
from collections.abc import Iterator
from dataclasses import replace

from ..site.record import record
from .reading import Entry, Reading

MOST_MISSED = 100_000  # numbers in a row without a readable reading, after which rescue ends
_FIELDS = "quantity, point, value, who, revision, state, step, meter, note, at, uncertainty, token"
_COLUMNS = f"number, {_FIELDS}, entered, coalesce(corrects, 0), (SELECT count(*) FROM picture WHERE reading = r.number)"
_COUNTS = "value IS NOT NULL AND NOT EXISTS (SELECT 1 FROM reading AS c WHERE c.corrects = r.number)"


@record(frozen=True)
class Wanted:
    """Which rows: "now" counts corrections in, "all" is the whole history. Empty texts and zeros ask for nothing."""

    which: str = "now"
    point: str = ""
    state: str | None = None
    step: str = ""
    revision: str = ""
    after_number: int = 0
    newest: int = 0


def select(connection: sqlite3.Connection, wanted: Wanted) -> Iterator[Entry]:
    """Entries in the order of entering, read one by one."""
    terms, given = [_COUNTS] if wanted.which == "now" else ["1"], []
    for column, text in (("point", wanted.point), ("step", wanted.step), ("revision", wanted.revision)):
        if text:
            terms.append(f"{column} = ?")
            given.append(text)
    if wanted.state is not None:
        terms.append("state = ?")
        given.append(wanted.state)
    if wanted.after_number:
        terms.append(f"number > {int(wanted.after_number)}")
    text = f"SELECT {_COLUMNS} FROM reading AS r WHERE {' AND '.join(terms)} ORDER BY number"
    if wanted.newest:
        text = f"SELECT * FROM ({text} DESC LIMIT {int(wanted.newest)}) ORDER BY number"
    for row in connection.execute(text, given):
        yield _entry(row)


def count(connection: sqlite3.Connection) -> int:
    """How many readings count now, of every text of the site file."""
    return int(connection.execute(f"SELECT count(*) FROM reading AS r WHERE {_COUNTS}").fetchone()[0])


def by_number(connection: sqlite3.Connection, number: int) -> Entry | None:
    """The row of that number."""
    row = connection.execute(f"SELECT {_COLUMNS} FROM reading AS r WHERE number = ?", (number,)).fetchone()
    return None if row is None else _entry(row)


def by_token(connection: sqlite3.Connection, token: str) -> Entry | None:
    """The row that was stored under that token."""
    row = connection.execute(f"SELECT {_COLUMNS} FROM reading AS r WHERE token = ?", (token,)).fetchone()
    return None if row is None else _entry(row)


def correction_of(connection: sqlite3.Connection, number: int) -> Entry | None:
    """The row that corrects another."""
    row = connection.execute(f"SELECT {_COLUMNS} FROM reading AS r WHERE corrects = ?", (number,)).fetchone()
    return None if row is None else _entry(row)


def insert(connection: sqlite3.Connection, reading: Reading, entered: str, corrects: int | None) -> Entry:
    """Add a row inside an open transaction."""
    places = ", ".join("?" * 14)
    made = connection.execute(
        f"INSERT INTO reading ({_FIELDS}, entered, corrects) VALUES ({places})",
        (*_values(reading), entered, corrects),
    ).lastrowid
    return Entry(int(made or 0), reading, entered, corrects or 0)


def filled(reading: Reading, at: str, token: str) -> Reading:
    """The reading with moment and token."""
    return replace(reading, at=at, token=token)


def same(entry: Entry, reading: Reading, corrects: int | None) -> bool:
    """Whether a stored row is this reading; the moment does not count where the clock gave it."""
    return entry.corrects == (corrects or 0) and replace(entry.reading, at=reading.at) == reading


def _values(reading: Reading) -> tuple[object, ...]:
    return tuple(getattr(reading, name) for name in _FIELDS.split(", "))


def _entry(row: tuple[object, ...]) -> Entry:
    *fields, entered, corrects, n_picture = row[1:]
    reading = Reading(**dict(zip(_FIELDS.split(", "), fields, strict=True)))  # type: ignore[arg-type]
    return Entry(int(row[0]), reading, str(entered), int(corrects), int(n_picture))  # type: ignore[call-overload]


def rescued(connection: sqlite3.Connection) -> Iterator[Entry]:
    """Every row that can still be read of a damaged store, one by one."""
    missed, number = 0, 0
    while missed < MOST_MISSED:
        number += 1
        try:
            entry = by_number(connection, number)
        except sqlite3.DatabaseError:
            entry = None
        missed = missed + 1 if entry is None else 0
        if entry is not None:
            yield entry
