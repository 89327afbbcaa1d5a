"""Why a season cannot be reckoned: told like any other problem of the site."""

from typing import NoReturn

from ..site.model import Site
from ..site.place import Place
from ..site.problems import Problem, SiteError


class SeasonError(SiteError):
    """A site that lacks what a season needs. Holds problems as a site error does."""


def refuse(site: Site, what: str, expected: str, mend: str) -> NoReturn:
    """Give up with one problem about the file as a whole."""
    raise SeasonError([Problem(Place(site.path, 0, 1, 0, 0), what, expected, mend)])
