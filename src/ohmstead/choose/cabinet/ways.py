"""Ways to keep a cabinet cool, each tried on its hottest day: what each buys."""

from collections.abc import Iterator
from dataclasses import replace

from ...evidence.cabinets import CabinetView, Limit, again, flow_m3_per_s, passed
from ...heat.box import Box, Fan, Filter, FixedSpeed, Opening
from ...heat.fan import fan_curve
from ...heat.trace import Trace
from ...network.cabinet.described import HIGH_SHARE, LOW_SHARE
from ...network.cabinet.figures import clean_pa, skin_of
from ...site.record import record
from ...tables.reader import rows

USUAL_VENT_M2 = 100e-4  # two discs of 11 cm; what builders cut, common practice
SHADE_FRACTION = 0.8  # of the sun that a plate with air behind it keeps off; common practice
GUARD_FRACTION = 0.85


@record(frozen=True)
class UsualFan:
    """A fan of a usual size."""

    name: str
    free_m3_per_s: float
    most_pa: float
    power_w: float
    opening_m2: float

    def placed(self, box: Box, mat: Filter | None = None) -> Fan:
        """In the upper part of a box, blowing out."""
        curve = fan_curve(self.free_m3_per_s, self.most_pa)
        return Fan(self.name, HIGH_SHARE * box.height_m, "out", curve, self.power_w, self.opening_m2,
                   free_fraction=GUARD_FRACTION, mat=mat)  # fmt: skip


@record(frozen=True)
class Way:
    """One way to keep a box cool, and what comes of it on the hottest day.

    `hottest_c`: at its roof. `margin_k`: least distance of a part to its limit, negative when passed; None where no
    part has one. `gained_k`: by how much the roof is cooler than in the closed box.
    """

    name: str
    words: str
    box: Box
    trace: Trace
    hottest_c: float
    margin_k: float | None
    closest: str
    fan_wh: float
    flow_m3_per_s: float
    gained_k: float


def usual_fans() -> tuple[UsualFan, ...]:
    """Fans of usual sizes, the smallest first."""
    return tuple(
        UsualFan(
            str(row["name"]),
            float(row["free_m3_per_h"]) / 3600.0,
            float(row["most_pa"]),
            float(row["rated_w"]),
            float(row["opening_cm2"]) * 1e-4,
        )
        for row in rows("box_fans")
    )


def ways(view: CabinetView) -> tuple[Way, ...]:
    """The box as it is, closed, with vents, with a fan, with fan and mat, shaded, white; in this order."""
    boxes = list(boxes_of(view))
    closed = next(again(view.climate, box) for name, _, box in boxes if name == "closed")
    reference = closed.hottest(closed.box.height_m)[1]
    return tuple(judged(view, name, words, box, reference) for name, words, box in boxes)


def judged(view: CabinetView, name: str, words: str, box: Box, reference_c: float) -> Way:
    """One way on the hottest day."""
    trace = again(view.climate, box)
    hottest = trace.hottest(box.height_m)[1]
    margin, closest = least_margin(trace, view.limits)
    flow = flow_m3_per_s(trace) if box.fan is not None else max(trace.air_kg_per_s) / 1.2
    return Way(name, words, box, trace, hottest, margin, closest, sum(trace.fan_w), flow, reference_c - hottest)


def least_margin(trace: Trace, limits: tuple[Limit, ...]) -> tuple[float | None, str]:
    """The least distance to a limit on a day, and whose it is. [K]"""
    found = [(limit.limit_c - trace.hottest(limit.height_m)[1], limit.name) for limit in limits]
    return min(found) if found else (None, "")


def fails(trace: Trace, limits: tuple[Limit, ...]) -> bool:
    """Is a limit passed?"""
    return bool(passed(trace, limits))


def boxes_of(view: CabinetView) -> Iterator[tuple[str, str, Box]]:
    """Name, words and box of every way."""
    box = view.climate.box
    yield "as described", "as the file says", box
    closed = without_air(box)
    yield "closed", "no openings but its gaps", closed
    yield (
        "vents",
        f"two vents of {USUAL_VENT_M2 * 1e4:.0f} cm² free area, low and high",
        with_vents(closed, USUAL_VENT_M2),
    )
    fan = usual_fans()[1]
    area = max(fan.opening_m2, 60e-4)
    open_box = with_inlet(closed, area)
    yield "fan", f"{fan.name} fan high, blowing out, inlet of {area * 1e4:.0f} cm² low", running(open_box, fan)
    mat = Filter(2 * area, clean_pa("G3"))
    words = f"the same with a G3 mat of {2e4 * area:.0f} cm² before the inlet, clean"
    yield "fan and mat", words, running(with_inlet(closed, area, mat), fan)
    yield from _of_its_skin(view, closed)


def _of_its_skin(view: CabinetView, closed: Box) -> Iterator[tuple[str, str, Box]]:
    """Shade and colour, which cost nothing to run."""
    skin, cabinet = closed.skin, view.climate.cabinet
    if cabinet.stands == "outdoors":
        shaded = replace(skin, absorptance=skin.absorptance * (1.0 - SHADE_FRACTION))
        yield "shaded", "closed, a plate with air behind it keeps off 80 % of the sun", replace(closed, skin=shaded)
    white = skin_of(cabinet.material, "white")
    sunny = cabinet.stands == "outdoors" and skin.absorptance > white.absorptance + 0.05
    if sunny or skin.emissivity < white.emissivity - 0.1:
        paint = replace(skin, absorptance=white.absorptance, emissivity=white.emissivity)
        yield "white", "closed, painted white outside", replace(closed, skin=paint)
    yield "stirred", "closed, a small fan inside moves the air round", replace(closed, stirred="stirred")


def without_air(box: Box) -> Box:
    """The box with nothing open but its gaps, and no fan."""
    return replace(box, openings=(), fan=None, control=FixedSpeed(1.0), stirred="")


def with_vents(box: Box, area_m2: float, mat: Filter | None = None) -> Box:
    """Two vents of the same free area."""
    low = Opening("low vent", LOW_SHARE * box.height_m, area_m2, mat=mat)
    return replace(box, openings=(low, Opening("high vent", HIGH_SHARE * box.height_m, area_m2)))


def with_inlet(box: Box, area_m2: float, mat: Filter | None = None) -> Box:
    """One vent low."""
    return replace(box, openings=(Opening("low vent", LOW_SHARE * box.height_m, area_m2, mat=mat),))


def running(box: Box, fan: UsualFan, mat: Filter | None = None) -> Box:
    """A fan that always runs."""
    return replace(box, fan=fan.placed(box, mat), control=FixedSpeed(1.0))
