"""What the builder is told when weather cannot be used: told like any other problem of the site."""

from typing import NoReturn

from ..site.place import Place
from ..site.problems import Problem, SiteError


class WeatherError(SiteError):
    """Weather that cannot be used. Holds problems as a site error does, so it is shown the same way."""


def refuse(file: str, line: int, what: str, expected: str, mend: str) -> NoReturn:
    """Give up with one problem in a weather file; line 0 is the file as a whole."""
    raise WeatherError([Problem(Place(file, line, 1, 0, 0), what, expected, mend)])


def refuse_at(place: Place, text: str, what: str, expected: str, mend: str) -> NoReturn:
    """Give up with one problem at a place of the site file, whose text is shown with it."""
    raise WeatherError([Problem(place, what, expected, mend)], text)
