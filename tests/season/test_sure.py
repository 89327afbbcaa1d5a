"""How sure a share or a mean is: against published intervals and tables."""

import pytest

from ohmstead.season.sure import mean_most, student, wilson


@pytest.mark.parametrize(
    ("hit", "of", "least", "most"),
    [(81, 263, 0.2553, 0.3662), (15, 148, 0.0624, 0.1605), (0, 20, 0.0, 0.1611), (1, 29, 0.0061, 0.1718)],
)
def test_newcombe_table_1_score_method(outside, hit: int, of: int, least: float, most: float) -> None:  # type: ignore[no-untyped-def]
    found = wilson(hit, of, 0.95)
    outside(source="newcombe-1998", place="table I, method 3", read="from memory",
            what="interval of a share", deviation=max(abs(found[0] - least), abs(found[1] - most)))  # fmt: skip
    assert found == pytest.approx((least, most), abs=6e-5)


@pytest.mark.parametrize(
    ("free", "confidence", "point"),
    [(3, 0.90, 1.638), (5, 0.975, 2.571), (9, 0.90, 1.383), (10, 0.95, 1.812), (19, 0.90, 1.328), (30, 0.99, 2.457)],
)
def test_student_table(outside, free: int, confidence: float, point: float) -> None:  # type: ignore[no-untyped-def]
    found = student(free, confidence)
    outside(source="student-table", place="one-sided points", read="from memory",
            what="point of Student's distribution", deviation=abs(found / point - 1))  # fmt: skip
    assert found == pytest.approx(point, rel=2e-3)


def test_few_years_prove_nothing_and_more_prove_more() -> None:
    assert mean_most([0.0, 0.01, 0.0], 0.9) == float("inf")
    few = mean_most([0.0, 0.01] * 4, 0.9)
    many = mean_most([0.0, 0.01] * 40, 0.9)
    assert 0.005 < many < few


def test_no_years_leave_the_share_open() -> None:
    assert wilson(0, 0, 0.9) == (0.0, 1.0)
