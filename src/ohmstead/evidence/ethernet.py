"""One view an Ethernet power source, with a view of each powered port."""

from ..network.cases import Case
from ..network.elements import OperatingPoint
from ..network.operate import Operation
from ..network.points import Way
from ..site.kinds import Device, EthernetSource
from ..wiring.ethernet import reserved_w
from .chain import Chain
from .tally import NOTHING, Tally
from .views import EthernetView, PortView


def ethernet_views(operation: Operation, chain: Chain, tally: Tally) -> tuple[EthernetView, ...]:
    """Views of all Ethernet power sources, in the order of the file."""
    return tuple(
        _view(operation, chain, tally, part)
        for part in operation.site.parts.values()
        if isinstance(part, EthernetSource)
    )


def _view(operation: Operation, chain: Chain, tally: Tally, part: EthernetSource) -> EthernetView:
    fed = chain.feeder_of(part.name).kind != "nothing"
    ports = tuple(
        _port(operation, tally, way, device)
        for way in chain.ways.values()
        if way.near_end.part == part.name
        and way.near == f"{part.name} out"
        and isinstance(device := operation.site.parts.get(way.far_end.part), Device)
    )
    volts = tally.volts(f"{part.name} in")

    def alive(case: Case, point: OperatingPoint) -> bool:
        return fed and volts(point) > 1.0

    return EthernetView(
        part,
        part.name,
        part.place,
        tally.lowest(volts, alive),
        tally.highest(volts) if fed else None,
        tuple(sorted(ports, key=lambda port: port.port)),
        sum(port.port_w for port in ports),
        sum(port.reserved_w for port in ports),
    )


def _port(operation: Operation, tally: Tally, way: Way, device: Device) -> PortView:
    path = operation.circuit.paths[way.run.number]
    index = operation.circuit.load_of[device.name]
    draw = max((d.power_w.high for d in device.draws), default=0.0)
    current = tally.highest(lambda point: abs(operation.run_a(point, way.run.number)))

    def takes(case: Case, point: OperatingPoint) -> bool:
        return device.name in case.states and point.load_on[index]

    loop = path.most_ohm(path.air.high)
    events = [event.voltage_v for _, point in tally.pairs for event in point.events if event.element == device.name]
    device_v = tally.lowest(tally.volts(device.name), takes) or NOTHING
    return PortView(
        port=way.near_end.way or 0,
        run=way.run.name,
        device=device,
        loop_ohm=loop,
        device_v=device_v,
        device_w=draw,
        port_w=draw + current.value**2 * loop if not events else draw,
        reserved_w=reserved_w(device.class_ or 0) if device.over == "ethernet" else draw,
        port_v=tally.lowest(tally.volts(way.near), takes) or NOTHING,
        current_a=current.value,
    )
