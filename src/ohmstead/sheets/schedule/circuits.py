"""Fuses where they sit, with the currents to expect and the devices that stop when they are pulled."""

from collections.abc import Iterable
from dataclasses import replace

from ...evidence.protect import block_of
from ...network.cases import Case
from ...network.points import Way, map_site
from ...site.kinds import Charger, Converter, Device, Distribution, EthernetSource
from ...site.model import Run, Site
from ...site.record import record
from ..asked import Asked

FEEDING = ("battery", "charger")
LEAST_A = 1e-3  # what a clamp or a shunt no longer tells from nothing
MORE_FRACTION = 0.02  # a start that adds no more than the meter can tell is no start


@record(frozen=True)
class Expected:
    """A current and the case that makes it. [A]"""

    current_a: float
    case: str


@record(frozen=True)
class Circuit:
    """A fused run: its block and way (empty and None in line), what it carries and what hangs on it.

    `start` is None when nothing behind it draws more while starting. `dark` lose their supply when the fuse is
    out; `by_day` keep it only while a charger delivers.
    """

    run: Run
    block: str
    way: int | None
    high_v: float | None
    idle: Expected | None
    working: Expected | None
    start: Expected | None
    dark: tuple[str, ...]
    by_day: tuple[str, ...]


def circuits(asked: Asked) -> tuple[Circuit, ...]:
    """Every run with a fuse or on a block's way, in the order of the file."""
    found = []
    for run in asked.site.runs:
        block = block_of(asked.site, Way(run, "", "", False))
        if run.carries == "power" and (block is not None or run.fuse is not None or run.origin_of("fuse") == "choose"):
            found.append(_circuit(asked, run, block))
    return tuple(found)


def _circuit(asked: Asked, run: Run, block: Distribution | None) -> Circuit:
    view = next((view for view in asked.evidence.runs if view.run.number == run.number), None)
    cases = asked.operation.cases
    if charger_of(asked.site, run):
        idle, busy = None, (case for case in cases if case.battery in ("charging", "bulk"))
    else:
        idle = largest(asked, run, (case for case in cases if is_nominal(case, "idle")))
        busy = (case for case in cases if is_nominal(case, "busy"))
    working = largest(asked, run, busy)
    start = largest(asked, run, (case for case in cases if case.kind in ("start-up", "all start")))
    before = largest(asked, run, (case for case in cases if case.battery == "low" and case.kind == "busy"))
    least_a = max(LEAST_A, before.current_a * (1 + MORE_FRACTION) if before else 0.0)
    if start is not None and start.current_a <= least_a:
        start = None
    dark, by_day = without(asked.site, run)
    way = next((end.way for end in (run.start, run.end) if block is not None and end.part == block.name), None)
    high_v = view.source_high.value if view else None
    return Circuit(run, block.name if block else "", way, high_v, idle, working, start, dark, by_day)


def charger_of(site: Site, run: Run) -> str:
    """The charger at either end of a run; empty when there is none."""
    return next((end.part for end in (run.start, run.end) if isinstance(site.parts.get(end.part), Charger)), "")


def is_nominal(case: Case, kind: str) -> bool:
    """True for a lasting case of a kind with the battery half full."""
    return case.battery == "nominal" and case.kind == kind


def largest(asked: Asked, run: Run, cases: Iterable[Case]) -> Expected | None:
    """The largest current through a run in some cases; None when there is no such case."""
    found = [
        Expected(abs(asked.operation.run_a(asked.operation.point(case.name), run.number)), case.name) for case in cases
    ]
    return max(found, key=lambda expected: expected.current_a, default=None)


def without(site: Site, run: Run) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Devices that stop when a run's fuse is out, and those that only a charger still keeps alive."""
    before = kept(site)
    after = kept(replace(site, runs=tuple(other for other in site.runs if other.number != run.number)))
    dark = tuple(name for name in before if name not in after)
    return dark, tuple(name for name, source in before.items() if source == "battery" and after.get(name) == "charger")


def kept(site: Site) -> dict[str, str]:
    """Devices with a supply and where it comes from in the end: "battery" or "charger"."""
    feeder = map_site(site).feeder
    found: dict[str, str] = {}
    for name, part in site.parts.items():
        if not isinstance(part, Device):
            continue
        first, seen = feeder[name], {name}
        while first.kind not in (*FEEDING, "nothing") and first.name not in seen:
            seen.add(first.name)
            first = feeder[f"{first.name} in"]
        if first.kind in FEEDING:
            found[name] = first.kind
    return found


def in_words(site: Site, run: Run) -> str:
    """What a run feeds, in words: "net supply (54 V converter)"."""
    charger = charger_of(site, run)
    if charger:
        return f"charging by {charger}"
    part = site.parts.get(run.end.part)
    if isinstance(part, Converter):
        return f"{part.name} ({part.output_v.nominal:g} V converter)"
    if isinstance(part, Distribution):
        return f"{part.name} (fuse block)"
    if isinstance(part, EthernetSource):
        return f"{part.name} (network power)"
    return str(run.end)


def ways_of(part: Distribution, found: Iterable[Circuit]) -> int:
    """Ways of a block; while they are left open, as many as are in use."""
    used = [circuit.way for circuit in found if circuit.block == part.name]
    return part.ways if part.ways is not None else max([way for way in used if way is not None], default=0)
