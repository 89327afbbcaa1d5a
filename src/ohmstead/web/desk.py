"""One site file on the desk: read when it changed, written only where nobody else wrote, undone step by step."""

from collections.abc import Mapping
from hashlib import sha256
from pathlib import Path
from threading import RLock

from ..site.edit import EditConflict, EditRefused, save
from ..site.problems import Problem, SiteError
from ..site.read import read_text
from ..study import Study

MOST_STEPS = 200
MOST_SEEN = 60
MOST_BYTES = 5_000_000


def mark_of(text: str) -> str:
    """The checksum that a page carries, so that a change to another text is seen."""
    return sha256(text.encode("utf-8", "surrogatepass")).hexdigest()[:16]


class Desk:
    """One file. Every call reads the file anew; the study is kept as long as the text is the same."""

    def __init__(self, path: Path, shown: str) -> None:
        self.path = path
        self.shown = shown
        self._lock = RLock()
        self._text: str | None = None
        self._study: Study | None = None
        self._fault: SiteError | None = None
        self._steps: list[str] = []
        self._at = 0
        self._seen: dict[str, str] = {}

    def text(self) -> str:
        """What the file holds now. Raises OSError when it cannot be read, UnicodeDecodeError when it is no text."""
        with self._lock:
            with self.path.open("rb") as stream:
                text = stream.read(MOST_BYTES + 1).decode("utf-8-sig")
            if text != self._text:
                self._take(text)
            return text

    def mark(self) -> str:
        """Checksum of what the file holds now."""
        return mark_of(self.text())

    def seen(self, mark: str) -> str | None:
        """The text with this checksum, None when it was never on this desk or long ago."""
        with self._lock:
            self.text()
            return self._seen.get(mark)

    def study(self) -> Study:
        """The study of what the file holds now. Raises SiteError with every problem in it."""
        with self._lock:
            self.text()
            if self._fault is not None:
                raise self._fault
            assert self._study is not None
            return self._study

    def problems(self) -> tuple[Problem, ...]:
        """What is wrong with the file, empty when it can be used."""
        with self._lock:
            self.text()
            return tuple(self._fault.problems) if self._fault else ()

    def write(self, mark: str, text: str) -> None:
        """Put a new text in the place of the one with this mark, whole or not at all.

        Raises EditConflict when the file is another by now, EditRefused when it cannot be written.
        """
        with self._lock:
            now = self.text()
            if mark_of(now) != mark:
                raise EditConflict("the file was changed by somebody else since this page was made", now)
            if len(text.encode("utf-8", "replace")) > MOST_BYTES:
                raise EditRefused("the file would be larger than 5 MB")
            if text == now:
                return
            save(self.path, now, text)
            del self._steps[self._at + 1 :]
            self._steps.append(text)
            del self._steps[: max(0, len(self._steps) - MOST_STEPS)]
            self._at = len(self._steps) - 1
            self._read(text)

    def steps(self) -> Mapping[str, bool]:
        """Whether there is something to undo or to do again."""
        with self._lock:
            self.text()
            return {"undo": self._at > 0, "redo": self._at < len(self._steps) - 1}

    def step(self, direction: str, mark: str) -> None:
        """Go one step "undo" or "redo". Raises EditRefused when there is none, EditConflict as `write` does."""
        with self._lock:
            now = self.text()
            if mark_of(now) != mark:
                raise EditConflict("the file was changed by somebody else since this page was made", now)
            at = self._at + (-1 if direction == "undo" else 1)
            if not 0 <= at < len(self._steps):
                raise EditRefused(f"there is nothing to {direction}")
            save(self.path, now, self._steps[at])
            self._at = at
            self._read(self._steps[at])

    def _take(self, text: str) -> None:
        """A text that came from outside is a step of its own."""
        del self._steps[self._at + 1 :]
        self._steps.append(text)
        self._at = len(self._steps) - 1
        self._read(text)

    def _read(self, text: str) -> None:
        self._text = text
        mark = mark_of(text)
        self._seen.pop(mark, None)
        self._seen[mark] = text
        for old in list(self._seen)[:-MOST_SEEN]:
            del self._seen[old]
        self._study, self._fault = None, None
        try:
            self._study = Study(read_text(text, self.shown))
        except SiteError as fault:
            self._fault = fault
