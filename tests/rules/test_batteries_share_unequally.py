"""Shares of batteries in a row and around a busbar, against the ladder worked by hand."""

import pytest

from ohmstead import study
from ohmstead.rules import batteries_share_unequally, battery_over_discharge_limit

BATTERY = (
    "{{chemistry: LFP, cells: 4, capacity: {ah} Ah, resistance: {ohm} mΩ, "
    "limits: {{discharge: {most} A, charge: 50 A}}}}"
)
ZONES = "zones: {room: {air: 20..20.1 °C}}"


def site(batteries, runs, watts=600, parts=""):
    lines = [f"  {name}: {text}" for name, text in batteries.items()]
    wires = [f"  - {{{run}}}" for run in runs]
    return "\n".join(
        [
            "ohmstead: 1",
            "site: {name: cabin}",
            ZONES,
            "battery:",
            *lines,
            "parts:",
            *([parts] if parts else []),
            f"  heater: {{kind: device, input: 9..15 V, draws: {{off: 0 W, on: {watts} W}}}}",
            "runs:",
            *wires,
            "",
        ]
    )


def battery(ah=100, ohm=6, most=100):
    return BATTERY.format(ah=ah, ohm=ohm, most=most)


def link(start, end, ohm="1.4 mΩ"):
    return f"from: {start}, to: {end}, length: 0.5 m, wire: 25 mm2, zone: room, resistance: {ohm}"


def found(text, rule=batteries_share_unequally):
    return list(rule.check(study.from_text(text, "cabin.yaml").evidence))


def test_three_in_a_row_with_both_leads_on_the_first():
    # ladder by hand: 6 mΩ each, links of 0.7 mΩ in both wires: 44 %, 31 %, 25 %
    row = site(
        {"one": battery(), "two": battery(), "three": battery()},
        [link("three", "two"), link("two", "one"), link("one", "heater")],
        watts=60,
    )
    (finding,) = found(row)
    assert finding.subject == "one"
    assert finding.severity == "tight"
    third = 6 + 1.4
    second = 1.4 + 1 / (1 / 6 + 1 / third)
    first = second / (second + 6)
    assert finding.value == pytest.approx(first, rel=0.001)
    assert [round(finding.numbers[f"share of {n}"].value, 2) for n in ("one", "two", "three")] == [0.44, 0.31, 0.25]
    assert "one end of the row" in finding.mend


def test_equal_wires_to_a_busbar_share_fairly():
    star = site(
        {"one": battery(), "two": battery(), "three": battery()},
        [link("one", "bar"), link("two", "bar"), link("three", "bar"), link("bar", "heater")],
        parts="  bar: {kind: busbar}",
    )
    assert found(star) == []


def test_leads_from_opposite_ends_share_fairly():
    apart = site(
        {"one": battery(), "two": battery()},
        [
            "from: one, to: two, length: 0.5 m, wire: 25 mm2, resistance: 0.7 mΩ, wires: positive",
            "from: one, to: two, length: 0.5 m, wire: 25 mm2, resistance: 0.7 mΩ, wires: negative",
            "from: one, to: heater, length: 1 m, wire: 25 mm2, wires: positive",
            "from: two, to: heater, length: 1 m, wire: 25 mm2, wires: negative",
        ],
    )
    assert found(apart) == []


def test_a_smaller_battery_with_its_smaller_share_is_fair():
    star = site(
        {"big": battery(ah=200, ohm=3), "small": battery(ah=100, ohm=6)},
        [link("big", "bar", "0.1 mΩ"), link("small", "bar", "0.2 mΩ"), link("bar", "heater")],
        parts="  bar: {kind: busbar}",
    )
    assert found(star) == []


def test_an_old_battery_beside_a_new_one_is_not_blamed_on_the_links():
    star = site(
        {"new": battery(ohm=4), "old": battery(ohm=12)},
        [link("new", "bar"), link("old", "bar"), link("bar", "heater")],
        parts="  bar: {kind: busbar}",
    )
    (finding,) = found(star)
    assert finding.subject == "new"
    assert "one kind, size and age" in finding.mend


def test_passing_the_own_limit_by_bad_links_is_one_fault():
    row = site({"one": battery(most=35), "two": battery(most=35)}, [link("two", "one", "3 mΩ"), link("one", "heater")])
    (finding,) = found(row)
    assert finding.severity == "fails"
    assert "35 A" in finding.message
    assert found(row, battery_over_discharge_limit) == []
