"""What is kept with the readings: pictures, and the texts of the site file they were taken against."""

import zlib
from hashlib import sha256

from .faults import ReadingRefused, fault
from .open_file import telling
from .reading import LARGEST_PICTURE, Picture, now, picture_kind, revision_of
from .store import Store


def keep_revision(store: Store, name: str, site_text: str) -> str:
    """Keep the text of a site file, once; its checksum. Raises StoreError."""
    checksum = revision_of(site_text)
    with store.writing():
        found = store.connection.execute("SELECT 1 FROM revision WHERE checksum = ?", (checksum,)).fetchone()
        if found is None:
            packed = zlib.compress(site_text.encode("utf-8", "surrogatepass"), 9)
            store.connection.execute(
                "INSERT INTO revision (checksum, name, text_zlib, seen) VALUES (?, ?, ?, ?)",
                (checksum, name, packed, now()),
            )
    return checksum


def revision_text(store: Store, checksum: str) -> str | None:
    """The text of the site file of that checksum, None when it was not kept. Raises StoreError."""
    with telling(store.file):
        found = store.connection.execute("SELECT text_zlib FROM revision WHERE checksum = ?", (checksum,)).fetchone()
    return None if found is None else zlib.decompress(found[0]).decode("utf-8", "surrogatepass")


def attach(store: Store, number: int, name: str, data: bytes, who: str) -> Picture:
    """Keep a picture (JPEG, PNG, WebP, PDF; at most 12 MB) with a reading. Raises StoreError."""
    kind = picture_kind(data)
    if not kind:
        raise fault(ReadingRefused, store.file, "picture-kind", name=name)
    if len(data) > LARGEST_PICTURE:
        size, most = len(data) / 1e6, LARGEST_PICTURE / 1e6
        raise fault(ReadingRefused, store.file, "picture-size", name=name, size=size, most=most)
    digest, moment = sha256(data).hexdigest(), now()
    with store.writing():
        store.known(number)
        made = store.connection.execute(
            "INSERT INTO picture (reading, name, kind, sha256, who, entered, data) VALUES (?, ?, ?, ?, ?, ?, ?)",
            (number, name, kind, digest, who, moment, data),
        ).lastrowid
    return Picture(int(made or 0), number, name, kind, len(data), digest, who, moment)


def pictures_of(store: Store, number: int) -> tuple[Picture, ...]:
    """The pictures of a reading, without their bytes. Raises StoreError."""
    columns = "number, reading, name, kind, length(data), sha256, who, entered"
    with telling(store.file):
        found = store.connection.execute(f"SELECT {columns} FROM picture WHERE reading = ? ORDER BY number", (number,))
        return tuple([Picture(*row) for row in found])


def picture_bytes(store: Store, number: int) -> bytes:
    """The bytes of a picture by its own number. Raises StoreError."""
    with telling(store.file):
        found = store.connection.execute("SELECT data FROM picture WHERE number = ?", (number,)).fetchone()
    if found is None:
        raise fault(ReadingRefused, store.file, "no-entry", number=number)
    return bytes(found[0])
