"""What a sweep has finished, kept in one file: after a stop, or a fall of the power, it goes on where it was.

Every finished piece is committed before it counts as done; a piece half written is undone when the file is opened
again. The file belongs to one sweep, whose mark it carries, and is refused for any other.
"""

import sqlite3
from io import BytesIO
from pathlib import Path

import numpy as np

from ..sun.hours import FloatArray

FORM = "ohmstead sweep 1"


class KeepError(ValueError):
    """A file that cannot be gone on with; the message says why."""


class Keep:
    """One file of finished pieces. Used by one process at a time, which is made sure of."""

    def __init__(self, path: str | Path, mark: str) -> None:
        self.path = Path(path)
        try:
            self._base = sqlite3.connect(self.path, timeout=1.0, isolation_level=None)
            self._base.execute("pragma locking_mode = exclusive")
            self._base.execute("pragma synchronous = full")
            self._base.execute("begin exclusive")
            self._base.execute("create table if not exists about (form text, mark text)")
            self._base.execute("create table if not exists piece (number integer primary key, rows blob)")
            found = self._base.execute("select form, mark from about").fetchall()
            if not found:
                self._base.execute("insert into about values (?, ?)", (FORM, mark))
            self._base.execute("commit")
        except sqlite3.OperationalError as fault:
            busy = "locked" in str(fault)
            reason = "another process is at work on it" if busy else "it cannot be opened for writing"
            raise KeepError(f"{path}: {reason}") from None
        except sqlite3.DatabaseError:
            raise KeepError(f"{path}: this is no file of a sweep") from None
        if found and found[0] != (FORM, mark):
            self.close()
            raise KeepError(f"{path}: this file holds another sweep, or one of another site file or version")

    def done(self) -> dict[int, FloatArray]:
        """Number of each finished piece -> its rows."""
        found = self._base.execute("select number, rows from piece order by number").fetchall()
        return {number: np.load(BytesIO(rows), allow_pickle=False) for number, rows in found}

    def add(self, number: int, rows: FloatArray) -> None:
        """Keep a piece for good. Raises KeepError when the disk does not take it."""
        text = BytesIO()
        np.save(text, rows, allow_pickle=False)
        try:
            self._base.execute("insert or replace into piece values (?, ?)", (number, text.getvalue()))
        except sqlite3.Error as fault:
            raise KeepError(f"{self.path}: what was finished cannot be kept ({fault})") from None

    def close(self) -> None:
        """Let go of the file."""
        self._base.close()
