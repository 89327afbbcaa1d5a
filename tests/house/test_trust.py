"""The trust page: what goes in comes out, and what is out of step is told."""

import pytest

from house import trust

CLASS_5 = ("iec-60228", "table 3", "from memory", "class 5 resistance")


def rows() -> list[trust.Row]:
    return trust.merged(
        [
            trust.Row("ngspice", "", "program", "every node voltage", 4.2e-7, "oracle/test_a.py::test_b"),
            trust.Row(*CLASS_5, 0.0021, "published/test_c.py::test_d"),
            trust.Row(*CLASS_5, 0.0042, "published/test_c.py::test_d"),
            trust.Row("trade", "", "common practice", "an order", None, "published/test_e.py::test_f"),
        ]
    )


def test_repeats_keep_the_worst_and_memory_comes_first() -> None:
    assert [r.read for r in rows()] == ["from memory", "common practice", "program"]
    assert rows()[0].deviation == 0.0042


def test_the_page_is_read_back_as_written() -> None:
    back = trust.read_page(trust.page(rows()))
    assert [r.key for r in back] == [r.key for r in rows()]
    assert back[0].deviation == pytest.approx(0.0042)
    assert back[1].deviation is None
    assert trust.differences(back, rows(), set()) == []


def test_a_missing_row_a_dead_row_and_a_worse_figure_are_told() -> None:
    whole = rows()
    assert "lacks" in trust.differences(whole[1:], whole, set())[0]
    assert "any more" in trust.differences(whole, whole[1:], set())[0]
    worse = [trust.replace(r, deviation=0.3 if r.deviation else None) for r in whole]
    assert len(trust.differences(whole, worse, set())) == 2


def test_rows_of_tests_that_did_not_run_stay() -> None:
    whole = rows()
    assert trust.differences(whole, whole[1:], {whole[0].test}) == []


def test_deviations_are_compared_by_order_of_magnitude() -> None:
    assert trust.same_order(0.002, 0.009)
    assert trust.same_order(0.0, 1e-7)
    assert not trust.same_order(0.002, 0.05)
    assert not trust.same_order(None, 0.1)


@pytest.mark.parametrize("bad", [{"read": "guessed"}, {"what": " "}, {"place": "a|b"}, {"deviation": float("nan")}])
def test_nonsense_is_refused(bad: dict) -> None:
    good = {"source": "x", "place": "", "read": "original", "what": "y", "deviation": 0.1}
    with pytest.raises(ValueError, match=next(iter(bad))):
        trust.record(**(good | bad))
