"""A change made from an older text: put into the file as it is now where both are the same, else shown beside it."""

from collections.abc import Callable
from dataclasses import dataclass
from difflib import unified_diff

from ..site.edit import EditConflict, EditRefused
from ..site.model import Site
from ..site.problems import SiteError
from ..site.read import read_text
from ..site.reshape import plain_text
from ..study import Study
from .chapters import Entry, entry_in
from .desk import Desk, mark_of
from .forms import ends_at

TRIES = 5
MOST_LINES = 120


@dataclass(frozen=True)
class Standing:
    """A text of the file, and what it says."""

    site: Site
    text: str

    def entry(self, of: str, name: str) -> Entry | None:
        """An entry of it, None when it has none of that name."""
        found = entry_in(self.site, of, name)
        return found if found is not None and (self.written(found) or not of) else None

    def written(self, entry: Entry) -> str:
        """What stands there, on one line."""
        return plain_text(self.text, self.site.path, entry.steps)


class Clash(EditConflict):
    """A change that belongs to an older text, and what it is about was changed since. `before` is None where the
    older text is not known any more."""

    def __init__(self, before: Standing | None, now: Standing) -> None:
        self.before, self.now = before, now
        super().__init__("what this is about was changed by somebody else since this page was made", now.text)


Change = Callable[[Standing, Standing], str]
Alike = Callable[[Standing, Standing], bool]


def put(desk: Desk, mark: str, change: Change, alike: Alike) -> None:
    """Write a change: `change` makes the new text of the text that the form was made from and the text of now.

    Raises Clash when `alike` says that what it is about was changed between the two, SiteError when the file would be
    unusable then (or is already), EditRefused as Desk.write does.
    """
    for _ in range(TRIES):
        study = desk.study()
        now = Standing(study.site, study.site.text)
        before = _before(desk, mark, now)
        if before is None or (before.text != now.text and not alike(before, now)):
            raise Clash(before, now)
        text = change(before, now)
        if text != now.text:
            Study(read_text(text, desk.shown))
        try:
            desk.write(mark_of(now.text), text)
            return
        except EditConflict:
            continue  # somebody wrote in this very moment: look anew
    raise EditRefused("others write into this file all the time; try again")


def same_entry(of: str, name: str) -> Alike:
    """Whether an entry is written alike in both, or is in neither."""

    def alike(before: Standing, now: Standing) -> bool:
        old, new = before.entry(of, name), now.entry(of, name)
        if old is None or new is None:
            return old is new
        return before.written(old) == now.written(new)

    return alike


def same_with_runs(of: str, name: str) -> Alike:
    """The same, and the runs that end at it too."""
    alone = same_entry(of, name)

    def alike(before: Standing, now: Standing) -> bool:
        return alone(before, now) and _runs(before, name) == _runs(now, name)

    return alike


def any_text(before: Standing, now: Standing) -> bool:
    """For a change that hangs on nothing that stands in the file."""
    return True


def difference(before: str, now: str) -> list[str]:
    """What others changed, a line a line that went ("-") or came ("+"), with what stands around it."""
    lines = list(unified_diff(before.splitlines(), now.splitlines(), lineterm="", n=1))[2:]
    return lines[:MOST_LINES]


def differing_keys(clash: Clash, of: str, name: str, keys: list[str]) -> list[tuple[str, str, str]]:
    """Key, what the person saw, and what is there now, for the keys of an entry that are not alike."""
    if clash.before is None:
        return []
    old, new = clash.before.entry(of, name), clash.now.entry(of, name)
    rows = []
    for key in keys:
        seen, there = (
            plain_text(standing.text, standing.site.path, (*entry.steps, key)) if entry else ""
            for standing, entry in ((clash.before, old), (clash.now, new))
        )
        if seen != there:
            rows.append((key, seen, there))
    return rows


def _runs(standing: Standing, name: str) -> list[str]:
    return [plain_text(standing.text, standing.site.path, ("runs", index)) for index in ends_at(standing.site, name)]


def _before(desk: Desk, mark: str, now: Standing) -> Standing | None:
    if mark == mark_of(now.text):
        return now
    text = desk.seen(mark)
    if text is None:
        return None
    try:
        return Standing(read_text(text, desk.shown), text)
    except SiteError:
        return None
