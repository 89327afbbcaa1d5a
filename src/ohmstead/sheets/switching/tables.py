"""The plan as tables: a stage each, with empty boxes, and one of causes."""

import csv
import io
from collections.abc import Iterator

from ...bench import words as bench_words
from ...bench.blank import blank_csv
from ...bench.figures import band_text, value_text
from ...bench.step import Plan, Step
from ..document import Block, Caution, Heading, Steps, Table
from . import words

# Which text of the room `bench` tells how a step is done, by the first two words of its id.
ACT_OF = {
    "dead.look": "look", "dead.loop": "loop", "dead.short": "short", "dead.case": "case",
    "dead.insulation": "insulation", "dead.plug": "plug", "battery.rest": "rest", "battery.twins": "twins",
    "battery.charge": "charge-first", "battery.left": "left", "battery.bus": "bus", "fuses.into": "idle-in",
    "fuses.far": "far", "fuses.out": "out", "devices.boot": "boot", "devices.awake": "awake",
    "devices.plug": "at-plug", "devices.draw": "draw", "devices.volts": "draw", "charging.array": "array",
    "charging.night": "night", "charging.voltage": "charging", "load.together-idle": "together-idle",
    "load.together": "together", "load.bus": "bus-busy",
    "load.device": "device-busy", "load.leg": "leg", "load.joint": "joint",
    "hour.warm": "warm", "hour.air": "air", "low.cut": "cut", "low.again": "again", "low.device": "low-device",
}  # fmt: skip
ONE_OF_A_KIND = ("ready", "close")
WIDTHS = (0.04, 0.27, 0.31, 0.085, 0.125, 0.11, 0.06)


def stage_blocks(plan: Plan) -> Iterator[Block]:
    """Every stage: how, cautions, and the steps with room for what is read."""
    blank = list(csv.reader(io.StringIO(blank_csv(plan))))
    raw = {row[0]: tuple(row) for row in blank[1:]}
    numbered = list(enumerate(plan.steps, 1))
    for stage, title in bench_words.STAGES.items():
        steps = [(number, step) for number, step in numbered if step.stage == stage]
        if not steps:
            continue
        yield Heading(title)
        cautions = tuple(dict.fromkeys(caution for _, step in steps for caution in step.cautions))
        if cautions:
            yield Caution(words.CAUTION_TITLE, cautions)
        how = _how([step for _, step in steps])
        if how:
            yield Steps(how)
        yield Table(
            f"switch-on-{stage}",
            words.HEAD,
            tuple(_row(number, step) for number, step in steps),
            "rllrlcc",
            widths=WIDTHS,
            raw_head=tuple(blank[0]),
            raw=tuple(raw[step.id] for _, step in steps),
        )


def kind_of(step: Step) -> str:
    """Which text tells how a step is done; empty where its own does."""
    first, _, rest = step.id.partition(".")
    if first == "converters":
        return "set"
    second = rest.partition(".")[0]
    return "torque" if second.startswith("torque") else ACT_OF.get(f"{first}.{second}", "")


def _how(steps: list[Step]) -> tuple[str, ...]:
    """What is done in a stage, told once for each kind of step; what a step alone has is told in full."""
    found: dict[str, list[Step]] = {}
    for step in steps:
        found.setdefault(kind_of(step) or step.id, []).append(step)
    texts = []
    for kind, alike in found.items():
        if len(alike) == 1:
            texts.append(f"{alike[0].title}: {alike[0].act}" if alike[0].stage not in ONE_OF_A_KIND else alike[0].act)
        else:
            texts.append(bench_words.ACTS[kind].format(**words.GENERIC))
    return tuple(dict.fromkeys(texts))


def _row(number: int, step: Step) -> tuple[str, ...]:
    ticked = step.asks == "tick"
    probes = step.probes or ", ".join(step.marks)
    return (
        str(number), step.title, probes, value_text(step), "" if ticked else band_text(step),
        "" if ticked else words.BOX, words.TICK_BOX,
    )  # fmt: skip


def causes(plan: Plan) -> Table:
    """What to look for when a reading of a kind lies outside."""
    rows: dict[tuple[tuple[str, ...], tuple[str, ...]], list[str]] = {}
    for step in plan.steps:
        key = (step.causes_low if step.asks == "number" else (), step.causes_high)
        names = rows.setdefault(key, [])
        title = _plain_title(step)
        if title not in names:
            names.append(title)
    return Table(
        "switch-on-causes",
        words.OUTSIDE_HEAD,
        tuple(("; ".join(names), "; ".join(low), "; ".join(high)) for (low, high), names in rows.items()),
        "lll",
        widths=(0.3, 0.35, 0.35),
    )


def _plain_title(step: Step) -> str:
    """The title of its kind without names."""
    kinds = {"idle-in": "current into a fuse", "far": "voltage behind a fuse", "leg": "drop along a wire",
             "joint": "drop across a joint", "draw": "draw or voltage of a device", "loop": "continuity",
             "set": "set-point alone", "out": "output of a converter", "at-plug": "voltage at a plug"}  # fmt: skip
    return (
        kinds.get(kind_of(step)) or bench_words.STAGES[step.stage].lower() + ": " + step.id.split(".")[1].split("-")[0]
    )
