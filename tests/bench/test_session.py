"""A switch-on as it goes: stored at once, taken up again, corrected by new rows."""

from collections.abc import Iterator
from pathlib import Path

import pytest

import ohmstead
from ohmstead.bench.rows import Wanted
from ohmstead.bench.session import Session
from ohmstead.bench.store import Store, open_store

CABIN = Path(__file__).parents[2] / "examples" / "cabin" / "cabin.yaml"


@pytest.fixture(scope="module")
def operation():
    return ohmstead.open(CABIN).operation


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with open_store(tmp_path / "cabin.readings.db") as opened:
        yield opened


def test_a_reading_is_in_the_store_with_its_step_point_and_state(operation, store: Store) -> None:
    session = Session(operation, store, "ada", "meter 3")
    step = session.plan.step("fuses.into.fuse-block-4-desk-supply")
    outcome = session.enter(step, "10,4", "cold morning")
    assert outcome.verdict is not None and outcome.verdict.word == "good"
    (entry,) = store.entries()
    reading = entry.reading
    assert reading.value == pytest.approx(0.0104)
    assert (reading.step, reading.quantity, reading.who, reading.meter) == (step.id, "current", "ada", "meter 3")
    assert (reading.point, reading.note) == ("current at fuse block / 4 -> desk supply", "cold morning")
    assert reading.state == "fuse block / 4 -> desk supply in" and reading.revision == session.plan.revision


def test_it_goes_on_where_it_stopped(operation, store: Store) -> None:
    first = Session(operation, store, "ada")
    for _ in range(3):
        first.enter(first.next_step(), "y")
    again = Session(operation, store, "bea")
    assert again.next_step() == again.plan.steps[3]
    assert len(again.outcomes()) == 3


def test_another_reading_of_a_step_takes_the_place_of_the_first(operation, store: Store) -> None:
    session = Session(operation, store, "ada")
    step = session.plan.step("dead.short")
    session.enter(step, "500 Ohm")
    outcome = session.enter(step, "OL")
    assert outcome.entry.corrects == 1
    assert [entry.number for entry in store.entries()] == [2]
    assert len(store.entries(Wanted("all"))) == 2


def test_undo_withdraws_and_leads_back(operation, store: Store) -> None:
    session = Session(operation, store, "ada")
    step = session.next_step()
    session.enter(step, "y")
    assert session.undo("wrong button") == step
    assert session.next_step() == step
    assert store.entries() == () and session.undo("again") is None


def test_a_step_is_skipped_only_with_a_reason(operation, store: Store) -> None:
    session = Session(operation, store, "ada")
    step = session.next_step()
    with pytest.raises(ValueError):
        session.skip(step, "  ")
    assert session.skip(step, "alone today").skipped
    assert session.outcomes()[0].entry.reading.note == "alone today"
    assert session.next_step() == session.plan.steps[1]


def test_what_cannot_be_read_is_not_stored(operation, store: Store) -> None:
    session = Session(operation, store, "ada")
    with pytest.raises(ValueError):
        session.enter(session.plan.step("dead.short"), "some")
    assert store.entries() == ()


def test_the_battery_that_was_read_narrows_the_rest_also_after_a_restart(operation, store: Store) -> None:
    session = Session(operation, store, "ada")
    before = session.plan.step("battery.bus.bank-low-cut")
    session.enter(session.plan.step("battery.rest.bank"), "13.31")
    session.refresh()
    for plan in (session.plan, Session(operation, store, "ada").plan):
        after = plan.step("battery.bus.bank-low-cut")
        assert after.high - after.low < 0.3 * (before.high - before.low)
        assert after.low < 13.31 < after.high


def test_a_battery_reading_that_stops_narrows_nothing(operation, store: Store) -> None:
    session = Session(operation, store, "ada")
    before = session.plan.step("battery.bus.bank-low-cut")
    assert session.enter(session.plan.step("battery.rest.bank"), "6.2").verdict.word == "stop"
    session.refresh()
    assert session.plan.step("battery.bus.bank-low-cut").low == before.low


def test_readings_of_another_text_do_not_count(operation, store: Store) -> None:
    session = Session(operation, store, "ada")
    session.enter(session.next_step(), "y")
    from ohmstead.study import from_text

    other = from_text(CABIN.read_text(encoding="utf-8") + "\n# later\n", "cabin.yaml")
    assert Session(other.operation, store, "ada").outcomes() == ()


def test_two_people_share_a_switch_on(operation, tmp_path: Path) -> None:
    file = tmp_path / "cabin.readings.db"
    with open_store(file) as one, open_store(file) as other:
        ada, bea = Session(operation, one, "ada"), Session(operation, other, "bea")
        first, second = ada.plan.steps[:2]
        ada.enter(first, "y")
        bea.look_again()
        assert bea.next_step() == second
        bea.enter(second, "n")
        outcome = ada.enter(second, "y")  # ada has not looked; her answer takes the place of bea's all the same
        assert outcome.entry.corrects == 2
        assert [entry.reading.who for entry in one.entries()] == ["ada", "ada"]
        bea.look_again()
        assert bea.undo("mine no longer") is None
        assert len(one.entries()) == 2
