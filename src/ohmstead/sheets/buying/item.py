"""One line of the parts list."""

from ...parts.fuse import Fuse
from ...parts.wire import Wire
from ...site.record import record


@record(frozen=True)
class Item:
    """Something to buy, described by shape and standard.

    `n` is how many the site holds, `spare` how many more to keep, `length_m` instead of both for what is sold by
    length. `used_for` names tags or parts of the site. `thing` is what a price list may name, `own_m` how much of
    its length is cut from own rolls and offcuts.
    """

    group: str
    what: str
    n: int = 0
    spare: int = 0
    length_m: float | None = None
    standard: str = ""
    used_for: tuple[str, ...] = ()
    ask: str = ""
    thing: Wire | Fuse | None = None
    own_m: float = 0.0

    @property
    def total(self) -> int:
        """How many to buy."""
        return self.n + self.spare
