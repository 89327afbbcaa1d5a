"""The site of a desk with its weather: files beside it are read from its folder and from nowhere else."""

from dataclasses import replace
from typing import TYPE_CHECKING

from ..site.model import Site
from .desk import Desk
from .shelf import NotHere

if TYPE_CHECKING:
    from ..sun.hours import Hours


def sited(desk: Desk) -> Site:
    """The site, called by its path, so that its weather and skyline are found beside it.

    Raises NotHere when one of them lies outside the folder.
    """
    site = desk.study().site
    home = desk.path.parent.resolve()
    for one in (site.weather, site.horizon):
        name = one.file if one is not None else ""
        if name and not (home / name).resolve().is_relative_to(home):
            raise NotHere(name)
    return replace(site, path=str(desk.path))


def hours_of(desk: Desk) -> "Hours":
    """The hours of its weather, read once for each text. Raises SiteError, ImportError (extra `season`)."""
    from ..sun.weather import read_hours

    study = desk.study()
    kept: Hours | None = study.__dict__.get("_hours")
    if kept is None:
        kept = study.__dict__["_hours"] = read_hours(sited(desk))
    return kept
