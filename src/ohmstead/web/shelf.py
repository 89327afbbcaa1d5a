"""The folder of site files that the page may touch, and nothing outside it."""

from pathlib import Path
from threading import Lock

from .desk import Desk

ENDINGS = (".yaml", ".yml")
MOST_FILES = 500


class NotHere(LookupError):
    """A name that is no site file of this folder."""


class Shelf:
    """Site files of one folder; desks are made when first asked for."""

    def __init__(self, root: Path) -> None:
        self.root = root.resolve()
        self._desks: dict[str, Desk] = {}
        self._lock = Lock()

    def names(self) -> tuple[str, ...]:
        """Site files in the folder, by name."""
        found = (path.name for path in self.root.iterdir() if path.suffix in ENDINGS and self._inside(path))
        return tuple(sorted(found, key=str.casefold)[:MOST_FILES])

    def desk(self, name: str) -> Desk:
        """The desk of a file. Raises NotHere for anything that is not a site file of this folder."""
        path = self._path(name)
        if not path.is_file():
            raise NotHere(name)
        with self._lock:
            return self._desks.setdefault(name, Desk(path, name))

    def create(self, name: str, text: str) -> Desk:
        """A new file. Raises NotHere for a name that cannot be one, FileExistsError, OSError."""
        path = self._path(name)
        with path.open("x", encoding="utf-8", newline="") as stream:
            stream.write(text)
        return self.desk(name)

    def _path(self, name: str) -> Path:
        bad = not name or name.startswith(".") or any(sign in name for sign in '/\\:\0<>|"?*') or len(name) > 120
        path = self.root / name
        if bad or path.suffix not in ENDINGS or not self._inside(path):
            raise NotHere(name)
        return path

    def _inside(self, path: Path) -> bool:
        """A link that leaves the folder is not followed."""
        return path.resolve().parent == self.root
