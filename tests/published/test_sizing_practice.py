"""Worked examples of the usual sizing arithmetic, by load, autonomy and sun hours.

The examples of IEEE 1013 and IEEE 1562 could not be read; these three follow the same steps, worked out by hand.
"""

import pytest

from ohmstead.season import thumb

STEPS = "sizing by autonomy and sun hours"


def test_battery_for_three_days(outside) -> None:  # type: ignore[no-untyped-def]
    """1 kWh a day, 3 days, depth 80 %, 95 % delivered, 12.8 V: 3947 Wh, 308 Ah."""
    found = thumb.battery_wh(1000.0, 3.0, 0.8, 0.95)
    outside(source="sizing-practice", place="battery", read="common practice",
            what="watt-hours of a battery for 3 days", deviation=found / 3947 - 1)  # fmt: skip
    assert found == pytest.approx(3947, abs=0.5)
    assert found / 12.8 == pytest.approx(308, abs=0.5)


def test_array_for_the_worst_month(outside) -> None:  # type: ignore[no-untyped-def]
    """1 kWh a day, June in Sydney with 3.25 sun hours at 35°, derating 75 %, battery 95 %, margin 1.3: 561 W."""
    found = thumb.array_w(1000.0, 3.25, 0.75, 0.95, 1.3)
    outside(source="sizing-practice", place="array", read="common practice",
            what="watts of an array for the worst month", deviation=found / 561 - 1)  # fmt: skip
    assert found == pytest.approx(561, abs=0.5)


def test_strings_by_charge(outside) -> None:  # type: ignore[no-untyped-def]
    """50 Ah a day, array to load 1.3, 10 % lost, 4.0 sun hours, 5.5 A a module: 3.25, so 4 strings."""
    found = thumb.strings(50.0, 1.3, 0.1, 4.0, 5.5)
    outside(source="sizing-practice", place="strings", read="common practice", what="strings side by side by charge",
            deviation=float(found - 4))  # fmt: skip
    assert found == 4
