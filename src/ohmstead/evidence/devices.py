"""One view a device."""

from ..network.cases import Case
from ..network.corner import system_v
from ..network.duty import lasting, lightest, may_be_off, mean_hours
from ..network.elements import Event, OperatingPoint
from ..network.operate import Operation
from ..network.points import TWO_SIDED
from ..site.kinds import Device
from .chain import Chain
from .tally import NOTHING, Tally
from .views import DeviceView, Worst

BROWN = ("browned out", "collapsed")


def device_views(operation: Operation, chain: Chain, tally: Tally) -> tuple[DeviceView, ...]:
    """Views of all devices, in the order of the file."""
    return tuple(
        _view(operation, chain, tally, part) for part in operation.site.parts.values() if isinstance(part, Device)
    )


def _view(operation: Operation, chain: Chain, tally: Tally, device: Device) -> DeviceView:
    name = device.name
    feeder = chain.feeder_of(name)
    fed = feeder.kind != "nothing"
    own = _events(tally, name)
    first = [(case, event) for case, event in own if not earlier(chain, case_point(tally, case), name)]
    down = min((Worst(event.voltage_v, case) for case, event in first), key=lambda worst: worst.value, default=None)
    victims = [earlier(chain, case_point(tally, case), name) for case, _ in own]
    lowest = tally.lowest(tally.volts(name), lambda case, point: fed and _draws(operation, case, point, name))
    lowest = min((w for w in (lowest, down) if w is not None), key=lambda worst: worst.value, default=None)
    source_point = chain.point_of(name) if not fed else _feeder_point(chain, feeder.name)
    drop = (
        tally.highest_lasting(
            lambda p: (
                max(0.0, operation.voltage_v(p, source_point) - operation.voltage_v(p, name))
                if _on(operation, p, name)
                else 0.0
            )
        )
        if fed
        else NOTHING
    )
    window = device.input_v
    hours = mean_hours(device)
    return DeviceView(
        device=device,
        name=name,
        place=device.place,
        fed_by=feeder.name,
        path=tuple(chain.name_of[n] for n in chain.path_to(name)),
        supply_v=chain.supply_v(feeder, system_v(operation.known)),
        low_v=window.low if window else device.cutoff_v,
        high_v=window.high if window else None,
        lowest=lowest,
        highest=tally.highest(tally.volts(name)) if fed else None,
        browned_out=down,
        victim_of=next((v for v in victims if v), "") if own and not first else "",
        path_drop=drop,
        ambient_c=operation.site.air_at(device.name).high,
        daily_wh=sum(hours.get(draw.state, 0.0) * draw.power_w.nominal for draw in lasting(device)),
        idle_w=lightest(device).power_w.nominal if lasting(device) and not may_be_off(device) else 0.0,
    )


def _feeder_point(chain: Chain, feeder: str) -> str:
    return f"{feeder} out" if isinstance(chain.site.parts.get(feeder), TWO_SIDED) else feeder


def _events(tally: Tally, name: str) -> list[tuple[str, Event]]:
    return [
        (case.name, event)
        for case, point in tally.pairs
        for event in point.events
        if event.element == name and event.kind in BROWN
    ]


def case_point(tally: Tally, case: str) -> OperatingPoint:
    """The operating point of a case."""
    found = tally.named(case)
    assert found is not None
    return found[1]


def earlier(chain: Chain, point: OperatingPoint, name: str) -> str:
    """The source above a part that had already failed in this case; empty when the part failed first."""
    above = chain.sources_above(name)
    return next((event.element for event in point.events if event.element in above), "")


def _on(operation: Operation, point: OperatingPoint, name: str) -> bool:
    return point.load_on[operation.circuit.load_of[name]]


def _draws(operation: Operation, case: Case, point: OperatingPoint, name: str) -> bool:
    """True when the device takes power in this case and was not taken off."""
    return name in case.states and _on(operation, point, name)
