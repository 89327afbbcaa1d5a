"""How values are printed."""

import pytest

from ohmstead.quantity.read import read_span
from ohmstead.quantity.show import (
    show,
    show_area_both,
    show_length_both,
    show_span,
    show_temperature_both,
)
from ohmstead.quantity.span import Span

SHOWN = [
    (1.6, "length", "1.6 m"),
    (0.4, "length", "0.4 m"),
    (0.0055, "length", "5.5 mm"),
    (1234.0, "length", "1.23 km"),
    (0.012, "current", "12 mA"),
    (4.2e-5, "current", "42 µA"),
    (0.0026, "resistance", "2.6 mΩ"),
    (4.7e6, "resistance", "4.7 MΩ"),
    (25.600000000000001, "voltage", "25.6 V"),
    (0.1 + 0.2, "voltage", "300 mV"),
    (0.9996, "voltage", "1 V"),
    (999.6, "power", "1 kW"),
    (0.9994, "voltage", "999 mV"),
    (0.0, "voltage", "0 V"),
    (-0.0, "voltage", "0 V"),
    (-0.35, "voltage", "-350 mV"),
    (100.0, "charge", "100 Ah"),
    (0.0022, "capacitance", "2200 µF"),
    (0.5, "capacitance", "0.5 F"),
    (13.3, "resistance per length", "13.3 Ω/km"),
    (0.153, "resistance per length", "0.153 Ω/km"),
    (2.5, "area", "2.5 mm²"),
    (-8.0, "temperature", "-8 °C"),
    (1e-14, "temperature", "0 °C"),
    (15.0, "temperature difference", "15 K"),
    (40.0, "time", "40 s"),
    (300.0, "time", "5 min"),
    (7200.0, "time", "2 h"),
    (86400.0, "time", "24 h"),
    (259200.0, "time", "3 d"),
    (0.0, "time", "0 s"),
    (0.93, "share", "93 %"),
    (0.0523, "share", "5.23 %"),
    (4.0, "count", "4"),
    (2.5, "count", "2.5"),
    (1.25, "number", "1.25"),
    (123456.0, "fuse heat", "123456 A²s"),
    (0.2, "mass", "200 g"),
    (float("inf"), "resistance", "∞ Ω"),
    (float("nan"), "voltage", "nan V"),
]


@pytest.mark.parametrize("value, dimension, text", SHOWN)
def test_show(value: float, dimension: str, text: str) -> None:
    assert show(value, dimension) == text


def test_digits() -> None:
    assert show(13.2847, "voltage", 4) == "13.28 V"
    assert show(13.2847, "voltage", 2) == "13 V"
    assert show(132.847, "voltage", 2) == "133 V"


@pytest.mark.parametrize("text, dimension", [
    ("19 V", "voltage"), ("10..32 V", "voltage"), ("19 V ± 2 %", "voltage"), ("19 V ± 0.3 V", "voltage"),
    ("19 V +5 % -2 %", "voltage"), ("24.25 V", "voltage"), ("-8..24 °C", "temperature"),
    ("25 °C ± 3 K", "temperature"), ("0 °C ± 3 K", "temperature"), ("0..120 W", "power"),
    ("20..80 %", "share"), ("2200 µF ± 20 %", "capacitance"),
    ("20.55..20.6 V", "voltage"), ("-5 V ± 10 %", "voltage"),
    ("2..4", "count"), ("5 ± 1", "number"), ("24.24 V +10 mV -0.5 V", "voltage"),
])  # fmt: skip
def test_span_is_shown_as_it_was_written(text: str, dimension: str) -> None:
    shown = show_span(read_span(text, dimension), dimension)
    assert shown == text.replace("+10 mV", "+0.01 V")


def test_computed_span_is_shown_as_a_range() -> None:
    assert show_span(Span(18.62, 19.0, 19.38), "voltage") == "18.6..19.4 V"
    assert show_span(Span(12.3012, 12.3021, 12.3034), "voltage") == "12.301..12.303 V"
    assert show_span(Span(5.0, 5.0, 5.0), "current") == "5 A"


def test_both_units() -> None:
    assert show_length_both(1.6) == "1.6 m (5.2 ft)"
    assert show_length_both(38.0) == "38 m (125 ft)"
    assert show_length_both(0.178) == "0.178 m (7 in)"
    assert show_area_both(2.5) == "2.5 mm² (13 AWG)"
    assert show_area_both(53.5) == "53.5 mm² (1/0 AWG)"
    assert show_area_both(120.0) == "120 mm² (237 kcmil)"
    assert show_area_both(0.0) == "0 mm²"
    assert show_temperature_both(25.0) == "25 °C (77 °F)"
    assert show_temperature_both(-40.0) == "-40 °C (-40 °F)"
