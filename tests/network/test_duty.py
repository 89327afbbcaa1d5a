"""Which states may coincide, from the schedules alone."""

import pytest

from ohmstead.network.duty import coincidences, day_length_h, mean_hours
from ohmstead.site.read import read_text

FRAME = """ohmstead: 1
battery: {{bank: {{chemistry: LFP, cells: 4, capacity: 100 Ah}}}}
parts:
{parts}
runs: []
"""


def devices(*lines):
    site = read_text(FRAME.format(parts="\n".join(f"  {line}" for line in lines)))
    return list(site.parts.values())


def test_loads_that_never_meet_are_never_added():
    found = coincidences(
        devices(
            "a: {kind: device, draws: {off: 0.1 W, on: 50 W}, duty: {on: 06:00-08:00, off: rest}}",
            "b: {kind: device, draws: {off: 0.1 W, on: 40 W}, duty: {on: 18:00-20:00, off: rest}}",
        ),
        None,
    )
    states = [dict(one.states) for one in found]
    assert {"a": "on", "b": "off"} in states
    assert {"a": "off", "b": "on"} in states
    assert {"a": "on", "b": "on"} not in states


def test_windows_that_overlap_are_added():
    found = coincidences(
        devices(
            "a: {kind: device, draws: {off: 0.1 W, on: 50 W}, duty: {on: 22:00-02:00, off: rest}}",
            "b: {kind: device, draws: {off: 0.1 W, on: 40 W}, duty: {on: 01:00-03:00, off: rest}}",
        ),
        None,
    )
    assert [dict(one.states) for one in found] == [{"a": "on", "b": "on"}]
    assert found[0].when == "01:00-02:00"


def test_a_load_used_now_and_then_may_meet_anything():
    found = coincidences(
        devices(
            "a: {kind: device, draws: 0..120 W, duty: now and then}",
            "b: {kind: device, draws: {off: 0.1 W, on: 40 W}, duty: {on: 18:00-20:00, off: rest}}",
        ),
        None,
    )
    assert {"a": "on", "b": "on"} in [dict(one.states) for one in found]


def test_night_and_day_may_both_be_at_breakfast_in_the_north():
    lamp, camera = devices(
        "lamp: {kind: device, draws: {off: 0.1 W, on: 20 W}, duty: {on: 07:00-08:00, off: rest}}",
        "camera: {kind: device, draws: {day: 5 W, night: 9 W}, duty: {night: dusk..dawn, day: rest}}",
    )
    far_north = coincidences([lamp, camera], 57.6)
    assert {"lamp": "on", "camera": "night"} in [dict(one.states) for one in far_north]
    equator = coincidences([lamp, camera], 0.0)
    assert {"lamp": "on", "camera": "night"} not in [dict(one.states) for one in equator]


def test_mean_day_adds_up_to_24_hours():
    (device,) = devices("a: {kind: device, draws: {idle: 1 W, on: 50 W}, duty: {on: 2 h a day, idle: rest}}")
    assert mean_hours(device) == {"idle": 22.0, "on": 2.0}


@pytest.mark.parametrize(("latitude", "hours"), [(0.0, 12.0), (40.0, 9.15), (60.0, 5.5), (70.0, 0.0)])
def test_shortest_day_as_almanacs_print_it(outside, latitude, hours):
    # Without refraction and sun radius, which add some 7 to 20 minutes in printed tables.
    found = day_length_h(latitude, -23.44)
    outside(
        source="common-practice",
        place="almanacs: day length at the winter solstice",
        read="from memory",
        what="shortest day by latitude",
        deviation=abs(found - hours) / 12,
    )
    assert found == pytest.approx(hours, abs=0.1)


def test_days_months_air_and_chance_may_coincide_but_are_never_certain():
    """A window on some days leaves the rest possible; a window of hours a day bounds when they may fall."""
    found = coincidences(
        devices(
            "a: {kind: device, draws: {idle: 1 W, on: 50 W}, duty: {on: 06:00-08:00 on mon-fri, idle: rest}}",
            "b: {kind: device, draws: {i: 1 W, on: 9 W}, duty: {on: 2 h a day at random between 07:00-09:00, i: rest}}",
            "c: {kind: device, draws: {idle: 1 W, on: 30 W}, duty: {on: {10 °C: 0 %, 30 °C: 50 %}, idle: rest}}",
        ),
        None,
    )
    states = [dict(one.states) for one in found]
    assert states == [{"a": "on", "b": "on", "c": "on"}]
    apart = coincidences(
        devices(
            "a: {kind: device, draws: {idle: 1 W, on: 50 W}, duty: {on: 06:00-08:00 in nov-feb, idle: rest}}",
            "b: {kind: device, draws: {idle: 1 W, on: 40 W}, duty: {on: 1 h a day between 12:00-15:00, idle: rest}}",
        ),
        None,
    )
    assert {"a": "on", "b": "idle"} in [dict(one.states) for one in apart]
    assert {"a": "idle", "b": "on"} in [dict(one.states) for one in apart]


@pytest.mark.parametrize(
    ("duty", "hours"),
    [
        ("06:00-13:00 on mon-fri", 7 * 5 / 7),
        ("2 h a day at random between 07:00-22:00 in nov-feb", 2 * 4 / 12),
        ("{0 °C: 0 %, 30 °C: 50 %}", 6.0),
        ("dusk..dawn on weekends in june", 12 * 2 / 7 / 12),
    ],
)
def test_hours_of_a_mean_day(duty, hours):
    (one,) = devices(f"a: {{kind: device, draws: 10 W, duty: {duty}}}")
    assert mean_hours(one) == {"on": pytest.approx(hours)}
