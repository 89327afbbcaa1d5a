"""The pictures of a cabinet, by file name."""

import re

from ...evidence.cabinets import CabinetView
from .day import day_picture
from .fan import fan_picture


def pictures(view: CabinetView) -> dict[str, str]:
    """File name -> SVG."""
    name = re.sub(r"[^a-z0-9]+", "-", view.name.lower()).strip("-") or "cabinet"
    found = {f"{name}-by-the-hour.svg": day_picture(view)}
    if view.climate.box.fan is not None:
        found[f"{name}-fan.svg"] = fan_picture(view)
    return found
