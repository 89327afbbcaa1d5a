"""Ranges and tolerances."""

import pytest

from ohmstead.quantity.read import read_span
from ohmstead.quantity.span import Span

RANGES = [
    ("10..32 V", "voltage", 10.0, 32.0),
    ("10 .. 32 V", "voltage", 10.0, 32.0),
    ("10 V .. 32 V", "voltage", 10.0, 32.0),
    ("10–32 V", "voltage", 10.0, 32.0),
    ("10 – 32 V", "voltage", 10.0, 32.0),
    ("10…32 V", "voltage", 10.0, 32.0),
    ("10-32 V", "voltage", 10.0, 32.0),
    ("10 to 32 V", "voltage", 10.0, 32.0),
    ("500 mV .. 2 V", "voltage", 0.5, 2.0),
    ("0..120 W", "power", 0.0, 120.0),
    ("0,5..1,5 m", "length", 0.5, 1.5),
    ("1e-3..2e-3 s", "time", 1e-3, 2e-3),
    ("-8..24 °C", "temperature", -8.0, 24.0),
    ("−8–24 °C", "temperature", -8.0, 24.0),
    ("-20..-5 °C", "temperature", -20.0, -5.0),
    ("-20–-5 °C", "temperature", -20.0, -5.0),
    ("20..80 %", "share", 0.2, 0.8),
    ("0.2..0.8", "share", 0.2, 0.8),
    ("2..4", "count", 2.0, 4.0),
    ("0.5..1.5", "number", 0.5, 1.5),
    ("5..5 V", "voltage", 5.0, 5.0),
]
TOLERANCES = [
    ("19 V ± 2 %", "voltage", 18.62, 19.0, 19.38),
    ("19V±2%", "voltage", 18.62, 19.0, 19.38),
    ("19 V +/- 2 %", "voltage", 18.62, 19.0, 19.38),
    ("19 V +- 0.3 V", "voltage", 18.7, 19.0, 19.3),
    ("19 V ± 300 mV", "voltage", 18.7, 19.0, 19.3),
    ("19 ± 0.3 V", "voltage", 18.7, 19.0, 19.3),
    ("19 V +5 % -2 %", "voltage", 18.62, 19.0, 19.95),
    ("19 V -2 % +5 %", "voltage", 18.62, 19.0, 19.95),
    ("19 V +5/-2 %", "voltage", 18.62, 19.0, 19.95),
    ("19 V +0.5 V -0.2 V", "voltage", 18.8, 19.0, 19.5),
    ("10 µF -20/+80 %", "capacitance", 8e-6, 10e-6, 18e-6),
    ("2200 µF ± 20 %", "capacitance", 0.00176, 0.0022, 0.00264),
    ("1,5 V ± 1,5 %", "voltage", 1.4775, 1.5, 1.5225),
    ("25 °C ± 3 K", "temperature", 22.0, 25.0, 28.0),
    ("25 °C ± 3 °C", "temperature", 22.0, 25.0, 28.0),
    ("25 ± 3 °C", "temperature", 22.0, 25.0, 28.0),
    ("77 °F ± 9 °F", "temperature", 20.0, 25.0, 30.0),
    ("-5 °C ± 2 K", "temperature", -7.0, -5.0, -3.0),
    ("-5 V ± 10 %", "voltage", -5.5, -5.0, -4.5),
    ("15 K ± 10 %", "temperature difference", 13.5, 15.0, 16.5),
    ("5 ± 1", "number", 4.0, 5.0, 6.0),
    ("6 mm² ± 2 %", "area", 5.88, 6.0, 6.12),
]


@pytest.mark.parametrize("text, dimension, low, high", RANGES)
def test_range(text: str, dimension: str, low: float, high: float) -> None:
    span = read_span(text, dimension)
    assert (span.low, span.high) == pytest.approx((low, high), rel=1e-15)
    assert span.nominal == pytest.approx((low + high) / 2, rel=1e-15)


@pytest.mark.parametrize("text, dimension, low, nominal, high", TOLERANCES)
def test_tolerance(text: str, dimension: str, low: float, nominal: float, high: float) -> None:
    span = read_span(text, dimension)
    assert (span.low, span.nominal, span.high) == pytest.approx((low, nominal, high), rel=1e-14)


@pytest.mark.parametrize("text", ["22..10 AWG", "10..22 AWG", "22-10 AWG", "22 AWG .. 10 AWG"])
def test_a_range_of_gauges_may_run_either_way(text: str) -> None:
    """Terminals are sold for "22-10 AWG": the thin wire has the larger number. Common practice, no source."""
    span = read_span(text, "area")
    assert (span.low, span.high) == (read_span("22 AWG", "area").low, read_span("10 AWG", "area").low)


def test_how_it_was_written_does_not_count_in_comparisons() -> None:
    assert read_span("18..20 V", "voltage") == Span(18.0, 19.0, 20.0)
    assert read_span("19 V ± 1 V", "voltage") == read_span("18..20 V", "voltage")


@pytest.mark.parametrize("ends", [(2.0, 1.0, 3.0), (1.0, 4.0, 3.0), (1.0, float("nan"), 3.0)])
def test_a_span_keeps_its_order(ends: tuple[float, float, float]) -> None:
    with pytest.raises(ValueError, match="low <= nominal <= high"):
        Span(*ends)
