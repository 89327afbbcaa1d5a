"""Text that is refused, with the message a builder reads. Nothing here may be guessed silently."""

import pytest

from ohmstead.quantity.read import QuantityError, read_number, read_span

ONE = [
    # text, dimension, problem, mend
    ("1.6", "length", "length needs a unit", "write 1.6 m (or 1.6 ft)"),
    ("12", "voltage", "voltage needs a unit", "write 12 V"),
    ("5 A", "length", "a length is wanted, 5 A is a current", "write a number and its unit, as in 1.6 m"),
    (
        "230 Ah",
        "energy",
        "an energy is wanted, 230 Ah is a charge",
        "write a number and its unit, as in 850 Wh",
    ),
    ("6 mm", "area", "an area is wanted, 6 mm is a length", "write 6 mm² if that is the area of the copper"),
    ("5 H", "time", "a time is wanted, 5 H is an inductance", "did you mean 5 h?"),
    ("5 %", "number", "a number without unit is wanted, 5 % is a share", "write a number alone, as in 1.25"),
    ("5 MA", "current", "'MA' is not a unit; did you mean mA?", "write 5 mA"),
    ("5 ma", "current", "'ma' is not a unit; did you mean mA?", "write 5 mA"),
    ("5 mv", "voltage", "'mv' is not a unit; did you mean mV?", "write 5 mV"),
    ("5 MV", "voltage", "'MV' is not a unit; did you mean mV?", "write 5 mV"),
    ("100 MAH", "charge", "'MAH' is not a unit; did you mean mAh?", "write 100 mAh"),
    ("3 M", "length", "'M' is not a unit; did you mean m?", "write 3 m"),
    ("5 metrs", "length", "'metrs' is not a unit; did you mean m?", "write 5 m"),
    ("5 MΩM", "resistance", "'MΩM' is not a unit; did you mean MΩ?", "write 5 MΩ"),
    (
        "5 furlongs",
        "length",
        "'furlongs' is not a unit of length",
        "write a number and its unit, as in 1.6 m",
    ),
    ("5 parsec", "voltage", "'parsec' is not a unit of voltage", "write a number and its unit, as in 25.6 V"),
    ("", "voltage", "a voltage is missing", "write a number and its unit, as in 25.6 V"),
    ("choose", "area", "'choose' cannot be read as an area", "write a number and its unit, as in 2.5 mm²"),
    ("nan V", "voltage", "'nan V' cannot be read as a voltage", "write a number and its unit, as in 25.6 V"),
    (
        "-inf V",
        "voltage",
        "'-inf V' cannot be read as a voltage",
        "write a number and its unit, as in 25.6 V",
    ),
    (
        "1e999 V",
        "voltage",
        "'1e999 V' is too large or too small to be a voltage",
        "write a number and its unit, as in 25.6 V",
    ),
    (
        "1e-999 V",
        "voltage",
        "'1e-999 V' is too large or too small to be a voltage",
        "write a number and its unit, as in 25.6 V",
    ),
    (
        "1e-999 ft",
        "length",
        "'1e-999 ft' is too large or too small to be a length",
        "write a number and its unit, as in 1.6 m",
    ),
    ("4 s 3", "count", "a whole number is wanted, not '4 s 3'", "write 4 alone"),
    ("12 V 5", "voltage", "'12 V 5' holds more than a voltage", "write 12 V alone"),
    ("62 W for 40 s", "power", "'62 W for 40 s' holds more than a power", "write 62 W alone"),
    ("12 V\u200b", "voltage", "'V<U+200B>' is not a unit; did you mean V?", "write 12 V"),
    (
        "１２ V",
        "voltage",
        "'１２ V' cannot be read as a voltage",
        "write a number and its unit, as in 25.6 V",
    ),
    ("1/2 in", "length", "'1/2 in' is a fraction", "write 0.5 in"),
    ("5. V", "voltage", "'5.' is not a number", "write a number and its unit, as in 25.6 V"),
    ("93", "share", "a share without % lies between 0 and 1, 93 does not", "write 93 %"),
    ("4.5", "count", "4.5 is not a whole number of things", "write a whole number, as in 4"),
    ("-4", "count", "-4 is not a whole number of things", "write a whole number, as in 4"),
    ("4 A", "count", "a whole number is wanted, 4 A is a current", "write a whole number, as in 4"),
    (
        "-300 °C",
        "temperature",
        "-300 °C is below absolute zero, -273.15 °C",
        "write a number and its unit, as in 25 °C",
    ),
    ("10.5 AWG", "area", "'10.5 AWG' is not a wire gauge (4/0 to 56 AWG)", "write 10 AWG or 2/0 AWG"),
    ("5/0 AWG", "area", "'5/0 AWG' is not a wire gauge (4/0 to 56 AWG)", "write 10 AWG or 2/0 AWG"),
    ("10 gauge", "area", "a gauge can be AWG or the thinner SAE size", "write 10 AWG, or the area in mm²"),
    ("1.2 kA²s", "fuse heat", "kA²s is used for 1000 A²s and for 1000000 A²s", "write it in A²s: 1.2e3 A²s"),
    (
        "10..32 V",
        "voltage",
        "a single voltage is wanted, '10..32 V' is a range",
        "write a number and its unit, as in 25.6 V",
    ),
    (
        "19 V ± 2 %",
        "voltage",
        "a single voltage is wanted, '19 V ± 2 %' has a tolerance",
        "write a number and its unit, as in 25.6 V",
    ),
]
THOUSANDS = [
    ("1,600 m", "'1,600' can be read as 1.6 m or as 1600 m",
     "write 1.6 m or 1600 m, with a point and without thousands marks"),
    ("12,000 m", "'12,000' can be read as 12 m or as 12000 m",
     "write 12 m or 12000 m, with a point and without thousands marks"),
    ("1.600,5 m", "'1.600,5' has marks between its thousands", "write 1600.5 m"),
    ("1,600.5 m", "'1,600.5' has marks between its thousands", "write 1600.5 m"),
    ("1.600.000 m", "'1.600.000' has marks between its thousands", "write 1600000 m"),
    ("1 600 m", "'1 600' has marks between its thousands", "write 1600 m"),
    ("1\u2009600 m", "'1 600' has marks between its thousands", "write 1600 m"),
    ("1_600 m", "'1_600' has marks between its thousands", "write 1600 m"),
    ("1'600 m", "'1'600' has marks between its thousands", "write 1600 m"),
    ("1,60,0 m", "'1,60,0' is not a number", "write a number and its unit, as in 1.6 m"),
]  # fmt: skip
SPANS = [
    ("32..10 V", "voltage", "the range '32..10 V' runs downwards", "write 10..32 V"),
    ("2 V .. 500 mV", "voltage", "the range '2 V..500 mV' runs downwards", "write 500 mV..2 V"),
    ("10 V..32", "voltage", "the unit of a range stands at its end, not in '10 V..32'", "write 10..32 V"),
    ("10..32", "voltage", "voltage needs a unit", "write 10 V"),
    ("10...32 V", "voltage", "'10...32 V' has too many points", "write a range with two: 10..32"),
    ("1,600..2,400 m", "length", "'1,600' can be read as 1.6 m or as 1600 m",
     "write 1.6 m or 1600 m, with a point and without thousands marks"),
    ("10..32 A", "voltage", "a voltage is wanted, 10 A is a current",
     "write a number and its unit, as in 25.6 V"),
    ("19 V ± 2", "voltage", "the tolerance of a voltage needs a unit", "write ± 2 % or ± 2 V"),
    ("25 °C ± 3", "temperature", "the tolerance of a temperature needs a unit", "write ± 3 K"),
    ("25 °C ± 3 %", "temperature", "a tolerance in % has no meaning for a temperature",
     "write the tolerance in K: 25 °C ± 3 K"),
    ("19 V ± -2 %", "voltage", "the tolerance '-2 %' has a sign of its own", "write ± once: ± 2 %"),
    ("19 V ± 150 %", "voltage", "a tolerance of -150 % is more than the value itself",
     "write a smaller tolerance, or a range"),
    ("19 V +5 %", "voltage", "'19 V +5 %' gives a tolerance to one side only", "write 19 V ± 5 %"),
    ("19 V -2 %", "voltage", "'19 V -2 %' gives a tolerance to one side only", "write 19 V +0 % -2 %"),
    ("10..32 V ± 2 %", "voltage", "a range and a tolerance together",
     "write the range with the tolerance already in it"),
    ("50 % ± 2 %", "share", "a share takes a range, not a tolerance", "write the lowest..the highest"),
    ("4 ± 1", "count", "a whole number takes a range, not a tolerance", "write the lowest..the highest"),
    ("10 AWG ± 2 AWG", "area", "the tolerance of a gauge is a share of its area", "write 10 AWG ± 2 %"),
    ("± 2 %", "voltage", "a voltage is missing", "write a number and its unit, as in 25.6 V"),
]  # fmt: skip


@pytest.mark.parametrize("text, dimension, problem, mend", ONE)
def test_one_value(text: str, dimension: str, problem: str, mend: str) -> None:
    with pytest.raises(QuantityError) as caught:
        read_number(text, dimension)
    assert (caught.value.problem, caught.value.mend) == (problem, mend)


@pytest.mark.parametrize("text, problem, mend", THOUSANDS)
def test_comma_with_two_readings_and_grouped_digits(text: str, problem: str, mend: str) -> None:
    for read in (read_number, read_span):
        with pytest.raises(QuantityError) as caught:
            read(text, "length")
        assert (caught.value.problem, caught.value.mend) == (problem, mend)


@pytest.mark.parametrize("text, dimension, problem, mend", SPANS)
def test_ranges_and_tolerances(text: str, dimension: str, problem: str, mend: str) -> None:
    with pytest.raises(QuantityError) as caught:
        read_span(text, dimension)
    assert (caught.value.problem, caught.value.mend) == (problem, mend)


def test_expected_shows_how_to_write_it() -> None:
    with pytest.raises(QuantityError) as caught:
        read_number("1.6", "length")
    assert caught.value.expected == "a length such as 1.6 m or 5 ft"
    with pytest.raises(QuantityError) as caught:
        read_number("soon", "time")
    assert caught.value.expected == "a time such as 40 s, 5 min or 2 h"


def test_hostile_length_is_cut_short_in_the_message() -> None:
    with pytest.raises(QuantityError) as caught:
        read_number("1" * 1_000_000, "voltage")
    assert "too long" in caught.value.problem and len(str(caught.value)) < 200
