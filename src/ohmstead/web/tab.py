"""A tab in the row at the top of every page of a file."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Tab:
    """A tab of every file's page: the name of its route, and where it stands in the row."""

    route: str
    order: int
