"""What a fuse covers: the largest rating a wire allows, runs without any fuse, faults with one cause."""

from collections.abc import Iterable, Iterator

from ..parts import gauges
from ..parts.wire import Wire
from ..site.record import record
from ..tables.reader import numbers, words
from .finding import Source
from .remedy import carries_a, thicker_wires, wire_words
from .views import Evidence, FuseView, RunView

# 33 CFR 183.455(a), read: 7 inches along the conductor, 40 inches when sheathed or enclosed all the way.
BARE_M, SHEATHED_M = 0.178, 1.016
IEC_SHEATHED_M = 3.0  # IEC 60364-4-43, 434.2.1, from memory: 3 m when a short is made unlikely
CRAFT_SHARE = 1.5  # 33 CFR 183.455(c), read: 150 % of table 5 below 50 V
CRAFT_BELOW_V = 50.0
SHOWN = 3  # names in a list before the rest is counted
SAME_SIZE = 0.01  # cross-sections this close are one size: gauges are printed rounded
# Rows of NEC 240.4(D) below 14 AWG, from memory: gauge -> largest fuse [A]
THIN_CAP_A = {"18": 7.0, "16": 10.0}
US = Source("nec-240-4", "240.4, with 240.4(D) for small conductors")
CRAFT = Source("33-cfr-183", "183.455(c)")
VEHICLE = Source("vde-0298-4", "guide currents of vehicle cable, as 433.1 of IEC 60364-4-43 asks")
IEC = Source("iec-60364-4-43", "433.1")


@record(frozen=True)
class Allowed:
    """The largest fuse that a rule book puts before a wire, what the wire carries, and why."""

    rating_a: float
    ampacity_a: float
    source: Source
    because: str


@record(frozen=True)
class Reach:
    """How far a wire may run from its source without a fuse, and what says so."""

    limit_m: float
    source: Source
    because: str


def allowed_fuse(view: RunView, rules: str) -> Allowed | None:
    """The largest fuse before a run's wire; None where its ampacity is not known."""
    if view.ampacity is None:
        return None
    stated = view.run.ampacity_a is not None or view.wire is None
    area_mm2 = float("inf") if stated else view.wire.area_mm2  # type: ignore[union-attr]
    return allowed_before(view.ampacity.value_a, area_mm2, view.source_high.value, rules)


def allowed_before(bears_a: float, area_mm2: float, voltage_v: float, rules: str) -> Allowed:
    """The largest fuse before a wire of an ampacity and a cross-section."""
    if rules == "small craft":
        if voltage_v < CRAFT_BELOW_V:
            return Allowed(CRAFT_SHARE * bears_a, bears_a, CRAFT, "150 % of what it carries, below 50 V")
        return Allowed(bears_a, bears_a, CRAFT, "what it carries, from 50 V on")
    if rules == "US":
        cap_a = small_conductor_cap_a(area_mm2)
        if cap_a < bears_a:
            return Allowed(cap_a, bears_a, US, "the cap for small conductors")
        return Allowed(bears_a, bears_a, US, "what it carries here")
    return Allowed(bears_a, bears_a, VEHICLE if rules == "vehicle" else IEC, "what it carries here")


def small_conductor_cap_a(area_mm2: float) -> float:
    """Largest fuse that the US code puts before a thin wire; infinite from 8 AWG on. [A]"""
    if area_mm2 >= gauges.awg_area_mm2("8") * (1 - SAME_SIZE):
        return float("inf")
    table = "nec_small_conductor_fuse"
    caps = THIN_CAP_A | dict(zip(words(table, "size"), numbers(table, "fuse_a"), strict=True))
    under = [size for size in caps if gauges.awg_area_mm2(size) * (1 - SAME_SIZE) <= area_mm2]
    return max((caps[size] for size in under), default=min(caps.values()))


def wire_for_fuse(view: RunView, rating_a: float, rules: str) -> Wire | None:
    """The thinnest standard wire, thicker than the run's own, that may stand behind a fuse."""
    if view.wire is None:
        return None
    for wire in thicker_wires(view.wire):
        allowed = allowed_before(carries_a(view, wire, rules), wire.area_mm2, view.source_high.value, rules)
        if allowed.rating_a >= rating_a:
            return wire
    return None


def guarded_by(evidence: Evidence, view: RunView) -> tuple[RunView, ...]:
    """The runs that the fuse in a run guards, up to the next fuses, itself first."""
    behind = [run for run in evidence.runs if run.guard is not None and run.guard.run == view.name]
    return (view, *(run for run in behind if run is not view))


def allowed_behind(evidence: Evidence, view: RunView) -> float:
    """The largest rating that every wire behind the fuse of a run allows. [A]"""
    found = []
    for run in guarded_by(evidence, view):
        allowed = None if limited(run) else allowed_fuse(run, evidence.rules)
        if allowed is not None and view.own_fuse is not None:
            found.append(allowed.rating_a * share_through(evidence, view.own_fuse, run))
    return min(found, default=float("inf"))


def wires_behind(evidence: Evidence, view: RunView, rating_a: float) -> str:
    """What to lay so that a fuse of a rating may stand in a run: "lay 16 mm² (5 AWG) or thicker (also in a -> b)"."""
    thin = []
    for run in guarded_by(evidence, view):
        share = share_through(evidence, view.own_fuse, run) if view.own_fuse else 1.0
        allowed = allowed_fuse(run, evidence.rules)
        if allowed is not None and allowed.rating_a * share < rating_a:
            thin.append((run.name, wire_for_fuse(run, rating_a / share, evidence.rules)))
    wires = [wire for _, wire in thin if wire is not None]
    size = f"{wire_words(max(wires, key=lambda wire: wire.area_mm2))} or thicker" if wires else "a thicker wire"
    names = [name for name, _ in thin]
    where = "" if not names or names[0] == view.name else f" in {names[0]}"
    return f"lay {size}{where}{others(names[1:])}"


def over_cable(evidence: Evidence, view: RunView) -> Allowed | None:
    """What the rules allow, when what guards a run is above it; else None."""
    if view.guard is None or limited(view) or fuse_left_open(evidence, view):
        return None
    allowed = allowed_fuse(view, evidence.rules)
    return allowed if allowed is not None and guarding_a(evidence, view) > allowed.rating_a else None


def fuse_left_open(evidence: Evidence, view: RunView) -> bool:
    """True when a fuse that is still to be chosen stands in a run or between it and its guard."""
    if view.run.origin_of("fuse") == "choose":
        return True
    for name in view.upstream:
        if view.guard is not None and view.guard.run in (view.name, name):
            return False
        if evidence.run(name).run.origin_of("fuse") == "choose":
            return True
    return False


def guarding_a(evidence: Evidence, view: RunView) -> float:
    """Rating of a run's guard as a current in the run: fuses of several batteries add up. [A]"""
    return view.guard.rating_a / share_through(evidence, view.guard, view) if view.guard else float("inf")


def share_through(evidence: Evidence, fuse: FuseView, view: RunView) -> float:
    """Share of a run's current that flows through a fuse nearer the source.

    A fuse that sits at one of several batteries is counted as carrying an equal part, unless all of them feed
    through it.
    """
    n_battery = len(evidence.batteries)
    if n_battery < 2 or fuse.run == view.name or evidence.run(fuse.run).upstream:
        return 1.0
    return 1.0 if feeds_alone(evidence, evidence.run(fuse.run)) else 1.0 / n_battery


def feeds_alone(evidence: Evidence, view: RunView) -> bool:
    """True when no battery reaches what lies behind a run but through it."""
    stops = {one.name for one in evidence.converters} | {one.name for one in evidence.ethernet}
    links: dict[str, list[str]] = {}
    for run in evidence.runs:
        if run is not view and run.run.wires != "negative":
            start, end = run.run.start.part, run.run.end.part
            links.setdefault(start, []).append(end)
            links.setdefault(end, []).append(start)
    near = near_part(evidence, view)
    far = view.run.end.part if view.run.start.part == near else view.run.start.part
    seen, queue = {far}, [far]
    while queue:
        part = queue.pop()
        for other in links.get(part, ()) if part not in stops or part == far else ():
            if other not in seen:
                seen.add(other)
                queue.append(other)
    return not seen & {battery.name for battery in evidence.batteries}


def reach_of(view: RunView, rules: str) -> Reach:
    """How far this run may go from its source, or from a thicker wire, before its fuse."""
    craft = Source("33-cfr-183", "183.455(a)")
    if not enclosed(view):
        return Reach(BARE_M, craft, "a wire that nothing encloses")
    if rules == "IEC":
        return Reach(IEC_SHEATHED_M, Source("iec-60364-4-43", "434.2.1"), "a wire enclosed all the way")
    return Reach(SHEATHED_M, craft, "a wire enclosed all the way")


def enclosed_reach_m(rules: str) -> float:
    """How far a run may go without a fuse when it is enclosed all the way. [m]"""
    return IEC_SHEATHED_M if rules == "IEC" else SHEATHED_M


def near_part(evidence: Evidence, view: RunView) -> str:
    """The part at the end of a run that lies nearer its source, whichever way round it is written."""
    ends = (view.run.start.part, view.run.end.part)
    if view.fed_by in ends:
        return view.fed_by
    if view.upstream:
        before = evidence.run(view.upstream[0]).run
        return next((end for end in ends if end in (before.start.part, before.end.part)), ends[0])
    return ends[0]


def enclosed(view: RunView) -> bool:
    """True when the builder says that the run is sheathed, or laid in conduit or trunking."""
    told = view.run.origin_of("laid") == "stated" and view.run.laid.method in ("in conduit", "in trunking")
    return view.run.sheathed == "yes" or told


def limited(view: RunView) -> bool:
    """True when the source of a run cannot deliver more than its wire bears: no fuse is needed for it."""
    if view.fed_kind == "ethernet power source":
        return True  # a port limits its own current
    if view.fault_near is None:
        return False
    if view.ampacity is None:
        return view.fault_near.limited_by != "battery"
    return view.fault_near.largest_a <= view.ampacity.value_a


def from_battery(view: RunView) -> bool:
    """True for a positive wire that nothing but a battery feeds."""
    return view.fed_kind == "battery" and view.run.wires != "negative"


def fuse_upstream(evidence: Evidence, view: RunView) -> FuseView | None:
    """The next fuse towards the source, the run's own not counted."""
    return next((own for name in view.upstream if (own := evidence.run(name).own_fuse) is not None), None)


def bare_before_m(evidence: Evidence, view: RunView) -> float:
    """Length of wire between the source and the start of a run, when no fuse stands before it. [m]"""
    return sum(evidence.run(name).run.length_m for name in view.upstream)


def bare_runs(evidence: Evidence) -> Iterator[RunView]:
    """Runs from a battery that no fuse protects and that are too long for it, the first of each stretch.

    A run passes when a fuse stands somewhere behind it and it is short enough to do without up to there.
    """
    bare = [view for view in evidence.runs if view.guard is None and from_battery(view)]
    blamed: set[str] = set()
    for view in sorted(bare, key=lambda view: len(view.upstream)):
        if blamed.intersection(view.upstream) or limited(view) or view.fault_near is None:
            continue
        if fuse_left_open(evidence, view):
            continue
        behind = [evidence.run(name) for name in view.downstream]
        fused_behind = any(run.own_fuse is not None or fuse_left_open(evidence, run) for run in behind)
        if fused_behind and view.run.length_m <= reach_of(view, evidence.rules).limit_m:
            continue
        blamed.add(view.name)
        yield view


def chains(failing: Iterable[RunView]) -> Iterator[tuple[RunView, ...]]:
    """Failing runs gathered by their cause: each first one after its fuse, with those behind it.

    A run that follows another failing run behind the same fuse fails for the same reason.
    """
    found = list(failing)
    names = {(view.name, _fuse_name(view)) for view in found}
    for head in found:
        if any((name, _fuse_name(head)) in names for name in head.upstream):
            continue
        behind = [v for v in found if head.name in v.upstream and _fuse_name(v) == _fuse_name(head)]
        yield (head, *behind)


def _fuse_name(view: RunView) -> str:
    return view.guard.run if view.guard else ""


def others(names: Iterable[str]) -> str:
    """Names to add in brackets: " (also a, b and c)", three at most and how many more; nothing for none."""
    listed = list(dict.fromkeys(names))
    if not listed:
        return ""
    shown = listed[:SHOWN] if len(listed) > SHOWN + 1 else listed
    more = [f"{len(listed) - SHOWN} more"] if len(shown) < len(listed) else []
    *first, last = shown + more
    return f" (also {', '.join(first)} and {last})" if first else f" (also {last})"
