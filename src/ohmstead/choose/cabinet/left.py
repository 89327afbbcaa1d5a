"""Which cabinets leave something open."""

from ...site.model import Site


def left_open(site: Site) -> tuple[str, ...]:
    """Names of the cabinets with a key that says `choose`."""
    return tuple(
        name
        for name, cabinet in site.cabinets.items()
        if any(
            origin.how == "choose"
            for thing in (cabinet, cabinet.fan, cabinet.filter)
            for origin in getattr(thing, "origin", {}).values()
        )
    )
