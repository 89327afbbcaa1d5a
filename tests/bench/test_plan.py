"""The switch-on plan of the example sites."""

from pathlib import Path

import pytest

import ohmstead
from ohmstead.bench.blank import blank_csv
from ohmstead.bench.charge import FIRST_A, LEFT_V, pre_charge
from ohmstead.bench.figures import band_text, understand, unit_of, value_text
from ohmstead.bench.making import Making
from ohmstead.bench.meter import HANDHELD
from ohmstead.bench.order import behind, feeding_of, fused_in_order
from ohmstead.bench.parameters import Surroundings
from ohmstead.bench.plan import plan_of
from ohmstead.bench.step import Plan, Step
from ohmstead.site.kinds import Device
from ohmstead.site.problems import SiteError
from ohmstead.study import Study, from_text
from property.any_site import any_site

EXAMPLES = Path(__file__).parents[2] / "examples"
SITES = ("skerry/skerry-mended.yaml", "skerry/skerry.yaml", "cabin/cabin.yaml", "saltpan/saltpan.yaml")


@pytest.fixture(scope="module", params=SITES)
def study(request) -> Study:
    return ohmstead.open(EXAMPLES / request.param)


@pytest.fixture(scope="module")
def plan(study: Study) -> Plan:
    return plan_of(study.operation)


def test_ids_are_unique_and_the_same_again(study: Study, plan: Plan) -> None:
    ids = [step.id for step in plan.steps]
    assert len(set(ids)) == len(ids)
    assert ids == [step.id for step in plan_of(study.operation).steps]


def test_every_number_has_a_band_causes_and_a_place_in_a_standard(plan: Plan) -> None:
    for step in plan.steps:
        assert step.basis and step.act and step.title
        assert "{" not in step.act + step.title + step.probes
        if step.asks == "tick":
            assert step.causes_high
            continue
        assert step.low is not None or step.high is not None
        assert step.low is None or step.causes_low or step.low <= 0.0, step.id
        assert step.high is None or step.causes_high, step.id
        if step.value is not None and not step.id.startswith("low.device."):
            assert (step.low is None or step.low <= step.value) and (step.high is None or step.value <= step.high)


def test_marks_lead_to_points_and_runs(study: Study, plan: Plan) -> None:
    known = {mark for mark, _, _ in plan.marks}
    assert {mark for step in plan.steps for mark in step.marks} <= known
    for step in plan.steps:
        if step.point is not None and step.marks:
            assert step.marks[0] in step.probes


def test_every_device_and_fuse_comes_up_once(study: Study, plan: Plan) -> None:
    ids = {step.id for step in plan.steps}
    for part in study.site.parts.values():
        if isinstance(part, Device):
            for draw in part.draws:
                name = f"{part.name} {draw.state}".replace(" ", "-").lower()
                assert f"devices.draw.{name}" in ids
    fused = fused_in_order(feeding_of(study.operation.circuit))
    mains = sum(step.id.startswith("battery.bus.") for step in plan.steps)
    chargers = sum(step.id.startswith("charging.night.") for step in plan.steps)
    assert sum(step.id.startswith("fuses.into.") for step in plan.steps) + mains + chargers == len(fused)


def test_a_fuse_comes_after_those_that_feed_it(study: Study) -> None:
    feeding = feeding_of(study.operation.circuit)
    order = fused_in_order(feeding)
    for place, number in enumerate(order):
        above = [other for other in feeding.chains[number] if other in order]
        assert all(order.index(other) < place for other in above)


def test_only_what_lies_before_the_next_fuse_comes_alive() -> None:
    study = ohmstead.open(EXAMPLES / "cabin" / "cabin.yaml")
    feeding = feeding_of(study.operation.circuit)
    main, *_ = fused_in_order(feeding)
    alive = set(behind(feeding, main))
    assert {"low cut", "fuse block"} <= alive
    assert not alive & {"lamps", "radio", "pump", "desk supply"}


def test_devices_are_unplugged_while_fuses_go_in(plan: Plan) -> None:
    for step in plan.steps:
        if step.stage in ("battery", "fuses") and step.situation is not None:
            assert not step.situation.states


def test_a_measured_battery_keeps_the_steps_and_narrows_them() -> None:
    study = ohmstead.open(EXAMPLES / "cabin" / "cabin.yaml")
    wide, narrow = (plan_of(study.operation, now) for now in (None, Surroundings(battery_v={"bank": 13.3})))
    assert [step.id for step in wide.steps] == [step.id for step in narrow.steps]
    far = [p.step("fuses.far.fuse-block-1-lamps") for p in (wide, narrow)]
    assert far[1].high - far[1].low < 0.3 * (far[0].high - far[0].low)


@pytest.mark.parametrize("volts", [12.8, 26.5, 51.2])
@pytest.mark.parametrize("farad", [0.0, 1e-3, 20e-3])
def test_the_resistor_holds_its_limits(volts: float, farad: float) -> None:
    found = pre_charge(volts, farad, 0.004)
    assert volts / found.ohm <= FIRST_A * 1.01 or found.ohm == 100.0
    assert found.left_v < LEFT_V
    assert found.wait_s <= 60.0
    if farad:
        # after the wait, what is missing of an RC curve is what may be left: U·exp(-t/RC)
        from math import exp

        assert volts * exp(-found.wait_s / (found.ohm * farad)) == pytest.approx(LEFT_V)


def test_what_is_still_on_makes_the_resistor_smaller_or_shows() -> None:
    assert pre_charge(12.8, 1e-3, 0.06).ohm == 15.0  # 60 mA leave 0.9 V; 22 Ω would leave 1.3 V


def _step(**figures: object) -> Step:
    return Step("x", "load", "x", "x", **figures)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("step", "text", "value"),
    [
        (_step(dimension="current", value=0.023, low=0.02, high=0.026), "23", 0.023),
        (_step(dimension="current", value=0.023, low=0.02, high=0.026), " 22,5 mA", 0.0225),
        (_step(dimension="voltage", value=13.4, low=13.0, high=13.7), "13,38", 13.38),
        (_step(dimension="voltage", value=13.4, low=13.0, high=13.7), "−13.38", -13.38),
        (_step(dimension="voltage", value=0.03, low=0.02, high=0.04), "28.1", 0.0281),
        (_step(dimension="resistance", value=0.003, low=0.0, high=0.5), "0.4", 0.4),
        (_step(dimension="resistance", low=1e4), "OL", 1e9),
        (_step(dimension="resistance", low=5e5), "1.2 MOhm", 1.2e6),
        (_step(dimension="temperature difference", high=30.0), "12", 12.0),
        (_step(asks="tick"), "y", 1.0),
        (_step(asks="tick"), "No", 0.0),
    ],
)
def test_readings_are_understood(step: Step, text: str, value: float) -> None:
    assert understand(step, text).value == pytest.approx(value)


@pytest.mark.parametrize("text", ["", "abc", "12 kg", "1..2", "12 V A", "--3"])
def test_what_is_no_reading_is_refused(text: str) -> None:
    with pytest.raises(ValueError):
        understand(_step(dimension="voltage", value=12.0, low=11.0, high=13.0), text)


def test_bands_are_shown_in_words() -> None:
    assert band_text(_step(dimension="resistance", low=1e4)) == "at least 10 kΩ"
    assert band_text(_step(dimension="voltage", value=13.38, low=13.1, high=13.66)) == "13.1..13.66 V"
    assert (unit_of(_step(asks="tick")), value_text(_step(dimension="voltage", low=1.0))) == ("", "")


def test_low_battery_never_expects_less_than_a_device_bears() -> None:
    study = ohmstead.open(EXAMPLES / "skerry" / "skerry-mended.yaml")
    for step in plan_of(study.operation).steps:
        if step.id.startswith("low.device.") and step.point is not None:
            part = study.site.parts[step.point.at]
            assert isinstance(part, Device) and part.input_v is not None
            assert step.low is not None and step.low >= part.input_v.low


def test_currents_are_read_in_series_or_by_clamp() -> None:
    making = Making(ohmstead.open(EXAMPLES / "cabin" / "cabin.yaml").operation, Surroundings(), HANDHELD)
    assert [making.current_at(1, a).method for a in (0.01, 0.5, 3.0)] == ["amps", "amps", "clamp"]


@pytest.mark.parametrize("seed", range(0, 120, 5))
def test_any_site_has_a_plan(seed: int) -> None:
    try:
        study = from_text(any_site(seed).text())
    except SiteError:
        pytest.skip("a file that is refused")
    plan = plan_of(study.operation)
    assert len({step.id for step in plan.steps}) == len(plan.steps)
    for step in plan.steps:
        assert all(x is None or abs(x) < 1e12 for x in (step.value, step.low, step.high))  # nor is one not a number
    assert blank_csv(plan).count("\n") == len(plan.steps) + 1
