"""What builders call good and what they do not, on a site of our own: common practice, no source."""

import pytest

from ohmstead.bench.judge import judge
from ohmstead.bench.parameters import Surroundings
from ohmstead.bench.plan import plan_of
from ohmstead.bench.step import Plan, Step
from ohmstead.quantity.read import read_number
from ohmstead.study import from_text

# A tide gauge on a pier: 12 V, one block, two boost converters behind one fused bar, a switch that powers a camera,
# and a small computer at 19 V.
PIER = """
ohmstead: 1
site: {name: Pier gauge}
battery:
  bank: {chemistry: LFP, cells: 4, capacity: 100 Ah, open circuit: {full: 12.1 V, nominal: 12.0 V, cut-off: 11.8 V}}
parts:
  block:        {kind: distribution, ways: 4, voltage: 32 V}
  boosts:       {kind: busbar}
  net boost:
    {kind: converter, type: boost, input: 10..16 V, output: 48 V ± 1 %,
     rating: 60 W, idle: 12 mA at 12 V, efficiency: 0.92}
  desk boost:
    {kind: converter, type: boost, input: 10..16 V, output: 19 V ± 1.5 %,
     rating: 99 W, idle: 11 mA at 12 V, efficiency: 0.93}
  net switch:
    {kind: ethernet power source, standard: at, ports: 2,
     budget: 30 W, own use: 2.9 W, start-up: 4.4 W, input: 44..57 V}
  camera:       {kind: device, over: ethernet, class: 2, draws: 5 W}
  computer:     {kind: device, input: 18..20 V, plug: barrel 5.5x2.5 centre positive,
                 draws: {idle: 9.5 W, log-in: 28.5 W for 40 s, peak: 82 W for 2 s}}
runs:
  - {from: bank, to: block, length: 0.6 m, wire: 16 mm2, fuse: 60 A terminal}
  - {from: block / 1, to: boosts, length: 0.5 m, wire: 6 mm2, fuse: 15 A blade}
  - {from: boosts, to: net boost, length: 0.3 m, wire: 2.5 mm2}
  - {from: boosts, to: desk boost, length: 0.3 m, wire: 4 mm2}
  - {from: net boost, to: net switch, length: 0.6 m, wire: 1.5 mm2}
  - {from: net switch / 1, to: camera, length: 20 m, cable: Cat5e 24 AWG}
  - {from: desk boost, to: computer, length: 1 m, wire: 1.5 mm2, ends: [ferrule, barrel 5.5x2.5 centre positive]}
"""

# In the order of the plan: step, reading, whether it is good.
READINGS = (
    ("converters.net-boost", "48.3 V", "good"),
    ("converters.desk-boost", "19.23 V", "good"),
    ("fuses.into.block-1-boosts", "23 mA", "good"),
    ("fuses.out.net-boost", "48.3 V", "good"),
    ("fuses.out.desk-boost", "19.23 V", "good"),
    ("devices.boot.net-switch", "92 mA", "good"),
    ("devices.awake.net-switch", "60 mA", "good"),
    ("devices.draw.computer-idle", "0.5 A", "good"),
    ("devices.draw.computer-log-in", "1.5 A", "good"),
    ("devices.draw.computer-peak", "4.3 A", "good"),
)
WRONG = (
    ("fuses.into.block-1-boosts", "30 mA", "high"),  # 30 % more idle
    ("converters.desk-boost", "21.5 V", "high"),
    ("fuses.out.desk-boost", "21.5 V", "high"),
    ("devices.awake.net-switch", "92 mA", "high"),  # it never finished booting
    ("converters.net-boost", "12.1 V", "low"),  # the boost passes its input through
    ("devices.plug.computer", "-19.2 V", "low"),  # changed over
)


@pytest.fixture(scope="module")
def plan() -> Plan:
    return plan_of(from_text(PIER, "pier.yaml").operation, Surroundings(battery_v={"bank": 12.0}))


def _judged(plan: Plan, step: str, text: str) -> tuple[str, str]:
    verdict = judge(plan.step(step), read_number(text, plan.step(step).dimension))
    return verdict.word, verdict.side


def test_good_readings_are_good_in_the_order_of_the_plan(plan: Plan, outside) -> None:
    order = [plan.steps.index(plan.step(step)) for step, _, _ in READINGS]
    wrong = [(step, text) for step, text, word in READINGS if _judged(plan, step, text)[0] != word]
    outside(
        source="common-practice", place="readings that builders call good", read="common practice",
        what="readings judged good in the order of the plan", deviation=len(wrong) / len(READINGS),
    )  # fmt: skip
    assert wrong == []
    assert [k for k in order[:5]] == sorted(order[:5])


@pytest.mark.parametrize(("step", "text", "side"), WRONG)
def test_wrong_readings_are_not_good(plan: Plan, step: str, text: str, side: str) -> None:
    word, found = _judged(plan, step, text)
    assert (word in ("look", "stop"), found) == (True, side)


def test_a_reversed_plug_stops_and_says_so(plan: Plan) -> None:
    verdict = judge(plan.step("devices.plug.computer"), -19.2)
    assert verdict.word == "stop" and "changed over" in verdict.causes[0]


def test_just_outside_is_to_be_read_again_and_far_outside_stops() -> None:
    step = Step("x", "load", "x", "x", dimension="voltage", value=10.0, low=9.0, high=11.0)
    assert [judge(step, v).word for v in (10.9, 11.1, 11.6, 11.8, 8.9, 8.2)] == [
        "good", "look", "look", "stop", "look", "stop",
    ]  # fmt: skip
