"""One value that fits for every key, for messages, the schema and the docs."""

from .declare import Field

_BY_KEY = {
    "name": "Skerry hide",
    "latitude": "57.6",
    "longitude": "-7.5",
    "elevation": "12 m",
    "timezone": "Europe/London",
    "clear within": "5 s",
    "drop limit": "5 %",
    "cells": "8",
    "in parallel": "2",
    "slow time": "60 s",
    "charging": "28.4 V",
    "equalising": "28.8 V",
    "cut-off": "20.8 V",
    "pairs": "2",
    "fuse at": "0.1 m",
    "on|text": "lamps",
    "on|number:voltage": "26.2 V",
    "off": "24.2 V",
    "rating|number:current": "150 A",
    "rating|number:power": "120 W",
    "current": "30 A",
    "current limit": "2.4 A",
    "power": "900 W",
    "start-up": "30 W",
    "slow resistance": "1.2 mΩ",
    "because": "dim is fine here",
    "own use": "4 W",
    "delay": "10 s",
    "output": "54 V ± 1 %",
    "full until": "50 °C",
    "nothing at": "85 °C",
    "class": "3",
    "warm limit": "45 °C",
    "ways": "8",
    "ports": "5",
    "budget": "65 W",
    "contact": "0.5 mΩ",
    "joint": "0.2 mΩ",
    "total": "100 A",
    "per way": "30 A",
    "ampacity": "120 A",
    "holder": "30 A",
    "inductance": "10 µH",
    "capacity": "230 Ah",
}
_BY_FORM = {
    "span:voltage": "20..32 V",
    "zone": "hide",
    "part or battery": "bank",
    "text": "some words",
    "slug": "drop-on-path",
    "date": "2028-01-01",
    "stud": "M8",
    "air": "-8..24 °C",
    "power": "24 W",
    "draws": "{idle: 7 W, recording: 24 W, start-up: 55 W for 25 s}",
    "duty": "{recording: 03:30-09:30, idle: rest}",
    "idle": "12 mA at 25.6 V",
    "efficiency": "{10 %: 0.86, 50 %: 0.94, 100 %: 0.92}",
    "lockout": "{off: 18 V, on: 19 V}",
    "limits": "{discharge: 120 A, charge: 100 A, short-trip: 500 A}",
    "open circuit": "{full: 27.2 V, nominal: 26.3 V, cut-off: 22 V}",
    "fuse window": "{200 %: 0.2..5 s}",
    "endpoint": "fuse block / 3",
    "wire": "2.5 mm2",
    "ethernet cable": "Cat5e 24 AWG",
    "fuse": "10 A blade",
    "end": "barrel 5.5x2.1 centre positive",
    "ends": "[ferrule, ring M8]",
    "laid": "in trunking with 5",
}


def example(field: Field) -> str:
    """A value as the builder would write it behind the key of this declaration."""
    form, _, rest = field.form.partition(":")
    if form == "word":
        return rest.split("|")[0]
    found = _BY_KEY.get(field.key) or _BY_KEY.get(f"{field.key}|{field.form}") or _BY_FORM.get(field.form)
    if found:
        return found
    from ..quantity.units import DIMENSIONS

    return DIMENSIONS[rest].examples[0]
