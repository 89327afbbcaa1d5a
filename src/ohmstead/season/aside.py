"""Obstacles moved by hand in the picture of the sky: their handles, where a drag puts them, how it is written.

To the left and right an obstacle goes around the array at its distance; up and down its top rises and falls.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from ..site.model import Site
from ..site.reshape import with_value
from ..site.sky import Obstacle
from ..sun.hours import Hours
from .sky_picture import View, sky_view

HIGHEST_DEG = 88.0
LEAST_M = 0.1  # of an obstacle above where it begins
SHAPED = (("east", "east_m"), ("north", "north_m"), ("top", "top_m"))


@dataclass(frozen=True, slots=True)
class Handle:
    """Where an obstacle is taken hold of: x, y in the picture; azimuth and elevation of its top; its distance."""

    name: str
    x: float
    y: float
    azimuth_deg: float
    elevation_deg: float
    distance_m: float


def handles(site: Site, array: str, hours: Hours) -> tuple[Handle, ...]:
    """A handle for each obstacle that shades an array; one outside the picture has its handle at the edge."""
    view = sky_view(site, hours)
    return tuple(_handle(view, one) for one in site.obstacles.values() if one.shades in ("", array))


def degree(site: Site, hours: Hours) -> tuple[float, float]:
    """How far a degree is in the picture, across and up."""
    view = sky_view(site, hours)
    return view.width / (2.0 * view.half_deg), view.height / view.most_deg


def dragged(site: Site, hours: Hours, name: str, spot: tuple[float, float]) -> Site:
    """The site with one obstacle where its handle was dragged to. Raises KeyError when there is no such obstacle."""
    view, one = sky_view(site, hours), site.obstacles[name]
    azimuth = view.middle_deg + (2.0 * (spot[0] - view.x) / view.width - 1.0) * view.half_deg
    elevation = view.most_deg * (view.y - spot[1]) / view.height
    return replace(site, obstacles={**site.obstacles, name: around(one, azimuth, elevation)})


def around(obstacle: Obstacle, azimuth_deg: float, elevation_deg: float) -> Obstacle:
    """An obstacle at the same distance in another direction, its top under another angle; to the centimetre.

    >>> away = around(Obstacle("ash", north_m=-10.0, top_m=5.0, width_m=4.0), 90.0, 45.0)
    >>> away.east_m, away.north_m, away.top_m
    (10.0, 0.0, 10.0)
    """
    distance = float(np.hypot(obstacle.east_m, obstacle.north_m))
    turned = np.radians(azimuth_deg)
    top = distance * float(np.tan(np.radians(min(elevation_deg, HIGHEST_DEG))))
    if obstacle.bottom_m is not None:
        top = max(top, obstacle.bottom_m + LEAST_M)
    east, north = distance * float(np.sin(turned)), distance * float(np.cos(turned))
    return replace(obstacle, east_m=_even(east), north_m=_even(north), top_m=_even(top))


def shaped(site: Site, figures: Mapping[str, Mapping[str, float]]) -> Site:
    """The site with obstacles as figures say: name -> "east", "north" or "top" -> metres. Raises KeyError."""
    found = dict(site.obstacles)
    for name, lengths in figures.items():
        one = found[name]
        east, north = lengths.get("east", one.east_m), lengths.get("north", one.north_m)
        found[name] = replace(one, east_m=east, north_m=north, top_m=lengths.get("top", one.top_m))
    return replace(site, obstacles=found)


def written_obstacles(site: Site, figures: Mapping[str, Mapping[str, float]]) -> str:
    """The text with the figures that differ from those of the file. Raises EditRefused, KeyError."""
    text = site.text
    for name, one in shaped(site, figures).obstacles.items():
        for key, attribute in SHAPED:
            value = getattr(one, attribute)
            if value != getattr(site.obstacles[name], attribute):
                text = with_value(text, site.path, ("shade", "obstacles", name, key), f"{value:g} m")
    return text


def _handle(view: View, one: Obstacle) -> Handle:
    distance = float(np.hypot(one.east_m, one.north_m))
    azimuth = float(np.degrees(np.arctan2(one.east_m, one.north_m))) % 360.0
    elevation = float(np.degrees(np.arctan2(one.top_m, max(distance, 1e-9))))
    x = min(max(view.across(azimuth), view.x), view.x + view.width)
    return Handle(one.name, x, view.up(elevation), azimuth, elevation, distance)


def _even(length_m: float) -> float:
    return round(length_m, 2) + 0.0
