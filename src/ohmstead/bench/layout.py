"""The tables of the store and how an older one becomes a newer one. Rows are only ever added."""

from collections.abc import Iterator

APPLICATION = 0x4F484D52  # "OHMR" in the header of the file
_FIRST = """
CREATE TABLE revision (
  number INTEGER PRIMARY KEY AUTOINCREMENT,
  checksum TEXT NOT NULL UNIQUE CHECK (length(checksum) = 64),
  name TEXT NOT NULL,
  text_zlib BLOB NOT NULL,
  seen TEXT NOT NULL
) STRICT;
CREATE TABLE reading (
  number INTEGER PRIMARY KEY AUTOINCREMENT,
  quantity TEXT NOT NULL,
  point TEXT NOT NULL CHECK (point <> ''),
  state TEXT NOT NULL,
  step TEXT NOT NULL,
  value REAL,
  uncertainty REAL,
  who TEXT NOT NULL CHECK (who <> ''),
  meter TEXT NOT NULL,
  note TEXT NOT NULL,
  at TEXT NOT NULL,
  entered TEXT NOT NULL,
  revision TEXT NOT NULL,
  corrects INTEGER UNIQUE REFERENCES reading (number),
  token TEXT NOT NULL UNIQUE,
  CHECK (value IS NOT NULL OR corrects IS NOT NULL)
) STRICT;
CREATE INDEX reading_by_point ON reading (point, state, number);
CREATE INDEX reading_by_revision ON reading (revision, number);
CREATE TABLE picture (
  number INTEGER PRIMARY KEY AUTOINCREMENT,
  reading INTEGER NOT NULL REFERENCES reading (number),
  name TEXT NOT NULL,
  kind TEXT NOT NULL,
  sha256 TEXT NOT NULL,
  who TEXT NOT NULL,
  entered TEXT NOT NULL,
  data BLOB NOT NULL
) STRICT;
CREATE INDEX picture_by_reading ON picture (reading);
"""


def _guards(table: str, *keys: str) -> str:
    """Triggers that let rows be added and nothing else; INSERT OR REPLACE would delete, so it is met as well."""
    only = f"SELECT RAISE(ABORT, 'rows of {table} are only ever added')"
    same = " OR ".join(f"{key} = NEW.{key}" for key in ("number", *keys))
    return f"""
CREATE TRIGGER {table}_stays BEFORE UPDATE ON {table} BEGIN {only}; END;
CREATE TRIGGER {table}_remains BEFORE DELETE ON {table} BEGIN {only}; END;
CREATE TRIGGER {table}_is_new BEFORE INSERT ON {table}
  WHEN EXISTS (SELECT 1 FROM {table} WHERE {same}) BEGIN {only}; END;
"""


# One script a step; the number of steps done stands in the file as its user_version.
STEPS: tuple[str, ...] = (
    _FIRST + _guards("revision", "checksum") + _guards("reading", "corrects", "token") + _guards("picture"),
)


def statements(script: str) -> Iterator[str]:
    """The statements of a script one by one, so that all of them can stand in one transaction.

    >>> [len(s) for s in statements("SELECT 1; SELECT 'a;b';")]
    [9, 13]
    """
    from sqlite3 import complete_statement

    piece = ""
    for part in script.split(";"):
        piece += part + ";"
        if complete_statement(piece):
            if piece.strip(" \n;"):
                yield piece.strip()
            piece = ""
