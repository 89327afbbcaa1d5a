"""Everything rules look at, gathered from one solved site."""

from typing import TYPE_CHECKING

from ..network.corner import system_v
from ..network.margin import loading_margin
from ..network.operate import Operation
from ..network.points import TWO_SIDED
from ..site.kinds import Busbar, Charger, Disconnect, Distribution, Part, Switch
from ..site.model import Run, Site
from ..site.place import Place
from .batteries import battery_views
from .chain import Chain, chain_of
from .converters import converter_views
from .day import day_use
from .devices import device_views
from .ethernet import ethernet_views
from .faults import fault_table
from .joins import joins_of, touched
from .passing import block_views, carriers, disconnect_views
from .protect import position_assumed
from .runs import run_views
from .tally import Tally
from .views import ConverterView, Evidence, Margin

if TYPE_CHECKING:
    from .arrays import ArrayView
    from .cabinets import CabinetView
    from .plates import PlateView


def gather(operation: Operation) -> Evidence:
    """All views of a solved site."""
    site = operation.site
    chain, tally, table = chain_of(operation.circuit), Tally(operation), fault_table(operation)
    converters = converter_views(operation, chain, tally)
    volts = [abs(v) for point in operation.points for v in point.voltage_v]
    return Evidence(
        rules=site.about.rules,
        clear_within_s=site.about.clear_within_s,
        drop_limit_fraction=site.about.drop_limit_fraction,
        touch=site.about.outlets_touchable,
        system_v=system_v(operation.known),
        highest_v=max(volts, default=0.0),
        runs=run_views(operation, chain, tally, table),
        data_runs=tuple(run for run in site.runs if run.carries == "data"),
        devices=device_views(operation, chain, tally),
        converters=converters,
        batteries=battery_views(operation, chain, tally, table),
        ethernet=ethernet_views(operation, chain, tally),
        blocks=block_views(operation, chain, tally, table),
        disconnects=disconnect_views(operation, chain, tally),
        switches=carriers(operation, chain, tally, Switch),
        busbars=carriers(operation, chain, tally, Busbar),
        chargers=carriers(operation, chain, tally, Charger),
        joins=joins_of(site, chain),
        loose=tuple(part for part in site.parts.values() if part.name not in touched(site)),
        unfed=_unfed(site, chain),
        open_choices=_open_choices(site),
        margin=_margin(operation),
        day=day_use(operation, chain),
        drop_limit_how=_how(site, "drop_limit_fraction"),
        at_m_assumed=tuple(way.run.name for way in chain.ways.values() if position_assumed(site, way)),
        supplied=chain.supplied(),
        arrays=_arrays(site),
        plate=_plate(site),
        cabinets=_cabinets(operation, converters),
    )


def _cabinets(operation: Operation, converters: tuple[ConverterView, ...]) -> tuple["CabinetView", ...]:
    if not operation.climates:
        return ()
    from .cabinets import cabinet_views

    return cabinet_views(operation, {view.name: view.output_w.value for view in converters})


def _plate(site: Site) -> "PlateView | None":
    if site.plate is None:
        return None
    from .plates import plate_view

    return plate_view(site)


def _arrays(site: Site) -> tuple["ArrayView", ...]:
    if not site.arrays:
        return ()
    from .arrays import array_views

    return array_views(site)


def _how(site: Site, attribute: str) -> str:
    """How a value of the section `site` came to be known: "stated" or "assumed"."""
    origin = site.about.origin.get(attribute)
    return "stated" if origin is not None and origin.how == "stated" else "assumed"


def _unfed(site: Site, chain: Chain) -> tuple[Part, ...]:
    """Parts that runs touch but no source reaches."""
    reached = chain.circuit.map.feeder
    names = touched(site) - _returns(site)
    found = []
    for name, part in site.parts.items():
        point = f"{name} in" if isinstance(part, TWO_SIDED) else name
        if name in names and not isinstance(part, Charger) and reached[point].kind == "nothing":
            found.append(part)
    return tuple(found)


def _returns(site: Site) -> set[str]:
    """Bars and switches that only negative wires meet: nothing has to feed them."""
    kinds = Busbar | Distribution | Switch | Disconnect
    carrying = {name for name, part in site.parts.items() if isinstance(part, kinds)}
    positive = {end.part for run in site.runs if run.wires != "negative" for end in (run.start, run.end)}
    return carrying - positive


def _open_choices(site: Site) -> tuple[tuple[str, str, Place], ...]:
    """Whatever the builder left open with `choose`."""
    found = []
    subjects: list[Part | Run] = [*site.parts.values(), *site.runs]
    for subject in subjects:
        for attribute, origin in subject.origin.items():
            if origin.how == "choose":
                found.append((subject.name, attribute.removesuffix("_w"), origin.place or subject.place))
    for cabinet in site.cabinets.values():
        for thing in (cabinet, cabinet.fan, cabinet.filter):
            for attribute, origin in getattr(thing, "origin", {}).items():
                if origin.how == "choose":
                    key = thing.__dataclass_fields__[attribute].metadata["field"].key  # type: ignore[union-attr]
                    found.append((cabinet.name, key, origin.place or cabinet.place))
    return tuple(found)


def _margin(operation: Operation) -> Margin | None:
    """The lesser loading margin of two low cases: the one with most power asked for hours, and at a start."""
    heaviest: dict[bool, tuple[float, float, int]] = {}
    for index, (case, corner) in enumerate(zip(operation.cases, operation.corners, strict=True)):
        if case.battery == "low" and case.kind not in ("bare", "idle") and corner.source_v:
            asked, given = sum(load.power_w for load in corner.loads), sum(operation.points[index].source_a)
            heaviest[case.lasts] = max(heaviest.get(case.lasts, (-1.0, 0.0, 0)), (asked, given, index))
    margins = []
    for _, _, index in heaviest.values():
        found = loading_margin(operation.circuit.network, operation.corners[index])
        margins.append(Margin(found.factor, found.element, operation.cases[index].name))
    return min(margins, key=lambda margin: margin.factor, default=None)
