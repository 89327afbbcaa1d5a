"""What if: two sites side by side, finding by finding and number by number."""

from collections.abc import Iterable, Iterator
from dataclasses import fields as entries

from ..evidence.finding import GRAVITY, Finding
from ..site.edit import replace_value
from ..site.model import Run, Site
from ..site.place import Place
from ..site.record import record
from .trial import Trial, full_check

CHANGED_FRACTION = 0.005  # numbers that differ by less than half a per cent are not listed
FLOOR = 1e-9


class ChangeRefused(ValueError):
    """A change on the command line that cannot be made. The message says why, `mend` what to write."""

    def __init__(self, message: str, mend: str) -> None:
        super().__init__(message)
        self.mend = mend


@record(frozen=True)
class Shift:
    """One number before and after. None where the part or run is not in that site, or the number not known."""

    subject: str
    figure: str
    dimension: str
    before: float | None
    after: float | None


@record(frozen=True)
class Comparison:
    """What went, came or changed."""

    gone: tuple[Finding, ...]
    new: tuple[Finding, ...]
    changed: tuple[tuple[Finding, Finding], ...]
    shifts: tuple[Shift, ...]
    verdicts: tuple[str, str]


def compare(before: Site, after: Site) -> Comparison:
    """Check both sites and set them side by side."""
    one, other = full_check(before), full_check(after)
    old = {(f.rule, f.subject): f for f in one.findings}
    new = {(f.rule, f.subject): f for f in other.findings}
    both = [(old[key], new[key]) for key in old if key in new]
    return Comparison(
        tuple(_sorted(f for key, f in old.items() if key not in new)),
        tuple(_sorted(f for key, f in new.items() if key not in old)),
        tuple(pair for pair in both if (pair[0].message, pair[0].severity) != (pair[1].message, pair[1].severity)),
        tuple(_shifts(one, other)),
        ("fails" if one.failing else "fine", "fails" if other.failing else "fine"),
    )


def _sorted(findings: Iterable[Finding]) -> list[Finding]:
    return sorted(findings, key=lambda f: (GRAVITY[f.severity], f.place.line, f.rule))


def _shifts(one: Trial, other: Trial) -> Iterator[Shift]:
    before, after = dict(_figures(one)), dict(_figures(other))
    for key in dict.fromkeys([*before, *after]):
        a, b = before.get(key), after.get(key)
        if a is None and b is None or (a is not None and b is not None and _near(a, b)):
            continue
        yield Shift(*key, a, b)


def _near(a: float, b: float) -> bool:
    return abs(a - b) <= CHANGED_FRACTION * max(abs(a), abs(b)) + FLOOR


def _figures(trial: Trial) -> Iterator[tuple[tuple[str, str, str], float | None]]:
    """Every number that a builder would compare: subject, what it is, dimension."""
    for battery in trial.evidence.batteries:
        yield (battery.name, "largest lasting current", "current"), battery.discharge.value
        yield (battery.name, "largest current with start-ups", "current"), battery.peak.value
    for device in trial.evidence.devices:
        low = device.lowest.value if device.lowest else None
        yield (device.name, "lowest voltage", "voltage"), low
        if low is not None and device.low_v is not None:
            yield (device.name, "margin above its window's low end", "voltage"), low - device.low_v
        yield (device.name, "voltage lost on the way", "voltage"), device.path_drop.value
    for converter in trial.evidence.converters:
        lowest = converter.input_lowest
        yield (converter.name, "lowest input", "voltage"), lowest.value if lowest else None
        yield (converter.name, "output asked for", "power"), converter.output_w.value
    for view in trial.evidence.runs:
        yield (view.name, "lasting current", "current"), view.sustained.value
        yield (view.name, "drop", "voltage"), view.drop.value
        yield (view.name, "may carry", "current"), view.ampacity.value_a if view.ampacity else None
        yield (view.name, "fuse", "current"), view.own_fuse.rating_a if view.own_fuse else None
        yield (view.name, "smallest far-end short", "current"), view.fault_far.smallest_a if view.fault_far else None
        yield (view.name, "largest near-end short", "current"), view.fault_near.largest_a if view.fault_near else None
    margin = trial.evidence.margin
    yield ("supply", "load before it collapses, times today's", "number"), margin.factor if margin else None


def changed_text(site: Site, change: str) -> str:
    """The site's text with one change such as `fuse block / 3 -> lamps.wire=4 mm2`. Raises ChangeRefused."""
    target, equals, value = change.partition("=")
    subject, dot, key = target.strip().rpartition(".")
    if not equals or not dot or not value.strip():
        raise ChangeRefused(f"`{change}` is no change", "write it as name.key=value, such as lamps.draws=12 W")
    found = _subject(site, subject.strip())
    place = _place(found, key.strip())
    if place is None:
        into = [run for run in site.runs if run.end.part == subject.strip()]
        place = _place(into[0], key.strip()) if len(into) == 1 else None
    if place is None:
        raise ChangeRefused(
            f"{subject} has no written `{key.strip()}` that could be changed",
            "write that key into the file first, or compare two files",
        )
    return replace_value(site.text, place, value.strip())


def _subject(site: Site, name: str) -> object:
    known: dict[str, object] = {**site.batteries, **site.parts, **site.zones}
    known |= {run.name: run for run in site.runs}
    known["site"] = site.about
    if name in known:
        return known[name]
    ends = [run for run in site.runs if isinstance(run, Run) and name in (str(run.end), run.end.part)]
    if len(ends) == 1:
        return ends[0]
    from difflib import get_close_matches

    near = get_close_matches(name, known, 3, 0.4)
    raise ChangeRefused(
        f"there is no part or run called {name!r}",
        f"closest: {', '.join(near)}" if near else "names are written as in the file",
    )


def _place(thing: object, key: str) -> Place | None:
    """Where a key's value stands in the file; None when it is not written there."""
    origin = getattr(thing, "origin", {})
    for entry in entries(thing):  # type: ignore[arg-type]
        declared = entry.metadata.get("field")
        if declared is not None and declared.key == key:
            return origin[entry.name].place if entry.name in origin else None
    return None
