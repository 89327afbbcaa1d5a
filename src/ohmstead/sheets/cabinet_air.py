"""The sheet of the cabinet: air by the hour, part by part, the fan on its curve, and what to look after."""

from collections.abc import Iterator

from ..evidence.cabinets import CabinetView
from ..quantity.show import show
from .asked import Asked
from .boxed import words
from .document import Block, Document, Heading, Picture, Steps, Table, Terms, Text

TITLE = words.SHEET_TITLE
PAPER = "upright"
ORDER = 36
NAME = "cabinet-air"
TOLD_APART_K = 1.5  # what two thermometers tell apart; common practice
AIR_J_PER_M3_K = 1.2 * 1006.0  # density and specific heat of air


def applies(asked: Asked) -> str:
    """ "yes" for a site with a cabinet."""
    return "yes" if asked.site.cabinets else "no"


def draw(asked: Asked, terms: Terms) -> Document:
    """Every cabinet of the site, one after the other."""
    if not asked.site.cabinets:
        return Document(NAME, TITLE, (Text(words.NO_CABINET),), PAPER)
    blocks: list[Block] = []
    for view in asked.evidence.cabinets:
        blocks += _cabinet(view)
    return Document(NAME, TITLE, tuple(blocks), PAPER)


def _cabinet(view: CabinetView) -> Iterator[Block]:
    from ..choose.cabinet.ways import ways
    from .boxed.pictures import pictures

    yield Heading(view.name)
    yield Text(words.LEAD.format(zone=view.name, hot=show(view.hottest_c, "temperature")))
    for name, svg in pictures(view).items():
        yield Picture(name.removesuffix(".svg"), svg)
    yield _parts(view)
    rows = []
    raw: list[tuple[object, ...]] = []
    for way in ways(view):
        left = "" if way.margin_k is None else f"{way.margin_k:+.1f} K"
        fan = show(way.fan_wh, "energy", 2) if way.fan_wh > 0 else ""
        flow = show(way.flow_m3_per_s, "air flow", 2)
        rows.append((f"{way.name}: {way.words}", f"{way.hottest_c:.1f} °C", f"{way.gained_k:.1f} K", left, flow, fan))
        raw.append((way.name, way.hottest_c, way.gained_k, way.margin_k, way.flow_m3_per_s, way.fan_wh))
    head = ("way", "hottest_c", "cooler_k", "margin_k", "flow_m3_per_s", "fan_wh")
    yield Table(f"{view.name} ways", words.WAYS_HEAD, tuple(rows), "lrrrrr", words.WAYS_CAPTION,
                (0.42, 0.12, 0.1, 0.12, 0.12, 0.12), head, tuple(raw))  # fmt: skip
    yield Heading(words.CARE)
    yield Steps(tuple(_care(view)), "tick")


def _parts(view: CabinetView) -> Table:
    climate, limits = view.climate, {limit.name: limit.limit_c for limit in view.limits}
    found = []
    for name, height_m in climate.inside.own_m.items():
        hour, hottest = climate.hot.trace.hottest(height_m)
        bears = limits.get(name)
        left = None if bears is None else bears - hottest
        found.append((name, height_m, max(climate.hot.heat_w[name]), hottest, hour, bears, left))
    found.sort(key=lambda row: 1e6 if row[6] is None else row[6])
    rows = tuple(
        (name, show(height, "length", 2), f"{heat:.1f} W", f"{hot:.1f} °C", f"{hour}:00",
         "" if bears is None else f"{bears:.0f} °C", "" if left is None else f"{left:+.1f} K")
        for name, height, heat, hot, hour, bears, left in found
    )  # fmt: skip
    head = ("part", "height_m", "heat_w", "hottest_c", "hour", "bears_c", "left_k")
    return Table(f"{view.name} parts", words.PARTS_HEAD, rows, "lrrrrrr", words.PARTS_CAPTION, raw_head=head,
                 raw=tuple(found))  # fmt: skip


def _care(view: CabinetView) -> Iterator[str]:
    """What to look after, with the rise of the air from inlet to outlet as a sign of the mat."""
    fan, cabinet = view.fan, view.climate.cabinet
    if fan is not None and fan.loaded_m3_per_s and fan.flow_m3_per_s > 0.0:
        usual_w = sum(view.climate.hot.total_w) / 24
        clean, full = (usual_w / (AIR_J_PER_M3_K * flow) for flow in (fan.flow_m3_per_s, fan.loaded_m3_per_s))
        now, rise = show(clean, "temperature difference", 2), show(full, "temperature difference", 2)
        yield words.CARE_MAT.format(rise=rise, now=now) if full - clean > TOLD_APART_K else words.CARE_MAT_LOOK
    if fan is not None and cabinet.fan is not None:
        yield words.CARE_FAN.format(way=words.SUCKED if cabinet.fan.blows == "out" else words.BLOWN)
    if view.climate.box.openings:
        yield words.CARE_VENTS
    yield words.CARE_GAPS
