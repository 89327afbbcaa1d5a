"""What a builder writes for a sweep - sizes, facings, thresholds - as an offer of designs."""

import re
from dataclasses import dataclass

import numpy as np

from ..quantity.faults import QuantityError
from ..quantity.read import read_number, read_span
from .designs import Cut, Offer, sky_facings, spread
from .scene import Scene
from .trouble import refuse

N_ARRAY, N_BANK = 26, 24  # steps of a range when it is not said into how many it is parted
ANGLE_STEP_DEG = 10.0
MOST_BYTES = 500_000_000  # of results: beyond, the sweep is refused before it begins


@dataclass(frozen=True, slots=True)
class Wish:
    """As written; left out is left to us. planes: about how many facings are tried."""

    array: str = ""
    battery: str = ""
    tilt: str = ""
    azimuth: str = ""
    cut: str = ""
    planes: int = 0


def offer_of(scene: Scene, wish: Wish, usual: tuple[float, float]) -> Offer:
    """The designs asked for. usual: array and battery of the usual arithmetic over those of the site, for the range
    that is tried when none is written. Raises QuantityError, and SeasonError when there are too many designs.
    """  # fmt: skip
    rated, charge = scene.rated_w, scene.bank.capacity_ah
    arrays = sizes(wish.array, "power", N_ARRAY) if wish.array else _around(rated, usual[0], N_ARRAY)
    banks = sizes(wish.battery, "charge", N_BANK) if wish.battery else _around(charge, usual[1], N_BANK)
    if (wish.tilt or wish.azimuth or wish.planes) and not scene.turned:
        refuse(
            scene.site,
            "it is not said which array turns",
            ", ".join(scene.site.arrays),
            "name it with --turn; a series of the panels' own cannot be turned",
        )
    found = Offer(
        tuple(size / rated for size in arrays),
        _facings(scene, wish),
        tuple(size / charge for size in banks),
        cuts(wish.cut) if wish.cut else ((0.0, 0.0),),
    )
    most = MOST_BYTES // (8 * (11 + scene.hours.n_year))
    if found.n_design > most:
        refuse(
            scene.site,
            f"{found.n_design} designs over {scene.hours.n_year} years are too many for the memory",
            f"at most {most}",
            "fewer sizes, facings, thresholds or years",
        )
    return found


def _around(now: float, usual: float, n: int) -> tuple[float, ...]:
    """Round sizes from half the smaller of what there is and what is usual to twice the larger; `now` among them."""
    low, high = 0.5 * min(1.0, max(usual, 0.02)), 2.0 * max(1.0, min(usual, 50.0))
    return tuple(sorted({*(float(f"{now * step:.2g}") for step in spread(low, high, n)), now}))


def _facings(scene: Scene, wish: Wish) -> tuple[tuple[float, float], ...]:
    tilt, azimuth = scene.facing
    if wish.planes:
        return sky_facings(wish.planes, scene.hours.latitude)
    tilts = angles(wish.tilt) if wish.tilt else (tilt,)
    azimuths = angles(wish.azimuth) if wish.azimuth else (azimuth,)
    return tuple((one, other) for one in tilts for other in azimuths)


def sizes(text: str, dimension: str, n_step: int) -> tuple[float, ...]:
    """Sizes as written: single ones parted by commas, or a range, parted into `n_step` or what stands after `in`.

    >>> sizes("400 W, 1.2 kW", "power", 9), sizes("100..800 Ah in 4", "charge", 9)
    ((400.0, 1200.0), (100.0, 200.0, 400.0, 800.0))
    """
    found: set[float] = set()
    for part in _parts(text):
        span, n = _span(part, dimension, n_step)
        if span[0] <= 0.0:
            raise QuantityError(f"`{part}` is no size", "more than zero", "leave it out, or write a larger one")
        found |= set(spread(span[0], span[1], n)) if span[1] > span[0] else {span[0]}
    return tuple(sorted(found))


def angles(text: str) -> tuple[float, ...]:
    """Angles as written: single ones parted by commas, or a range in steps of 10° or as many as stand after `in`.

    >>> angles("30..60°"), angles("120°, 180°"), angles("0..90° in 3")
    ((30.0, 40.0, 50.0, 60.0), (120.0, 180.0), (0.0, 45.0, 90.0))
    """
    found: set[float] = set()
    for part in _parts(text):
        span, n = _span(part, "angle", 0)
        n = n or round((span[1] - span[0]) / ANGLE_STEP_DEG) + 1
        found |= {float(step) for step in np.linspace(span[0], span[1], max(n, 1)).round(2)}
    return tuple(sorted(found))


def cuts(text: str) -> tuple[Cut, ...]:
    """Thresholds of the disconnect as written: from the voltage that opens it to the one that closes it again.

    >>> cuts("24.4..26.2 V, 24.8..26.4 V")
    ((24.4, 26.2), (24.8, 26.4))
    """
    found = []
    for part in _parts(text):
        span = read_span(part, "voltage")
        found.append((span.low, span.high))
    return tuple(found)


def _parts(text: str) -> list[str]:
    return [part.strip() for part in text.split(",") if part.strip()]


def _span(part: str, dimension: str, usual: int) -> tuple[tuple[float, float], int]:
    """Ends of one part, and into how many steps it is parted."""
    found = re.fullmatch(r"(.*\S)\s+in\s+(\d{1,3})", part)
    text, n = (found[1], int(found[2])) if found else (part, usual)
    if ".." not in text:
        value = read_number(text, dimension)
        return (value, value), 1
    span = read_span(text, dimension)
    return (span.low, span.high), max(n, 2) if n else 0
