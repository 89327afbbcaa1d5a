"""Steps while everything is dead: looking, torque, continuity, insulation, plugs; then converters alone."""

from collections.abc import Iterator

from ..quantity.show import show
from ..site.kinds import Converter, Device
from ..tables.reader import rows
from . import words
from .band import half_width
from .making import ARC_V, TOUCH_V, Making, slug
from .parameters import SET_POINT_FRACTION, around
from .step import Step

LEADS_OHM = 0.5  # what the leads and the last digit of a multimeter hide; common practice, no source
OPEN_OHM = 10e3  # plus to minus with nothing connected; common practice, no source
INSULATION_OHM = 0.5e6  # IEC 60364-6, table 6.1, SELV and PELV at 250 V DC; from memory


def ready(_making: Making) -> Iterator[Step]:
    """What must be so before anything is touched."""
    for key, title, act in words.READY:
        cautions = (words.CAUTIONS["rings"], words.CAUTIONS["law"]) if key == "sheet" else ()
        yield Step(
            f"ready.{key}", "ready", title, act, asks="tick", causes_high=words.CAUSES["tick"], cautions=cautions,
            basis=words.BASIS["practice"],
        )  # fmt: skip


def dead(making: Making) -> Iterator[Step]:
    """Everything that is proved without power."""
    yield Step(
        "dead.look", "dead", words.TITLES["look"], words.ACTS["look"], asks="tick", causes_high=words.CAUSES["tick"],
        basis=words.BASIS["look"],
    )  # fmt: skip
    yield from _torque(making)
    for number, run in making.bench.runs.items():
        yield _loop(making, number, run.run.name)
    first = next(iter(making.site.batteries), next(iter(making.bench.circuit.map.points), ""))
    mark = (making.marks.points[first],) if first in making.marks.points else ()
    for key, title, least, basis, causes, caution in (
        ("short", "short", OPEN_OHM, "insulation", "short", "held"),
        ("case", "case", OPEN_OHM, "apart", "case", ""),
        ("insulation", "insulation", INSULATION_OHM, "insulation", "insulation", "tester"),
    ):
        yield Step(
            f"dead.{key}", "dead", words.TITLES[title], words.ACTS[key].format(name=first), marks=mark,
            dimension="resistance", low=least, causes_low=words.CAUSES[causes],
            cautions=(words.CAUTIONS[caution],) if caution else (), basis=words.BASIS[basis],
        )  # fmt: skip
    for part in making.site.parts.values():
        if isinstance(part, Device) and part.inlet is not None and part.inlet.polarity:
            yield _plug(making, part)


def _torque(making: Making) -> Iterator[Step]:
    studs: dict[float, list[str]] = {}
    for name, thing in (*making.site.batteries.items(), *making.site.parts.items()):
        size = getattr(thing, "stud_mm", None)
        if size:
            studs.setdefault(size, []).append(name)
    known = {float(row["stud_mm"]): (float(row["least_nm"]), float(row["most_nm"])) for row in rows("stud_torque")}
    for size, names in sorted(studs.items()):
        if size in known:
            least, most = known[size]
            yield Step(
                f"dead.torque-m{size:g}", "dead", words.TITLES["torque"].format(stud=size),
                words.ACTS["torque"].format(names=", ".join(names), least=f"{least:g}", most=f"{most:g}"),
                marks=tuple(_first_mark(making, name) for name in names), asks="tick",
                causes_high=words.CAUSES["torque"], basis=words.BASIS["look"],
            )  # fmt: skip


def _first_mark(making: Making, name: str) -> str:
    return making.marks.points.get(name) or making.marks.points[f"{name} in"]


def _loop(making: Making, number: int, name: str) -> Step:
    """Loop resistance of a run with its far end joined, fuse bridged."""
    run, values = making.bench.runs[number], making.bench.values()
    places = run.places()
    ohm = sum(run.place_ohm(values, place)[0] for place in places)
    limits = []
    for place in places:
        slopes = run.place_ohm(values, place)[1]
        limits += [slope * making.bench.parameters[index].half for index, slope in slopes.items()]
    high = ohm + half_width(limits, 0.0) + LEADS_OHM
    return Step(
        f"dead.loop.{slug(name)}", "dead", words.TITLES["loop"].format(run=name),
        words.ACTS["loop"].format(near=run.run.start, far=run.run.end),
        probes=words.PROBES["run"].format(near=run.run.start, mark=making.marks.runs[number]),
        marks=(making.marks.runs[number],), dimension="resistance", value=ohm, low=0.0, high=high,
        causes_high=words.CAUSES["loop-high"], basis=words.BASIS["continuity"],
    )  # fmt: skip


def _plug(making: Making, part: Device) -> Step:
    assert part.inlet is not None
    sign = part.inlet.polarity or ""
    return Step(
        f"dead.plug.{slug(part.name)}", "dead", words.TITLES["plug"].format(device=part.name),
        words.ACTS["plug"].format(sign=sign, bore=part.inlet.name), marks=(making.marks.points[part.name],),
        asks="tick", causes_high=words.CAUSES["reversed"], basis=words.BASIS["polarity"],
    )  # fmt: skip


def converters(making: Making) -> Iterator[Step]:
    """Each converter alone: its set-point, nothing at its output."""
    volts = making.operation.known.batteries
    supply_v = next((figures.nominal_v for figures in volts.values()), 12.0)
    for name, part in making.site.parts.items():
        if not isinstance(part, Converter):
            continue
        bounds = around(part.output_v.nominal, SET_POINT_FRACTION) if part.output_v.is_exact else part.output_v
        meter = making.bench.meter.volts
        wrong_v = meter.accuracy_fraction * bounds.nominal
        half = half_width([(bounds.high - bounds.low) / 2, wrong_v, meter.counts(bounds.nominal)], 0.0)
        middle = (bounds.low + bounds.high) / 2
        fed = making.bench.circuit.map.feeder[f"{name} in"]
        before = making.site.parts.get(fed.name)
        feed_v = before.output_v.nominal if isinstance(before, Converter) else supply_v
        cautions = [words.CAUTIONS["touch"]] if bounds.high > TOUCH_V else []
        yield Step(
            f"converters.{slug(name)}", "converters", words.TITLES["set"].format(name=name),
            words.ACTS["set"].format(name=name, volts=show(feed_v, "voltage")),
            probes=words.PROBES["voltage"].format(name=f"{name} out", mark=making.marks.points[f"{name} out"]),
            marks=(making.marks.points[f"{name} out"],), dimension="voltage", value=middle, low=middle - half,
            high=middle + half, causes_low=words.CAUSES["set-low"], causes_high=words.CAUSES["set-high"],
            cautions=(*cautions, *((words.CAUTIONS["arc"],) if bounds.high > ARC_V else ())),
            basis=words.BASIS["function"],
        )  # fmt: skip
