"""Checks inside a cabinet: values that are fine alone and wrong together."""

from ..quantity.show import show
from .boxes import Vent
from .drafts import Draft, Reading
from .guess import listed, nearest, quoted
from .kinds import Device
from .walk import Drafts

_COVERED = {"wall": ("back",), "corner": ("back", "left"), "floor": ("bottom",),
            "recessed": ("back", "left", "right", "top", "bottom")}  # fmt: skip
_LEAST_MM = 40.0
_LEAST_BAND_K = 0.5


def check_box_sense(draft: Draft, drafts: Drafts, reading: Reading) -> None:
    """Everything about one cabinet."""
    _walls(draft, reading)
    _vents(draft, reading)
    _sun(draft, drafts, reading)
    _roof(draft, reading)
    fan = draft.value("fan")
    if isinstance(fan, Draft):
        _fan(fan, draft, drafts, reading)
    mat = draft.value("filter")
    if (
        isinstance(mat, Draft)
        and not isinstance(fan, Draft)
        and not any(name in draft.nodes for name in ("low_vent", "high_vent", "fan"))
    ):
        reading.tell(
            mat.place,
            f"{draft.label} has a filter and nothing to put it in",
            "a filter before a vent or a fan",
            "add low vent: 60 cm2 left and high vent: 60 cm2 right, or a fan, or leave the filter out",
        )


def _walls(draft: Draft, reading: Reading) -> None:
    size, sheet = draft.value("size_mm"), draft.value("sheet_m")
    if size and min(size) < _LEAST_MM:
        reading.tell(
            draft.place_of("size_mm"),
            f"{draft.label} is {size[0]:g} x {size[1]:g} x {size[2]:g} mm: nothing fits into it",
            f"width x height x depth, each at least {_LEAST_MM:g} mm",
            "check the unit of size",
        )
    elif size and sheet and sheet * 1000 > min(size) / 4:
        reading.tell(
            draft.place_of("sheet_m"),
            f"sheet of {show(sheet, 'length')} leaves little of a box of {min(size):g} mm",
            "the thickness of one wall",
            "write sheet: 1.5 mm, or what it is",
        )
    if "wall_w_per_k" in draft.nodes and "rise" in draft.nodes:
        reading.tell(
            draft.place_of("rise"),
            f"{draft.label} states wall loss and measured rise: they are the same figure, told twice",
            "one of the two",
            "keep the one that was measured",
        )
    for attribute, key in (("inside_w_per_m2_k", "inside film"), ("outside_w_per_m2_k", "outside film")):
        whole = "wall loss" if "wall_w_per_k" in draft.nodes else "measured rise" if "rise" in draft.nodes else ""
        if attribute in draft.nodes and whole:
            reading.tell(
                draft.place_of(attribute),
                f"{draft.label} states {key}, and {whole}, which holds it already",
                f"{whole} alone, or the films",
                f"leave {key} out",
            )


def _vents(draft: Draft, reading: Reading) -> None:
    size, mounting = draft.value("size_mm"), draft.value("mounting") or "wall"
    covered = _COVERED.get(mounting, ())
    for attribute, key in (("low_vent", "low vent"), ("high_vent", "high vent")):
        vent = draft.value(attribute)
        if not isinstance(vent, Vent):
            continue
        if vent.side in covered:
            free = [side for side in ("left", "right", "front", "top") if side not in covered] or ["front"]
            reading.tell(
                draft.place_of(attribute),
                f"{key} is in the {vent.side}, which stands against something when mounted: {mounting}",
                f"a side with air: one of {listed(free)}",
                f"write {key}: {show(vent.area_m2, 'opening')} {free[0]}",
            )
        if size and vent.height_m is not None and vent.height_m * 1000 > size[1]:
            reading.tell(
                draft.place_of(attribute),
                f"{key} is at {show(vent.height_m, 'length')}, and the box is {size[1]:g} mm high",
                "a height above the floor of the box",
                "measure from the floor of the box, or correct size: width x height x depth",
            )
        if size and vent.side and vent.area_m2 > _side_m2(size, vent.side):
            reading.tell(
                draft.place_of(attribute),
                f"{key} of {show(vent.area_m2, 'opening')} is larger than the {vent.side} of the box",
                f"at most {show(_side_m2(size, vent.side), 'opening')}",
                "check the number and its unit",
            )
    low, high = draft.value("low_vent"), draft.value("high_vent")
    heights = [vent.height_m for vent in (low, high) if isinstance(vent, Vent) and vent.height_m is not None]
    if len(heights) == 2 and heights[0] >= heights[1]:
        reading.tell(
            draft.place_of("low_vent"),
            f"low vent at {show(heights[0], 'length')} is not below high vent at {show(heights[1], 'length')}",
            "low vent below high vent",
            "exchange the two heights",
        )


def _side_m2(size: tuple[float, float, float], side: str) -> float:
    width, height, depth = (length / 1000 for length in size)
    if side in ("top", "bottom"):
        return width * depth
    return height * (width if side in ("front", "back") else depth)


def _sun(draft: Draft, drafts: Drafts, reading: Reading) -> None:
    outdoors = draft.value("stands") == "outdoors"
    for attribute, key in (("faces_deg", "door faces"), ("shaded_fraction", "shaded")):
        if attribute in draft.nodes and not outdoors:
            reading.tell(
                draft.place_of(attribute),
                f"{draft.label} says {key}, and no sun comes to it",
                f"{key} only for a box that stands outdoors",
                f"leave {key} out, or write stands: outdoors",
            )
    if outdoors and "latitude" not in drafts.about.nodes:
        reading.tell(
            draft.place_of("stands"),
            f"{draft.label} stands outdoors, and the site has no latitude: the sun on its faces comes from it",
            "latitude in section site",
            "add to section site: latitude: 57.6",
        )
    if draft.value("days") == "weather" and "weather" not in drafts.sections:
        reading.tell(
            draft.place_of("days"),
            f"{draft.label} takes its days from the weather, and there is no section weather",
            "section weather, or days: zone",
            "add weather: {file: skerry.epw, format: epw}, or leave days out",
        )


def _roof(draft: Draft, reading: Reading) -> None:
    written = [
        key for attribute, key in (("roof", "roof"), ("roof_points", "roof measured")) if attribute in draft.nodes
    ]
    if written and draft.value("stands") != "roof space":
        reading.tell(
            draft.place_of("roof" if "roof" in draft.nodes else "roof_points"),
            f"{draft.label} says {written[0]}, and stands {draft.value('stands') or 'indoors'}",
            f"{written[0]} only for a box in a roof space",
            f"write stands: roof space, or leave {written[0]} out",
        )
    elif len(written) == 2:
        reading.tell(
            draft.place_of("roof"),
            f"{draft.label} says roof and roof measured",
            "one of the two",
            "keep what was measured",
        )
    points = draft.value("roof_points") or ()
    if any(inside < outdoors - 30 for outdoors, inside in points):
        reading.tell(
            draft.place_of("roof_points"),
            "roof measured: a roof space more than 30 K colder than outdoors",
            "air outdoors, then air in the roof space",
            "exchange the two, if they changed places",
        )


def _fan(fan: Draft, box: Draft, drafts: Drafts, reading: Reading) -> None:
    if "curve" in fan.nodes:
        for attribute, key in (("free_m3_per_s", "free flow"), ("shut_pa", "pressure")):
            if attribute in fan.nodes:
                reading.tell(
                    fan.place_of(attribute),
                    f"{fan.label} states its curve and its {key}, which is an end of the curve",
                    "the curve, or its two ends",
                    f"leave {key} out",
                )
    elif "free_m3_per_s" not in fan.nodes:
        reading.tell(
            fan.place,
            f"{fan.label} does not say what it moves",
            "free flow and pressure, from its sheet, or its curve",
            "add free flow: 50 m3/h, pressure: 30 Pa, or write fan: choose",
        )
    elif "shut_pa" not in fan.nodes:
        reading.tell(
            fan.place_of("free_m3_per_s"),
            f"{fan.label} has no pressure: what passes a filter comes from it",
            "the most pressure of its sheet, when nothing flows",
            "add pressure: 30 Pa",
        )
    _thermostat(fan, reading)
    _part(fan, box, drafts, reading)


def _thermostat(fan: Draft, reading: Reading) -> None:
    on, off = fan.value("on_c"), fan.value("off_c")
    has = {key for attribute, key in (("on_c", "on"), ("off_c", "off")) if attribute in fan.nodes}
    if "speed" in fan.nodes and has:
        reading.tell(
            fan.place_of("speed"),
            f"{fan.label} has a speed by temperature and a thermostat",
            "speed, or on and off",
            "keep the one that is built",
        )
    elif len(has) == 1:
        missing = "off" if "on" in has else "on"
        known = on if on is not None else off
        write = "choose" if known is None else f"{known + (-4 if missing == 'off' else 4):g} °C"
        reading.tell(
            fan.place_of("on_c" if "on" in has else "off_c"),
            f"{fan.label} has a thermostat with {'on' if 'on' in has else 'off'} alone",
            "on and off: the gap between them keeps it from switching all the time",
            f"add {missing}: {write}",
        )
    elif len(has) == 2 and (on is None) != (off is None) and "choose" in (_how(fan, "on_c"), _how(fan, "off_c")):
        stated, key = ("off", "off_c") if on is None else ("on", "on_c")
        reading.tell(
            fan.place_of(key),
            f"{fan.label} leaves one end of its thermostat open and states {stated}",
            "both stated, or both left open: the gap between them is chosen with them",
            f"write {stated}: choose",
        )
    elif on is not None and off is not None and off > on - _LEAST_BAND_K:
        reading.tell(
            fan.place_of("off_c"),
            f"{fan.label} goes on at {show(on, 'temperature')} and off at {show(off, 'temperature')}",
            "off below on",
            f"write off: {min(on, off) - 4:g} °C, or exchange the two if they changed places",
        )


def _how(draft: Draft, attribute: str) -> str:
    """How a value came to be known."""
    origin = draft.origin.get(attribute)
    return origin.how if origin is not None else ""


def _part(fan: Draft, box: Draft, drafts: Drafts, reading: Reading) -> None:
    name = fan.value("part")
    if not name:
        return
    found = drafts.parts.get(name)
    if found is None or found.cls is not Device:
        devices = [part.name for part in drafts.parts.values() if part.cls is Device]
        meant = nearest(name, devices)
        what = f"{quoted(name)} is {found.label}" if found is not None else f"there is no device {quoted(name)}"
        reading.tell(
            fan.place_of("part"),
            f"part: {what}",
            f"a part of kind device: {listed(devices)}" if devices else "a part of kind device; there are none",
            f"did you mean '{meant}'?"
            if meant
            else f"add it to section parts, such as {name}: "
            f"{{kind: device, input: 20..30 V, draws: 3 W, zone: {box.name}}}",
        )
        return
    if "power_w" in fan.nodes:
        reading.tell(
            fan.place_of("power_w"),
            f"{fan.label} states a power, and so does {quoted(name)} in section parts",
            "one of the two",
            "leave power out; draws of the part count",
        )
    if "duty" in found.nodes:
        reading.tell(
            found.place_of("duty"),
            f"{quoted(name)} is the fan of cabinet {quoted(box.name)} and has a duty by the clock",
            "a fan that always runs, or one that follows the air: on and off, or speed",
            "leave duty out; its hours follow from on and off of the fan",
        )
