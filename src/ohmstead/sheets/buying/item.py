"""One line of the parts list."""

from ...site.record import record


@record(frozen=True)
class Item:
    """Something to buy, described by shape and standard.

    `n` is how many the site holds, `spare` how many more to keep, `length_m` instead of both for what is sold by
    length. `used_for` names tags or parts of the site.
    """

    group: str
    what: str
    n: int = 0
    spare: int = 0
    length_m: float | None = None
    standard: str = ""
    used_for: tuple[str, ...] = ()
    ask: str = ""

    @property
    def total(self) -> int:
        """How many to buy."""
        return self.n + self.spare
