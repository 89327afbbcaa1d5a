"""Laws of reading and printing quantities."""

import math

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from ohmstead.quantity.read import QuantityError, read_number, read_span
from ohmstead.quantity.show import show, show_span
from ohmstead.quantity.span import Span
from ohmstead.quantity.term import read_term, tidy
from ohmstead.quantity.units import DIMENSIONS, units_of

dimensions = st.sampled_from(sorted(DIMENSIONS))
measured = st.sampled_from(sorted(set(DIMENSIONS) - {"count"}))
# Texts that look like quantities: the signs that mean something to the reader, in any order.
SIGNS = list("019., .–-+±/'\"%_eEVAΩµK") + ["\u00a0", "\u202f", "\u2212"]
WORDS = ["12", "600", "..", "…", "+/-", "mV", "ohm", "AWG", "mm²", "ft", "in", "°C", "to", "nan", "inf"]
likely = st.lists(st.sampled_from(SIGNS + WORDS), max_size=12).map("".join)
sizes = st.floats(min_value=1e-9, max_value=1e9)
signed = st.builds(lambda size, sign: size * sign, sizes, st.sampled_from((1, -1)))


@given(st.one_of(st.text(max_size=100), likely), dimensions)
@example("1" + " " * 70 + "x", "voltage")
@example("1e999", "number")
@example("1" * 79, "charge")
@example("-1e-400 ft", "length")
@example("±", "voltage")
@example("..", "share")
def test_any_text_is_read_or_refused_with_a_message(text: str, dimension: str) -> None:
    for read in (read_number, read_span):
        try:
            value = read(text, dimension)
        except QuantityError as error:
            assert error.problem and error.expected and error.mend
            assert "\n" not in str(error) and len(str(error)) < 500
        else:
            ends = (value.low, value.high) if isinstance(value, Span) else (value,)
            assert all(math.isfinite(end) for end in ends)


@given(likely, dimensions)
def test_a_single_value_reads_alike_as_number_and_as_span(text: str, dimension: str) -> None:
    try:
        number = read_number(text, dimension)
    except QuantityError:
        return
    span = read_span(text, dimension)
    assert (span.low, span.nominal, span.high) == (number, number, number)


@given(signed, measured, st.integers(min_value=2, max_value=12))
def test_what_is_shown_reads_back(value: float, dimension: str, digits: int) -> None:
    if dimension == "temperature":
        assume(value > -273)
    printed = abs(value) * 0.5 * 10.0 ** (1 - digits) * (1 + 1e-9)
    if dimension == "temperature":  # shown to `digits` decimals at most, then to as many digits
        printed += 0.5 * 10.0**-digits
    assert abs(read_number(show(value, dimension, digits), dimension) - value) <= printed


@given(st.integers(min_value=0, max_value=10**14))
def test_a_count_reads_back_exactly(value: int) -> None:
    assert read_number(show(float(value), "count"), "count") == value


@given(signed, measured)
def test_showing_twice_changes_nothing(value: float, dimension: str) -> None:
    if dimension == "temperature":
        assume(value > -273)
    once = show(value, dimension)
    assert show(read_number(once, dimension), dimension) == once


@given(signed, signed, measured)
def test_a_range_reads_back(one: float, other: float, dimension: str) -> None:
    low, high = sorted((one, other))
    assume(dimension != "temperature" or low > -273)
    span = Span.between(low, high)
    again = read_span(show_span(span, dimension), dimension)
    slack = max(abs(low), abs(high)) * 1e-3 + (1e-4 if dimension == "temperature" else 0)
    assert again.low == pytest.approx(low, rel=1e-3, abs=slack)
    assert again.high == pytest.approx(high, rel=1e-3, abs=slack)
    assert again.low <= again.nominal <= again.high


@given(
    st.floats(min_value=1e-3, max_value=1e3),
    st.floats(min_value=0.1, max_value=99.0),
    st.sampled_from(("voltage", "current", "power", "resistance", "capacitance", "length", "time", "number")),
)
def test_a_tolerance_reads_back(nominal: float, percent: float, dimension: str) -> None:
    share = percent / 100
    for stated in ("percent", "amount"):
        span = Span(nominal * (1 - share), nominal, nominal * (1 + share), stated)
        again = read_span(show_span(span, dimension), dimension)
        assert again.stated == stated
        assert again.nominal == pytest.approx(nominal, rel=1e-3)
        assert again.high - again.nominal == pytest.approx(nominal * share, rel=2e-2)
        assert again.nominal - again.low == pytest.approx(nominal * share, rel=2e-2)


@given(
    st.decimals(min_value=0, max_value=10**6, allow_nan=False, allow_infinity=False, places=4),
    st.integers(0, 4),
)
def test_a_decimal_comma_is_never_another_number(value: object, cut: int) -> None:
    text = str(value)
    text = text[: len(text) - cut].rstrip(".")
    with_comma = text.replace(".", ",")
    try:
        assert read_number(f"{with_comma} m", "length") == read_number(f"{text} m", "length")
    except QuantityError as error:
        assert " can be read as " in error.problem


@given(dimensions.filter(lambda name: name != "count"), st.data())
def test_spellings_of_a_unit_agree(dimension: str, data: st.DataObject) -> None:
    known = units_of(dimension)
    spelling = data.draw(st.sampled_from(sorted(known)))
    number = data.draw(st.sampled_from(("1", "7", "12")))
    assert read_number(f"{number} {spelling}", dimension) == read_number(f"{number} {known[spelling]}", dimension)


@given(dimensions, dimensions, st.data())
def test_a_unit_of_another_dimension_is_refused(wanted: str, given_: str, data: st.DataObject) -> None:
    foreign = sorted(set(units_of(given_)) - set(units_of(wanted)) - {""})
    assume(foreign)
    unit = data.draw(st.sampled_from(foreign))
    with pytest.raises(QuantityError):
        read_number(f"5 {unit}", wanted)


@given(st.from_regex(r"[+-]?[0-9]{1,6}(\.[0-9]{1,6})?", fullmatch=True), dimensions, st.data())
def test_short_way_and_long_way_agree(number: str, dimension: str, data: st.DataObject) -> None:
    unit = data.draw(st.sampled_from(sorted({*units_of(dimension), ""})))
    text = f"{number} {unit}".strip()
    outcomes: list[float | str] = []
    for read in (read_number, lambda text, dimension: read_term(tidy(text, dimension), dimension)):
        try:
            outcomes.append(read(text, dimension))
        except QuantityError as error:
            outcomes.append(str(error))
    assert outcomes[0] == outcomes[1]
