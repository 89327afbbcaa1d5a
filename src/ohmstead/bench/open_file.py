"""Opening the file of readings: what it is, who may write to it, and which form it has."""

import os
import sqlite3
import time
from collections.abc import Iterator
from contextlib import contextmanager

from .faults import (
    DamagedStore,
    DiskFault,
    DiskFull,
    ForeignFile,
    NewerStore,
    ReadOnly,
    StoreBusy,
    StoreError,
    StoreMoved,
    fault,
)
from .layout import APPLICATION, STEPS, statements

PATIENCE_S = 10.0
_EMPTY_HEADER = b"\0" * 16
_MAGIC = b"SQLite format 3\0"


def told(file: str, error: sqlite3.Error, patience_s: float = PATIENCE_S) -> StoreError:
    """The error of the library as one of ours."""
    name = getattr(error, "sqlite_errorname", "") or ""
    if name.startswith(("SQLITE_BUSY", "SQLITE_LOCKED", "SQLITE_PROTOCOL")):
        return fault(StoreBusy, file, "busy", seconds=patience_s)
    if name.startswith("SQLITE_FULL") or (name.startswith("SQLITE_IOERR") and _no_room(file)):
        return fault(DiskFull, file, "full")
    if name == "SQLITE_READONLY_DBMOVED":
        return fault(StoreMoved, file, "moved")
    if name.startswith(("SQLITE_READONLY", "SQLITE_CANTOPEN", "SQLITE_PERM", "SQLITE_AUTH")):
        return fault(ReadOnly, file, "read-only")
    if name.startswith("SQLITE_NOTADB"):
        return fault(ForeignFile, file, "foreign")
    if name.startswith(("SQLITE_CORRUPT", "SQLITE_ERROR", "SQLITE_SCHEMA", "SQLITE_MISMATCH")):
        return fault(DamagedStore, file, "damaged", reason=str(error))
    return fault(DiskFault, file, "disk", reason=str(error))


def _no_room(file: str) -> bool:
    """Whether the next pages would not fit, by the disk's own word or the limit of this process."""
    try:
        import resource

        limit, _ = resource.getrlimit(resource.RLIMIT_FSIZE)
        used = max(os.path.getsize(name) for name in (file, f"{file}-wal", file) if os.path.exists(name))
        if limit != resource.RLIM_INFINITY and used + 65536 > limit:
            return True
    except (ImportError, OSError, ValueError):
        pass
    try:
        state = os.statvfs(os.path.dirname(os.path.abspath(file)))
    except (AttributeError, OSError):
        return False
    return state.f_bavail * state.f_frsize < 65536


@contextmanager
def telling(file: str, patience_s: float = PATIENCE_S) -> Iterator[None]:
    """Errors of the library inside become ours."""
    try:
        yield
    except sqlite3.Error as error:
        raise told(file, error, patience_s) from error


def to_write(file: str, patience_s: float = PATIENCE_S) -> sqlite3.Connection:
    """A connection that may write, the file made or brought to this form where needed. Raises StoreError.

    Write-ahead log and full synchronisation: a commit returns when its bytes were handed to the disk.
    """
    if sqlite3.sqlite_version_info < (3, 37):
        raise fault(StoreError, file, "old-library", found=sqlite3.sqlite_version)
    folder = os.path.dirname(os.path.abspath(file))
    if not os.path.isdir(folder):
        raise fault(StoreError, file, "nowhere", folder=folder)
    _refuse_foreign(file)
    if not os.access(folder, os.W_OK) or (os.path.exists(file) and not os.access(file, os.W_OK)):
        raise fault(ReadOnly, file, "read-only")
    with telling(file, patience_s):
        connection = sqlite3.connect(file, timeout=patience_s, isolation_level=None)
        try:
            connection.execute("PRAGMA foreign_keys = ON")
            _check_form(connection, file)
            _log_ahead(connection, patience_s)
            connection.execute("PRAGMA synchronous = FULL")
            _bring_up(connection, file)
        except BaseException:
            connection.close()
            raise
    return connection


def to_read(file: str, patience_s: float = PATIENCE_S) -> sqlite3.Connection:
    """A connection that only reads; also where nothing may be written. Raises StoreError."""
    _refuse_foreign(file)
    folder = os.path.dirname(os.path.abspath(file))
    alone = not os.access(folder, os.W_OK) and not os.path.exists(f"{file}-wal")
    from urllib.request import pathname2url

    name = f"file:{pathname2url(os.path.abspath(file))}?mode=ro{'&immutable=1' if alone else ''}"
    with telling(file, patience_s):
        connection = sqlite3.connect(name, timeout=patience_s, isolation_level=None, uri=True)
        try:
            _check_form(connection, file)
        except BaseException:
            connection.close()
            raise
    return connection


def _refuse_foreign(file: str) -> None:
    """A file that is no database at all is refused before anything is opened."""
    try:
        with open(file, "rb") as stream:
            head = stream.read(16)
    except FileNotFoundError:
        return
    except PermissionError:
        raise fault(ReadOnly, file, "read-only") from None
    except OSError as error:
        raise fault(DiskFault, file, "disk", reason=error.strerror or str(error)) from None
    if head and head != _MAGIC:
        raise fault(ForeignFile, file, "foreign")


def _check_form(connection: sqlite3.Connection, file: str) -> None:
    """Refuses foreign and newer files before the first byte is written."""
    # one statement, so that all three are of the same moment: somebody else may be making the file
    application, form, used = connection.execute(
        "SELECT application_id, user_version, (SELECT count(*) FROM sqlite_master) "
        "FROM pragma_application_id, pragma_user_version"
    ).fetchone()
    if application != APPLICATION and (application or form or used):
        raise fault(ForeignFile, file, "foreign")
    if form > len(STEPS):
        raise fault(NewerStore, file, "newer", found=form, known=len(STEPS))


def _log_ahead(connection: sqlite3.Connection, patience_s: float) -> None:
    """Switch to the write-ahead log; while another process does the same the switch is refused, so try again."""
    until = time.monotonic() + patience_s
    while True:
        try:
            connection.execute("PRAGMA journal_mode = WAL")
            return
        except sqlite3.OperationalError as error:
            busy = getattr(error, "sqlite_errorname", "").startswith(("SQLITE_BUSY", "SQLITE_LOCKED"))
            if not busy or time.monotonic() > until:
                raise
            time.sleep(0.01)


def _bring_up(connection: sqlite3.Connection, file: str) -> None:
    """Do the steps that are missing, all or none."""
    if _pragma(connection, "user_version") == len(STEPS):
        return
    connection.execute("BEGIN IMMEDIATE")
    try:
        _check_form(connection, file)
        for script in STEPS[_pragma(connection, "user_version") :]:
            for statement in statements(script):
                connection.execute(statement)
        connection.execute(f"PRAGMA application_id = {APPLICATION}")
        connection.execute(f"PRAGMA user_version = {len(STEPS)}")
        connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise


def _pragma(connection: sqlite3.Connection, name: str) -> int:
    return int(connection.execute(f"PRAGMA {name}").fetchone()[0])
