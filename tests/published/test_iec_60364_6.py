"""IEC 60364-6 and IEC 62446-1: which tests, in which order, with which limits. Numbers of clauses from memory."""

from pathlib import Path

import pytest

import ohmstead
from ohmstead.bench.plan import plan_of
from ohmstead.bench.step import Plan

EXAMPLES = Path(__file__).parents[2] / "examples"
# 6.4.1.3: inspection comes before testing; 6.4.3.1: continuity before insulation before polarity, and a fault found
# means the tests before it are made again. 6.4.2 asks for inspection with the installation dead.
ORDER = ("6.4.2", "6.4.3.2", "6.4.3.3", "6.4.3.6", "6.4.3.10")


@pytest.fixture(scope="module")
def plan() -> Plan:
    return plan_of(ohmstead.open(EXAMPLES / "skerry" / "skerry-mended.yaml").operation)


def test_inspection_continuity_insulation_polarity_function_begin_in_that_order(plan: Plan, outside) -> None:
    clauses = [step.basis.removeprefix("IEC 60364-6, ").split()[0].rstrip(",;") for step in plan.steps]
    first = [clauses.index(clause) for clause in ORDER]
    wrong = sum(a > b for a, b in zip(first, first[1:], strict=False))
    outside(
        source="iec-60364-6", place="6.4.2, 6.4.3.1", read="from memory", what="order of inspection and tests",
        deviation=float(wrong),
    )  # fmt: skip
    assert first == sorted(first)


def test_no_test_under_power_comes_before_the_dead_ones_are_done(plan: Plan) -> None:
    dead = [k for k, step in enumerate(plan.steps) if step.stage == "dead"]
    live = [k for k, step in enumerate(plan.steps) if step.situation is not None]
    assert max(dead) < min(live)


def test_insulation_of_extra_low_voltage(plan: Plan, outside) -> None:
    step = plan.step("dead.insulation")
    assert step.low is not None
    outside(
        source="iec-60364-6", place="table 6.1, SELV and PELV: 250 V DC, 0.5 MΩ", read="from memory",
        what="least insulation resistance", deviation=abs(step.low / 0.5e6 - 1),
    )  # fmt: skip
    assert step.low == 0.5e6 and "250 V DC" in step.act


def test_every_run_is_tested_for_continuity(plan: Plan) -> None:
    study = ohmstead.open(EXAMPLES / "skerry" / "skerry-mended.yaml")
    runs = [run for run in study.site.runs if run.carries == "power"]
    assert sum(step.id.startswith("dead.loop.") for step in plan.steps) == len(runs)


def test_strings_are_tested_for_polarity_and_open_voltage(plan: Plan, outside) -> None:
    step = plan.step("charging.array.south-field")
    at_standard_v = 2 * 40.9  # two modules in series, sheet of the example
    named = "6.2" in step.basis and "6.4" in step.basis
    outside(
        source="iec-62446-1", place="6.2 polarity, 6.4 open-circuit voltage", read="from memory",
        what="open voltage of the string at 25 °C lies in the band", deviation=0.0 if named else 1.0,
    )  # fmt: skip
    assert named and step.low is not None and step.high is not None and step.low < at_standard_v < step.high
