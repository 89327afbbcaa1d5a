"""What a builder may write as one value."""

import pytest

from ohmstead.quantity.read import read_number, read_span

SAME = [
    # text, dimension, value in the base unit
    ("12 V", "voltage", 12.0),
    ("12V", "voltage", 12.0),
    ("  12   V ", "voltage", 12.0),
    ("12\u00a0V", "voltage", 12.0),
    ("12\u202fV", "voltage", 12.0),
    ("12\u2009V", "voltage", 12.0),
    ("12 v", "voltage", 12.0),
    ("48 VDC", "voltage", 48.0),
    ("48 V DC", "voltage", 48.0),
    ("350 mV", "voltage", 0.35),
    ("+5 A", "current", 5.0),
    ("5 a", "current", 5.0),
    ("10 w", "power", 10.0),
    ("1.2 kW", "power", 1200.0),
    ("5.9 kWh", "energy", 5900.0),
    ("230 Ah", "charge", 230.0),
    (".5 m", "length", 0.5),
    ("1e3 m", "length", 1000.0),
    ("1.5E-2 m", "length", 0.015),
    ("5 ft", "length", 1.524),
    ("5'", "length", 1.524),
    ("5\u2032", "length", 1.524),
    ('7"', "length", 0.1778),
    ("5' 3\"", "length", 1.6002),
    ("5 ft 3 in", "length", 1.6002),
    ("2.5 mm2", "area", 2.5),
    ("2.5 mm²", "area", 2.5),
    ("2.5mm^2", "area", 2.5),
    ("2,5 sqmm", "area", 2.5),
    ("2.6 mΩ", "resistance", 0.0026),
    ("2.6 m\u2126", "resistance", 0.0026),
    ("2.6 mohm", "resistance", 0.0026),
    ("1 MΩ", "resistance", 1e6),
    ("1 Mohm", "resistance", 1e6),
    ("13.3 ohm/km", "resistance per length", 13.3),
    ("13.3 mΩ / m", "resistance per length", 13.3),
    ("2200 µF", "capacitance", 0.0022),
    ("2200 \u03bcF", "capacitance", 0.0022),
    ("2200 uF", "capacitance", 0.0022),
    ("22 µH", "inductance", 22e-6),
    ("-8 °C", "temperature", -8.0),
    ("\u22128 °C", "temperature", -8.0),
    ("–8 °C", "temperature", -8.0),
    ("25 C", "temperature", 25.0),
    ("25 ℃", "temperature", 25.0),
    ("25 ºC", "temperature", 25.0),
    ("77 °F", "temperature", 25.0),
    ("300 K", "temperature", 26.85),
    ("15 K", "temperature difference", 15.0),
    ("27 °F", "temperature difference", 15.0),
    ("40 s", "time", 40.0),
    ("5 min", "time", 300.0),
    ("2 h", "time", 7200.0),
    ("1 d", "time", 86400.0),
    ("93 %", "share", 0.93),
    ("0.93", "share", 0.93),
    ("0,93", "share", 0.93),
    ("1", "share", 1.0),
    ("8", "count", 8.0),
    ("010", "count", 10.0),
    ("1.25", "number", 1.25),
    ("1e3", "number", 1000.0),
    ("120 A²s", "fuse heat", 120.0),
    ("120 A2s", "fuse heat", 120.0),
    ("7 lb", "mass", 3.17514659),
]
COMMAS = [
    ("1,6 m", 1.6),
    ("1,60 m", 1.6),
    ("1,6000 m", 1.6),
    ("0,125 m", 0.125),
    (",5 m", 0.5),
    ("1600,125 m", 1600.125),
    ("1,6e1 m", 16.0),
    ("1.600 m", 1.6),
]


@pytest.mark.parametrize("text, dimension, value", SAME)
def test_one_value(text: str, dimension: str, value: float) -> None:
    assert read_number(text, dimension) == pytest.approx(value, rel=1e-15)
    span = read_span(text, dimension)
    assert span.is_exact and span.nominal == read_number(text, dimension)


@pytest.mark.parametrize("text, value", COMMAS)
def test_decimal_comma(text: str, value: float) -> None:
    assert read_number(text, "length") == value


@pytest.mark.parametrize("text", ["10 AWG", "10AWG", "AWG 10", "10 awg", "#10 AWG"])
def test_gauge_as_area(text: str) -> None:
    assert read_number(text, "area") == pytest.approx(5.261, abs=5e-4)


@pytest.mark.parametrize("text", ["4/0 AWG", "AWG 4/0", "0000 AWG"])
def test_thick_gauge_as_area(text: str) -> None:
    assert read_number(text, "area") == pytest.approx(107.2, abs=0.05)


def test_a_decimal_prefix_is_exact() -> None:
    """The digits are read with their power of ten, so the nearest float is met every time."""
    for digits in ("2.6", "0.1", "3.3", "7.7", "1234.5"):
        assert read_number(f"{digits} mΩ", "resistance") == float(f"{digits}e-3")
        assert read_number(f"{digits} µF", "capacitance") == float(f"{digits}e-6")


def test_an_unknown_dimension_is_the_callers_mistake() -> None:
    with pytest.raises(KeyError):
        read_number("5 V", "tension")
