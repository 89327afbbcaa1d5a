"""The resistance of a run: its conductors, joints, fuse and way, each with where it came from."""

from ..parts.wire import Wire, read_wire
from ..quantity.span import Span
from ..site.kinds import Distribution
from ..site.model import Run, Site
from ..site.place import Origin
from ..site.record import record
from ..wiring.conductor import temperature_factor
from ..wiring.fuse_heat import cold_resistance_ohm, hot_resistance_ohm

JOINT_OHM = 0.2e-3  # one crimped or screwed joint, the pole it is on; common practice, no source
JACK_OHM = 20e-3  # one contact of a network jack, from memory of IEC 60603-7
PLACEHOLDER = "16 mm2"  # stands in for a wire left open, thick enough to raise no fault by itself


@record(frozen=True)
class Path:
    """What a run puts in the way of current. Both conductors together unless `share` is one half."""

    run: Run
    wire: Wire | None
    conductor_ohm: float  # at 20 °C, largest the standard allows
    conductor_best_ohm: float  # at 20 °C, least
    joint_ohm: float
    fuse_hot_ohm: float
    fuse_cold_ohm: float
    metal: str
    limit_c: float  # what the insulation bears
    air: Span
    origins: tuple[tuple[str, Origin], ...]

    def most_ohm(self, conductor_c: float) -> float:
        """Largest resistance with the conductor at a temperature."""
        return self.conductor_ohm * temperature_factor(conductor_c, self.metal) + self.joint_ohm + self.fuse_hot_ohm

    def least_ohm(self, conductor_c: float) -> float:
        """Least resistance, good joints and a cold fuse, with the conductor at a temperature."""
        factor = temperature_factor(conductor_c, self.metal)
        return self.conductor_best_ohm * factor + self.fuse_cold_ohm

    @property
    def positive_share(self) -> float:
        """Share of the conductor resistance that lies in the positive wire when the return is apart."""
        return 0.5 if self.run.wires == "both" else 1.0


def path_of(site: Site, run: Run) -> Path:
    """Work out a run's resistances and how each was known."""
    wire = run.wire
    left_open = run.origin.get("wire", Origin("missing")).how == "choose"
    if wire is None and run.cable is None:
        wire_used = read_wire(PLACEHOLDER)
    else:
        wire_used = wire  # type: ignore[assignment]
    most, best, origin = _conductor(run, wire_used, left_open)
    joints, joint_origin = _joints(site, run)
    fuse_hot = hot_resistance_ohm(run.fuse) if run.fuse else 0.0
    fuse_cold = cold_resistance_ohm(run.fuse) if run.fuse else 0.0
    if run.resistance_ohm is not None:
        joints = fuse_hot = fuse_cold = 0.0
    metal = wire.metal if wire else "copper"
    limit_c = wire.insulation_c if wire else 60.0
    return Path(
        run,
        wire,
        most,
        best,
        joints,
        fuse_hot,
        fuse_cold,
        metal,
        limit_c,
        air_along(site, run),
        (("conductor", origin), ("joints", joint_origin)),
    )


def air_along(site: Site, run: Run) -> Span:
    """Coldest and hottest air along a run: its own zone's, or the air at both ends. [°C]"""
    spans = [site.air_of(run.zone)] if run.zone else [site.air_at(run.start.part), site.air_at(run.end.part)]
    low, high = min(span.low for span in spans), max(span.high for span in spans)
    return Span(low, (low + high) / 2, high)


def _conductor(run: Run, wire: Wire | None, left_open: bool) -> tuple[float, float, Origin]:
    """Largest and least conductor resistance at 20 °C, the conductors of this run together. [Ω]"""
    if run.resistance_ohm is not None:
        return run.resistance_ohm, run.resistance_ohm, Origin("stated", "measured, whole run")
    if run.cable is not None:
        # Two wires of a pair side by side out, two back: the loop is one conductor's resistance; four pairs halve it.
        share = 2 / run.pairs
        km = run.length_m * share / 1000
        return (
            run.cable.conductor_ohm_per_km * km,
            run.cable.conductor_best_ohm_per_km * km,
            Origin("table", run.cable.name),
        )
    assert wire is not None
    conductors = 2 if run.wires == "both" else 1
    km = conductors * run.length_m / 1000
    if run.wire_ohm_per_km is not None:
        value = run.wire_ohm_per_km * km
        return value, value, Origin("stated", "Ω/km given")
    if left_open:
        note = f"not yet chosen; {PLACEHOLDER} stands in"
        return wire.resistance_20_ohm_per_km * km, wire.resistance_20_best_ohm_per_km * km, Origin("choose", note)
    return (wire.resistance_20_ohm_per_km * km, wire.resistance_20_best_ohm_per_km * km, Origin("table", wire.source))


def _joints(site: Site, run: Run) -> tuple[float, Origin]:
    """Joints at both ends, both poles, and the way of a block. [Ω]"""
    poles = 2 if run.wires == "both" else 1
    way = sum(
        part.contact_ohm
        for end in (run.start, run.end)
        if end.way is not None
        and run.wires != "negative"
        and isinstance(part := site.parts.get(end.part), Distribution)
    )
    if run.joint_ohm is not None:
        return run.joint_ohm * 2 * poles + way, Origin("stated", "each joint")
    if run.cable is not None:
        return JACK_OHM * 2 * poles / max(run.pairs, 1) + way, Origin("assumed", "20 mΩ a network jack contact")
    known = [end.contact_ohm for end in run.ends if end is not None]
    if known:
        each = sum(known) + JOINT_OHM * (2 - len(known))
        return each * poles + way, Origin("table", "plugs and terminals at its ends")
    return JOINT_OHM * 2 * poles + way, Origin("assumed", "0.2 mΩ a joint")
