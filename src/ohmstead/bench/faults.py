"""Why readings could not be stored or read. All are SiteErrors, so that every face tells them alike."""

from ..site.place import Place
from ..site.problems import Problem, SiteError
from .store_texts import FAULTS


class StoreError(SiteError):
    """Readings could not be stored or read; what had been acknowledged before is untouched."""


class DiskFull(StoreError):
    """No room for this reading."""


class DiskFault(StoreError):
    """The disk could not write or read."""


class ReadOnly(StoreError):
    """The folder or the file may only be read."""


class NewerStore(StoreError):
    """Written by a newer version; nothing was touched."""


class ForeignFile(StoreError):
    """Not a store of readings; nothing was touched."""


class DamagedStore(StoreError):
    """A store of readings with a damage."""


class StoreBusy(StoreError):
    """Somebody else has been writing too long."""


class StoreMoved(StoreError):
    """The file was replaced, moved or deleted while it was open."""


class ReadingRefused(StoreError):
    """A reading, a correction or a picture that cannot be taken as it is."""


def fault(kind: type[StoreError], file: str, key: str, **words: object) -> StoreError:
    """An error of the store with its text from the catalogue."""
    what, expected, mend = (text.format(**words) for text in FAULTS[key])
    return kind([Problem(Place(file, 0, 0, 0, 0), what, expected, mend)])
