"""Solve a site in every case: circuit, cases, corners and operating points together."""

from collections.abc import Mapping
from dataclasses import field
from typing import TYPE_CHECKING

from ..site.model import Site
from ..site.record import record
from ..wiring.ampacity import Laid, ampacity_a
from .cases import Case, cases_of
from .compile import Circuit, compile_site
from .corner import Figures, corner_of, figures
from .elements import Corner, OperatingPoint
from .solve import solve_all

if TYPE_CHECKING:  # at work only loaded for a site with a cabinet
    from .cabinet.climate import Climate

ROUNDING = 9  # decimals of what is judged: a value that equals its limit must not pass it by arithmetic


@record(frozen=True)
class Operation:
    """A site solved: `corners` and `points` in the order of `cases`."""

    site: Site
    circuit: Circuit
    known: Figures
    cases: tuple[Case, ...]
    corners: tuple[Corner, ...]
    points: tuple[OperatingPoint, ...]
    rise_k: Mapping[int, float]
    climates: Mapping[str, "Climate"] = field(default_factory=dict)  # zone of a cabinet -> what is known of its air

    def point(self, name: str) -> OperatingPoint:
        """The operating point of the case of that name. Raises KeyError."""
        for case, point in zip(self.cases, self.points, strict=True):
            if case.name == name:
                return point
        raise KeyError(name)

    def voltage_v(self, point: OperatingPoint, name: str) -> float:
        """Voltage between the two wires at a point of the map. [V]"""
        circuit = self.circuit
        volts = point.voltage_v[circuit.positive[name]] - point.voltage_v[circuit.negative[name]]
        return round(volts, ROUNDING)

    def run_a(self, point: OperatingPoint, number: int) -> float:
        """Current in a run, positive from its written start to its written end. [A]"""
        branches = self.circuit.run_branches[number]
        return round(point.branch_a[branches[0]], ROUNDING) if branches else 0.0


def operate(site: Site) -> Operation:
    """Compile a site and solve all its cases; copper runs warm with its own current in the hot ones.

    Air that section cabinet makes is worked out first, and stands in the site of the answer.
    """
    site, climates = with_settled_air(site)
    circuit = compile_site(site)
    known = figures(circuit)
    cases = cases_of(site)
    warm = [case for case in cases if case.battery == "low" and case.temperature == "hot" and case.kind == "busy"]
    first = solve_all(circuit.network, tuple(corner_of(known, case, {}) for case in warm))
    rise = _rises(circuit, first)
    corners = tuple(corner_of(known, case, rise) for case in cases)
    return Operation(site, circuit, known, cases, corners, solve_all(circuit.network, corners), rise, climates)


def with_settled_air(site: Site) -> "tuple[Site, Mapping[str, Climate]]":
    """The site with the air of its cabinets worked out; as it is when that was done, or when it has none."""
    if not site.cabinets or site.local_air:
        return site, {}
    from .cabinet.loop import settled

    return settled(site)


def _rises(circuit: Circuit, points: tuple[OperatingPoint, ...]) -> dict[int, float]:
    """How much warmer each run's copper is than its air: the limit's rise times the square of the load share. [K]"""
    rises = {}
    for number, path in circuit.paths.items():
        run, branches = path.run, circuit.run_branches[number]
        if path.wire is None or not branches:
            continue
        current = max((abs(point.branch_a[branches[0]]) for point in points), default=0.0)
        air = path.air.high
        if air >= path.limit_c:
            continue
        carries = (
            run.ampacity_a
            or ampacity_a(path.wire, Laid(run.laid.method, run.laid.circuits), air, circuit.site.about.rules).value_a
        )
        if carries > 0:
            rises[number] = (path.limit_c - air) * min(1.0, (current / carries) ** 2)
    return rises
