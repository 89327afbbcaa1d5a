"""What was learned as changes of the site file: which key gets which text, with a comment that says how it is known."""

import re
from collections.abc import Iterator
from math import ceil, floor, log10

from ..quantity.show import show
from ..site.compose import compose
from ..site.edit import EditRefused
from ..site.kinds import Converter, Device, Disconnect, Switch
from ..site.model import Site
from ..site.nodes import Mapping, Node, Scalar, Sequence
from ..site.record import record
from ..site.reshape import value_text, with_value
from .learn import LEAST_RATIO, Learned, Lesson
from .situation import Bench

RESTING_STATES = ("idle", "standby", "off", "listening")  # what a device draws at other times moves too much
LEAST_PERCENT = 0.1
MOST_JOINTS_FRACTION = 0.4
WITHIN = "measured within"
OURS = re.compile(r"measured \d{4}-\d\d-\d\d: [a-z]").match
Steps = tuple[str | int, ...]


@record(frozen=True)
class Change:
    """One value of the site file: where, what is written, and its tolerance in words for the comment."""

    subject: str
    steps: Steps
    text: str
    within: str
    learned: Learned
    silent: str = ""  # "yes" for a key that only goes with another and gets no comment


def changes_of(bench: Bench, lesson: Lesson, least_ratio: float = LEAST_RATIO) -> tuple[Change, ...]:
    """Every change that is worth making; only figures that the builder wrote or that have a key of their own."""
    site = bench.operation.site
    found: list[Change] = []
    for one in lesson.learned:
        if one.ratio >= least_ratio and one.value > 0.0 or one.kind == "efficiency" and one.ratio >= least_ratio:
            found += _of_one(site, one)
    for run in bench.runs.values():
        places = [k for place, k in run.resistors.items() if place not in ("fuse", "holder")]
        if places and run.run.resistance_ohm is None:
            found += _of_joints(bench, lesson, run.run.number, places, least_ratio)
    return tuple(found)


def _of_one(site: Site, one: Learned) -> Iterator[Change]:
    part = site.parts.get(one.subject)
    path: Steps = ("parts", one.subject)
    percent = _percent(2.0 * one.uncertainty / abs(one.value)) if one.value else ""
    if one.kind == "set-point" and isinstance(part, Converter):
        yield Change(
            one.subject, (*path, "output"), f"{show(one.value, 'voltage', _digits(one))} ± {percent}", percent, one
        )
    elif one.kind == "idle" and isinstance(part, Converter):
        yield from _with_within(one, (*path, "idle"), show(one.value, "power", 3), percent)
    elif one.kind == "efficiency" and isinstance(part, Converter):
        points = f"{_percent(2.0 * one.uncertainty)} points"
        yield Change(one.subject, (*path, "efficiency"), _efficiency(part, one.value), points, one)
    elif one.kind == "contact" and isinstance(part, Switch | Disconnect):
        yield from _with_within(one, (*path, "contact"), show(one.value, "resistance", 3), percent)
    elif one.kind == "draw" and isinstance(part, Device) and one.aspect in RESTING_STATES:
        steps = (*path, "draws", one.aspect)
        if value_text(site.text, site.path, steps):
            yield Change(one.subject, steps, f"{show(one.value, 'power', 3)} ± {percent}", percent, one)
    elif one.kind == "battery resistance" and site.batteries[one.subject].slow_ohm == 0.0:
        # of a slow part stated beside the other these readings cannot tell which is which
        yield from _with_within(one, ("battery", one.subject, "resistance"), show(one.value, "resistance", 3), percent)


def _with_within(one: Learned, steps: Steps, text: str, percent: str) -> Iterator[Change]:
    yield Change(one.subject, steps, text, percent, one)
    yield Change(one.subject, (*steps[:-1], WITHIN), percent, percent, one, "yes")


def _efficiency(part: Converter, points: float) -> str:
    shifted = [(load, min(max(share + points, 0.01), 0.999)) for load, share in part.efficiency]
    if len(shifted) == 1:
        return f"{shifted[0][1]:.3f}"
    return "{" + ", ".join(f"{100 * load:g} %: {share:.3f}" for load, share in shifted) + "}"


def _of_joints(bench: Bench, lesson: Lesson, number: int, places: list[int], least_ratio: float) -> Iterator[Change]:
    """One figure for all joints of a run, when each of them is known well enough."""
    site, run = bench.operation.site, bench.runs[number].run
    mean, sigma = lesson.mean_of(places)
    each = [lesson.mean_of([k]) for k in places]
    before = sum(bench.parameters[k].sigma for k in places) / len(places)
    worst = max(abs(value - mean) + 2.0 * deviation for value, deviation in each)
    if mean <= 0.0 or worst > MOST_JOINTS_FRACTION * mean or before / max(d for _, d in each) < least_ratio:
        return
    usual = sum(bench.parameters[k].bounds.nominal for k in places) / len(places)
    one = Learned(f"joints of {run.name}", "joint", run.name, "", "resistance", usual, before, mean, sigma)
    steps: Steps = ("runs", number - 1, "joint")
    if value_text(site.text, site.path, steps[:-1]):
        yield from _with_within(one, steps, show(mean, "resistance", 3), _percent(worst / mean))


def _digits(one: Learned) -> int:
    """As many digits as its uncertainty bears, and one more."""
    return min(max(ceil(log10(one.value / one.uncertainty)) + 1, 3), 6)


def _percent(fraction: float) -> str:
    """A tolerance in per cent, rounded up to two digits."""
    percent = max(100.0 * fraction, LEAST_PERCENT)
    unit = 10.0 ** (floor(log10(percent)) - 1)
    return f"{round(ceil(percent / unit - 1e-9) * unit, 6):g} %"


def written(site: Site, changes: tuple[Change, ...], said: str) -> str:
    """The text of the site file with the changes, each line with a comment: `said`, then what is known how well.

    Raises EditRefused where a value cannot be written without changing what stands around it.
    """
    text, file = site.text, site.path
    for change in changes:
        text = with_value(text, file, change.steps, change.text)
    notes: dict[int, list[str]] = {}
    for change in changes:
        if not change.silent:
            notes.setdefault(_line_of(text, file, change.steps), []).append(f"{change.steps[-1]} ± {change.within}")
    for line, words in sorted(notes.items(), reverse=True):
        text = with_comment(text, file, line, f"{said}: {', '.join(words)}")
    return text


def _line_of(text: str, file: str, steps: Steps) -> int:
    node: Node | None = compose(text, file)[0]
    for step in steps:
        if isinstance(node, Mapping):
            node = node.entries[str(step)][1]
        elif isinstance(node, Sequence) and isinstance(step, int):
            node = node.items[step]
    if node is None:
        raise EditRefused("there is nothing to comment on")
    return text.count("\n", 0, node.start)


def with_comment(text: str, file: str, line: int, words: str) -> str:
    """The text with a comment behind a line, counted from 0; one that was written so before is replaced.

    >>> print(with_comment("site: {name: hut}   # ours", "a.yaml", 0, "measured 2026-11-27"))
    site: {name: hut}   # ours; measured 2026-11-27
    """
    lines = text.split("\n")
    head, mark, old = _comment_of(lines[line])
    kept = [piece for piece in old.split("; ") if piece.strip() and not OURS(piece)]
    end = "\r" if lines[line].endswith("\r") else ""
    lines[line] = head.rstrip() + (mark or "   # ") + "; ".join([*kept, words]) + end
    after = "\n".join(lines)
    if _shape(compose(after, file)[0]) != _shape(compose(text, file)[0]):
        raise EditRefused(f"line {line + 1} cannot take a comment")
    return after


def _comment_of(line: str) -> tuple[str, str, str]:
    """What stands before a comment, its mark with the spaces around it, and its words."""
    quoted = ""
    for k, sign in enumerate(line):
        if quoted:
            quoted = "" if sign == quoted else quoted
        elif sign in "'\"" and (k == 0 or not line[k - 1].isalnum()):
            quoted = sign
        elif sign == "#" and (k == 0 or line[k - 1] in " \t"):
            spaces = re.search(r"\s*$", line[:k])
            gap = spaces.group() if spaces else ""
            return line[: k - len(gap)], f"{gap}# ", line[k + 1 :].strip()
    return line.rstrip("\r"), "", ""


def _shape(node: Node | None) -> object:
    if isinstance(node, Mapping):
        return [(key, _shape(value)) for key, (_, value) in node.entries.items()]
    if isinstance(node, Sequence):
        return [_shape(item) for item in node.items]
    return node.text if isinstance(node, Scalar) else None
