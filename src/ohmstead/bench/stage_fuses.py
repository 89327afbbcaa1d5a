"""Steps from the battery to the last fuse: at rest, pre-charge, main fuse, then one fuse at a time."""

from collections.abc import Iterator

from ..quantity.show import show
from ..site.kinds import Converter, EthernetSource
from ..site.model import Run
from . import words
from .charge import ASSUMED_F, LEFT_V, PreCharge, pre_charge
from .expect import Solved
from .making import ROUNDING, Making, filled, slug
from .order import behind, from_charger
from .points import Point
from .situation import Situation
from .step import Step

LEAK_A = 1e-3  # where nothing should flow, damp and lamps in switches may leak so much; common practice, no source
TWINS_V = 0.1  # batteries may differ by before they are joined; common practice, no source


def battery(making: Making) -> Iterator[Step]:
    """Each battery at rest, all fuses out; then the main fuses, behind a resistor first."""
    resting = Situation("at rest", opened=frozenset(making.fused), unplugged=making.sources)
    for name in making.site.batteries:
        step = Step(
            f"battery.rest.{slug(name)}", "battery", words.TITLES["rest"].format(name=name), words.ACTS["rest"],
            cautions=(words.CAUTIONS["rings"], *_chemistry(making, name)), basis=words.BASIS["function"],
        )  # fmt: skip
        yield making.read(step, resting, Point("voltage", name), ("rest-low", "rest-high"))
    if len(making.site.batteries) > 1:
        yield Step(
            "battery.twins", "battery", words.TITLES["twins"], words.ACTS["twins"], words.PROBES["between"],
            tuple(making.marks.points[name] for name in making.site.batteries), dimension="voltage", value=0.0,
            low=-TWINS_V, high=TWINS_V, causes_low=words.CAUSES["twins"], causes_high=words.CAUSES["twins"],
            basis=words.BASIS["practice"],
        )  # fmt: skip
    mains = [(k, number) for k, number in enumerate(making.fused) if is_main(making, number)]
    for place, (k, number) in enumerate(mains):
        if place == 0:
            yield from _charged_first(making, number)
        yield _bus(making, k, number)


def _chemistry(making: Making, name: str) -> tuple[str, ...]:
    lithium = making.site.batteries[name].chemistry in ("LFP", "NMC")
    return (words.CAUTIONS["cold" if lithium else "gas"],)


def is_main(making: Making, number: int) -> bool:
    """True for the fused run nearest to a battery."""
    fused_above = [other for other in making.feeding.chains[number] if other in making.fused]
    return not fused_above and not from_charger(making.site, making.run(number))


def resistor_for(making: Making, number: int) -> PreCharge:
    """The pre-charge of a main fuse, with every other fuse out."""
    others = frozenset(making.fused) - {number}
    found = making.solve(Situation("main fuse in", opened=others, unplugged=making.sources))
    names = list(behind(making.feeding, number))
    idle_a = round(abs(current_of(making, found, number)), ROUNDING)
    full_v = max((figures.full_v for figures in making.operation.known.batteries.values()), default=12.0)
    return pre_charge(full_v, making.capacitance_f(names, ASSUMED_F), idle_a)


def current_of(making: Making, found: Solved, number: int) -> float:
    """Current of a run, before a method of measuring is chosen. [A]"""
    return found.point.branch_a[making.bench.runs[number].branches[0]]


def _charged_first(making: Making, number: int) -> Iterator[Step]:
    run = making.run(number)
    fuse, far, mark = fuse_words(run), making.feeding.ways[number].far, making.marks.runs[number]
    charge = resistor_for(making, number)
    yield Step(
        f"battery.charge.{slug(run.name)}", "battery", words.TITLES["charge-first"],
        words.ACTS["charge-first"].format(
            fuse=fuse, ohm=show(charge.ohm, "resistance"), wait=show(max(charge.wait_s, 1.0), "time", 2),
            short=show(charge.short_w, "power", 2),
        ),
        marks=(mark,), asks="tick", causes_high=words.CAUSES["left"],
        cautions=(words.CAUTIONS["held"], *making.arcs(far)), basis=words.BASIS["practice"],
    )  # fmt: skip
    yield Step(
        f"battery.left.{slug(run.name)}", "battery", words.TITLES["left"], words.ACTS["left"].format(fuse=fuse),
        words.PROBES["resistor"], (mark,), dimension="voltage", value=charge.left_v, low=-LEFT_V, high=LEFT_V,
        causes_low=words.CAUSES["reversed"], causes_high=words.CAUSES["left"], basis=words.BASIS["practice"],
    )  # fmt: skip


def _bus(making: Making, k: int, number: int) -> Step:
    run, far = making.run(number), making.feeding.ways[number].far
    closed = Situation(f"{run.name} in", opened=frozenset(making.fused[k + 1 :]), unplugged=making.sources)
    step = Step(
        f"battery.bus.{slug(run.name)}", "battery", words.TITLES["bus"].format(name=far),
        words.ACTS["bus"].format(fuse=fuse_words(run)), cautions=(words.CAUTIONS["smell"],),
        basis=words.BASIS["polarity"],
    )  # fmt: skip
    return making.read(step, closed, Point("voltage", far), ("bus-low", "bus-high"))


def fuse_words(run: Run) -> str:
    """A fuse in words: "the 10 A blade of hide block / 1 -> fridge"."""
    return f"the {run.fuse} of {run.name}" if run.fuse else f"the fuse of {run.name}"


def fuses(making: Making) -> Iterator[Step]:
    """One fuse after the other: current into it, voltage behind it, set-points of what starts."""
    seen: set[str] = set()
    for k, number in enumerate(making.fused):
        if is_main(making, number) or from_charger(making.site, making.run(number)):
            continue
        run, way = making.run(number), making.feeding.ways[number]
        fuse, name = fuse_words(run), slug(run.name)
        closed = Situation(f"{run.name} in", opened=frozenset(making.fused[k + 1 :]), unplugged=making.sources)
        current_a = current_of(making, making.solve(closed), number)
        into = Step(
            f"fuses.into.{name}", "fuses", words.TITLES["idle-in"].format(run=run.name),
            words.ACTS["idle-in"].format(fuse=fuse), cautions=making.arcs(way.near), basis=words.BASIS["function"],
        )  # fmt: skip
        read = making.read(into, closed, making.current_at(number, current_a), ("idle-low", "idle-high"))
        yield read if abs(current_a) >= LEAK_A else filled(read, low=-LEAK_A, high=LEAK_A)
        far = Step(
            f"fuses.far.{name}", "fuses", words.TITLES["far"].format(name=way.far),
            words.ACTS["far"].format(fuse=fuse), basis=words.BASIS["polarity"],
        )  # fmt: skip
        yield making.read(far, closed, Point("voltage", way.far), ("far-low", "far-high"))
        for part in dict.fromkeys(behind(making.feeding, number)):
            if part in seen:
                continue
            seen.add(part)
            found = making.site.parts[part]
            if isinstance(found, Converter) or (isinstance(found, EthernetSource) and found.output_v is not None):
                out = Step(
                    f"fuses.out.{slug(part)}", "fuses", words.TITLES["out"].format(name=part), words.ACTS["out"],
                    basis=words.BASIS["function"],
                )  # fmt: skip
                yield making.read(out, closed, Point("voltage", f"{part} out"), ("set-low", "set-high"))
