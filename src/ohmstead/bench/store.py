"""The store of readings beside the site file: append-only, each reading safe once `add` has returned.

A correction is a new row that names the one it replaces. Several programs may have the store open at once; a
Store itself belongs to one thread. Not for folders shared over a network: there the log cannot be shared safely.
"""

import os
import sqlite3
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from types import TracebackType
from uuid import uuid4

from . import rows
from .faults import ForeignFile, ReadingRefused, StoreError, StoreMoved, fault
from .open_file import PATIENCE_S, telling, to_read, to_write
from .reading import LONGEST_TEXT, Entry, Reading, faults_of, now, utc


def store_path(site_path: str | os.PathLike[str]) -> str:
    """Where the readings of a site file stand: `skerry.yaml` has them in `skerry.readings.db`.

    >>> store_path("skerry.yaml")
    'skerry.readings.db'
    """
    return os.path.splitext(os.fspath(site_path))[0] + ".readings.db"


class Store:
    """An open store; use it in a `with`. Made by `open_store` and `view_store`. Every method raises StoreError."""

    def __init__(self, file: str, connection: sqlite3.Connection, patience_s: float) -> None:
        self.file = file
        self._patience_s = patience_s
        self.connection = connection
        self._identity = _identity(file)

    def __enter__(self) -> "Store":
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self.close()

    def close(self) -> None:
        """Close the file; what the log still holds is taken into it when nobody else has it open."""
        with suppress(sqlite3.Error):
            self.connection.close()

    def add(self, reading: Reading) -> Entry:
        """Store a reading; when this returns it is safe. The same token again gives the entry of before."""
        return self.add_all([reading])[0]

    def add_all(self, readings: Iterable[Reading]) -> tuple[Entry, ...]:
        """Store several readings, all or none."""
        ready = [self._ready(reading) for reading in readings]
        for reading in ready:
            if reading.value is None:
                raise fault(ReadingRefused, self.file, "no-value")
        with self.writing():
            return tuple([self._insert(reading, None) for reading in ready])

    def correct(self, number: int, reading: Reading) -> Entry:
        """Put a reading in the place of an earlier one, which stays in the history."""
        ready = self._ready(reading)
        with self.writing():
            return self._insert(ready, number)

    def withdraw(self, number: int, who: str, because: str) -> Entry:
        """Say that a reading does not count; it stays in the history."""
        if not because.strip():
            raise fault(ReadingRefused, self.file, "withdraw")
        with telling(self.file):
            old = self.known(number).reading
        empty = Reading(old.quantity, old.point, None, who, old.revision, old.state, old.step, note=because)
        return self.correct(number, empty)

    def entries(self, wanted: rows.Wanted = rows.Wanted()) -> tuple[Entry, ...]:  # noqa: B008 - frozen
        """Rows as wanted, in the order of entering; without a wish all that count now."""
        with telling(self.file):
            return tuple(rows.select(self.connection, wanted))

    def _ready(self, reading: Reading) -> Reading:
        """The reading with its moment and token filled in; refused when it cannot be stored."""
        faults = faults_of(reading)
        if faults:
            key, given = faults[0]
            raise fault(ReadingRefused, self.file, key, given=given, most=LONGEST_TEXT)
        return rows.filled(reading, utc(reading.at) if reading.at else now(), reading.token or uuid4().hex)

    def _insert(self, reading: Reading, corrects: int | None) -> Entry:
        before = rows.by_token(self.connection, reading.token)
        if before is not None:
            if not rows.same(before, reading, corrects):
                raise fault(ReadingRefused, self.file, "clash")
            return before
        if corrects is not None:
            self.known(corrects)
            newer = rows.correction_of(self.connection, corrects)
            if newer is not None:
                who, by = newer.reading.who, newer.number
                raise fault(ReadingRefused, self.file, "corrected", number=corrects, by=by, who=who)
        return rows.insert(self.connection, reading, now(), corrects)

    def known(self, number: int) -> Entry:
        """The row of that number; refused when there is none."""
        found = rows.by_number(self.connection, number)
        if found is None:
            raise fault(ReadingRefused, self.file, "no-entry", number=number)
        return found

    @contextmanager
    def writing(self) -> Iterator[None]:
        """One transaction, begun as a writer so that waiting works; left only when it is on the disk."""
        with telling(self.file, self._patience_s):
            self._check_place()
            self.connection.execute("BEGIN IMMEDIATE")
            try:
                yield
                self.connection.execute("COMMIT")
            except BaseException:
                if self.connection.in_transaction:
                    with suppress(sqlite3.Error):
                        self.connection.execute("ROLLBACK")
                raise
        self._check_place()

    def _check_place(self) -> None:
        if _identity(self.file) != self._identity:
            raise fault(StoreMoved, self.file, "moved")


def _identity(file: str) -> tuple[int, int] | None:
    try:
        state = os.stat(file)
    except OSError:
        return None
    return state.st_dev, state.st_ino


def open_store(file: str | os.PathLike[str], patience_s: float = PATIENCE_S) -> Store:
    """Open the readings for writing, made where there are none; waits up to `patience_s` for other writers. [s]

    Raises StoreError: DiskFull, ReadOnly, NewerStore, ForeignFile, DamagedStore, StoreBusy, DiskFault.
    """
    name = os.fspath(file)
    return Store(name, to_write(name, patience_s), patience_s)


def view_store(file: str | os.PathLike[str]) -> Store:
    """Open the readings for reading only, also in a folder that may not be written to. Raises StoreError."""
    name = os.fspath(file)
    if not os.path.exists(name):
        raise fault(StoreError, name, "none-yet")
    store = Store(name, to_read(name), PATIENCE_S)
    if not os.path.getsize(name):
        store.close()
        raise fault(ForeignFile, name, "foreign")
    return store
