"""Devices on powered ports: what kind of power they want, and what their class means."""

from ..site.kinds import Device, EthernetSource
from .views import DeviceView, Evidence

# Highest class that a port of each type serves: IEEE 802.3, clauses 33 and 145.
HIGHEST_CLASS = {"af": 3, "at": 4, "bt3": 6, "bt4": 8}


def device_class(device: Device) -> int:
    """The class a port sees: as stated, and class 0 for a device that shows none."""
    return device.class_ if device.class_ is not None else 0


def fits(source: EthernetSource, device: Device) -> bool:
    """True when source and device both keep to the standard, or both do without it."""
    return device.over == ("passive ethernet" if source.standard == "passive" else "ethernet")


def device_named(evidence: Evidence, name: str) -> DeviceView | None:
    """The view of a device, if there is one of that name."""
    return next((view for view in evidence.devices if view.name == name), None)
