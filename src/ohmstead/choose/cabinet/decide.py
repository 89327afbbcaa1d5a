"""Decides what a cabinet leaves open: vents, fan, thermostat, area of the mat; or that a closed box is enough."""

from collections.abc import Iterable
from dataclasses import replace

from ...evidence.cabinets import CabinetView, again, with_full_mats
from ...heat.box import Box, Filter, FixedSpeed, Opening, Thermostat
from ...network.cabinet.described import HIGH_SHARE, LOW_SHARE, control_of, is_open, mat_of
from ...quantity.show import show
from ...site.boxes import Cabinet
from ...site.place import Place
from ...site.record import record
from .ways import UsualFan, least_margin, usual_fans

WANTED_K = 5.0  # margin that is chosen for: what a thermometer in a cabinet is easily off; common practice
BAND_K = 5.0  # between on and off of a thermostat that is chosen
VENTS_CM2 = (10, 20, 30, 40, 60, 80, 100, 150, 200, 300, 400)
MATS_CM2 = (30, 50, 80, 100, 150, 200, 300, 400, 600)
NOTHING_DECIDES = "no part inside states a limit of air (warm limit, full until): there is nothing to decide by"


@record(frozen=True)
class Decision:
    """One key that was open: what is chosen (empty: nothing serves, or nothing is needed) and what decided it."""

    subject: str
    key: str
    chosen: str
    because: str
    place: Place


def decisions(view: CabinetView) -> tuple[Decision, ...]:
    """Everything that the cabinet leaves open, decided in the order vents, fan, mat, thermostat."""
    task = _Task(view)
    if not any(task.open.values()):
        return ()
    if not view.limits:
        return tuple(task.told(key, "", NOTHING_DECIDES) for key in task.open_keys())
    found = [*_vents(task), *_fan(task), *_mat(task), *_thermostat(task)]
    return tuple(found)


class _Task:
    """A cabinet while it is being decided: `box` is what has been chosen so far."""

    def __init__(self, view: CabinetView) -> None:
        self.view = view
        self.cabinet = view.climate.cabinet
        fan, mat = self.cabinet.fan, self.cabinet.filter
        self.open = {
            "low vent": is_open(self.cabinet, "low_vent"),
            "high vent": is_open(self.cabinet, "high_vent"),
            "fan": is_open(self.cabinet, "fan"),
            "on": fan is not None and is_open(fan, "on_c"),
            "off": fan is not None and is_open(fan, "off_c"),
            "area": mat is not None and is_open(mat, "area_m2"),
        }
        self.box = self._bare(view.climate.box)

    def _bare(self, box: Box) -> Box:
        """The box without what stands in for open keys."""
        stands_in = self.open["fan"] and self.cabinet.low_vent is None
        openings = tuple(
            opening
            for opening in box.openings
            if not self.open.get(opening.name) and not (stands_in and opening.name == "low vent")
        )
        return replace(box, openings=openings, fan=None if self.open["fan"] else box.fan)

    def open_keys(self) -> list[str]:
        """Keys that are open."""
        return [key for key, is_left in self.open.items() if is_left]

    def told(self, key: str, chosen: str, because: str) -> Decision:
        """A decision at the place of its key."""
        attribute = {"low vent": "low_vent", "high vent": "high_vent", "fan": "fan",
                     "on": "on_c", "off": "off_c", "area": "area_m2"}[key]  # fmt: skip
        thing: object = self.cabinet
        if key in ("on", "off"):
            thing = self.cabinet.fan
        elif key == "area":
            thing = self.cabinet.filter
        origin = getattr(thing, "origin", {}).get(attribute)
        place = origin.place if origin is not None and origin.place else self.cabinet.place
        return Decision(self.view.name, key, chosen, because, place)

    def margin(self, box: Box) -> tuple[float, str]:
        """Least margin with the mats full, and whose it is."""
        margin, name = least_margin(again(self.view.climate, with_full_mats(box)), self.view.limits)
        assert margin is not None
        return margin, name

    def first(self, boxes: Iterable[tuple[str, Box]]) -> tuple[str, Box, str]:
        """The first that keeps the margin; what the one before would do. An empty name when none serves."""
        before = ""
        for name, box in boxes:
            margin, part = self.margin(box)
            if margin >= WANTED_K:
                return name, box, before
            before = _short(name, margin, part)
        return "", self.box, before


def _short(name: str, margin_k: float, part: str) -> str:
    if margin_k < 0:
        return f"with {name}, {part} would pass its limit by {show(-margin_k, 'temperature difference', 2)}"
    return f"with {name}, {part} would be {show(margin_k, 'temperature difference', 2)} from its limit"


def _cm2(area_m2: float) -> str:
    return f"{area_m2 * 1e4:g} cm2"


def _vents(task: _Task) -> list[Decision]:
    keys = [key for key in ("low vent", "high vent") if task.open[key]]
    if not keys:
        return []
    margin, part = task.margin(task.box)
    if margin >= WANTED_K:
        what = "a closed box" if task.box.fan is None and not task.box.openings else "the box as it is"
        because = f"{what} is enough: {part} stays {show(margin, 'temperature difference', 2)} below its limit"
        return [task.told(key, "none", because) for key in keys]
    tried = [(_cm2(area * 1e-4), _vented(task, keys, area * 1e-4)) for area in VENTS_CM2]
    name, box, before = task.first(tried)
    if not name and (task.open["fan"] or task.box.fan is not None):
        name, box = "60 cm2", _vented(task, [key for key in keys if key == "low vent"] or keys, 60e-4)
        task.box = box
        because = f"vents alone do not do it ({before}); this one is the inlet of the fan"
        return [task.told(key, name if key == "low vent" or len(keys) == 1 else "none", because) for key in keys]
    if not name:
        return [task.told(key, "", f"no vent serves: {before}; take a fan (fan: choose)") for key in keys]
    task.box = box
    because = before or "it is the smallest that is made"
    return [task.told(key, name, because) for key in keys]


def _vented(task: _Task, keys: list[str], area_m2: float) -> Box:
    height = task.box.height_m
    kept = [opening for opening in task.box.openings if opening.name not in keys]
    mat = task.cabinet.filter
    for key in keys:
        share = LOW_SHARE if key == "low vent" else HIGH_SHARE
        before = mat is not None and (key == "low vent" or mat.before == "both")
        kept.append(Opening(key, share * height, area_m2, mat=mat_of(mat, area_m2) if before and mat else None))
    return replace(task.box, openings=tuple(kept))


def _fan(task: _Task) -> list[Decision]:
    key = "fan"
    if not task.open[key]:
        return []
    margin, part = task.margin(replace(task.box, fan=None))
    if margin >= WANTED_K:
        what = "a closed box" if not task.box.openings else "what is open"
        because = f"{what} is enough: {part} stays {show(margin, 'temperature difference', 2)} below its limit"
        return [task.told(key, "none", because)]
    tried = [(fan, _fanned(task, fan)) for fan in usual_fans()]
    name, box, before = task.first((fan.name + " fan", box) for fan, box in tried)
    fan = next((fan for fan, _ in tried if fan.name + " fan" == name), None)
    if fan is None:
        around = show(task.view.around_c, "temperature")
        return [task.told(key, "", f"no usual fan serves: {before}; the air around reaches {around}: move or shade it")]
    task.box = box
    return [task.told(key, _written(fan), f"{name}; {before}" if before else f"{name}, the smallest usual one")]


def _fanned(task: _Task, usual: UsualFan) -> Box:
    """The box with a usual fan, with an inlet where it has none."""
    box = task.box
    if not any(opening.height_m < box.height_m / 2 for opening in box.openings):
        box = _vented(task, ["low vent"], max(60e-4, usual.opening_m2))
    fan = usual.placed(box)
    stated = task.cabinet.fan
    if stated is not None and stated.blows == "in":
        mat = task.cabinet.filter
        fan = replace(
            fan, blows="in", height_m=LOW_SHARE * box.height_m, mat=mat_of(mat, usual.opening_m2) if mat else None
        )
    return replace(box, fan=fan, control=FixedSpeed(1.0))


def _written(fan: UsualFan) -> str:
    flow = f"{fan.free_m3_per_s * 3600:.0f} m3/h"
    return f"{{free flow: {flow}, pressure: {fan.most_pa:g} Pa, power: {fan.power_w:g} W, blows: out}}"


def _mat(task: _Task) -> list[Decision]:
    mat = task.cabinet.filter
    if not task.open["area"] or mat is None:
        return []
    tried = [(_cm2(area * 1e-4), _matted(task.box, area * 1e-4)) for area in MATS_CM2]
    name, box, before = task.first(tried)
    if not name:
        return [task.told("area", "", f"no mat serves: {before}; take a larger fan or a coarser class")]
    task.box = box
    return [task.told("area", name, before or "it is the smallest that is made")]


def _matted(box: Box, area_m2: float) -> Box:
    def sized(mat: Filter | None) -> Filter | None:
        return replace(mat, area_m2=area_m2) if mat is not None else None

    openings = tuple(replace(opening, mat=sized(opening.mat)) for opening in box.openings)
    fan = replace(box.fan, mat=sized(box.fan.mat)) if box.fan is not None else None
    return replace(box, openings=openings, fan=fan)


def _thermostat(task: _Task) -> list[Decision]:
    keys = [key for key in ("on", "off") if task.open[key]]
    if not keys or task.box.fan is None:
        return [task.told(key, "", "there is no fan to switch") for key in keys]
    height = getattr(control_of(replace_fixed(task.cabinet)), "height_m", HIGH_SHARE * task.box.height_m)
    least, most = int(task.view.around_c) + 2, int(min(limit.limit_c for limit in task.view.limits))
    before = ""
    for on in range(most, least - 1, -1):
        box = replace(task.box, control=Thermostat(float(on), on - BAND_K, height))
        margin, part = task.margin(box)
        if margin >= WANTED_K:
            task.box = box
            because = before or f"{part} keeps {show(margin, 'temperature difference', 2)}"
            values = {"on": f"{on} °C", "off": f"{on - BAND_K:g} °C"}
            return [task.told(key, values[key], because) for key in keys]
        before = _short(f"on at {on} °C", margin, part)
    return [
        task.told(key, "", f"no threshold serves: {before}; leave on and off out, so that it always runs")
        for key in keys
    ]


def replace_fixed(cabinet: Cabinet) -> Cabinet:
    """The cabinet with some thermostat, so that its place is known."""
    assert cabinet.fan is not None
    return replace(cabinet, fan=replace(cabinet.fan, on_c=1.0, off_c=0.0, speed=()))
