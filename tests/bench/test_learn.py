"""Learning: the true figures come out within their uncertainty, and the site file says so afterwards."""

import pytest

from bench.small import TEXT, bench, readings
from ohmstead.bench.expect import expectations
from ohmstead.bench.learn import learn
from ohmstead.bench.proposals import changes_of, with_comment, written
from ohmstead.site.edit import EditRefused
from ohmstead.site.read import read_text


@pytest.fixture(scope="module")
def supply():
    return bench()


def drawn(found, seed):
    """The strays that `small.readings` gives the supply for a seed."""
    from random import Random

    dice = Random(seed)
    return {p.id: p.bounds.nominal + dice.uniform(-0.6, 0.6) * p.half for p in found.parameters}


def test_the_true_figures_come_out(supply):
    off = []
    for seed in range(12):
        lesson = learn(supply, readings(supply, {}, "joints", seed))
        assert lesson.faults == ()
        true = drawn(supply, seed)
        off += [(one.value - true[one.parameter]) / one.uncertainty for one in lesson.learned]
    within = sum(abs(z) < 2.0 for z in off) / len(off)
    assert within > 0.93  # 95 % would be meant; strays are drawn from the middle of their bounds
    assert sum(abs(z) < 4.0 for z in off) / len(off) > 0.998


def test_what_is_measured_is_known_more_sharply(supply):
    lesson = learn(supply, readings(supply, {}, "joints"))
    ratio = {one.parameter: one.ratio for one in lesson.learned}
    for name in ("set-point of rack supply", "idle of rack supply", "draw idle of recorder", "draw idle of lamps"):
        assert ratio[name] > 2.0, name
    assert all(one.ratio > 1.0 - 1e-9 for one in lesson.learned)


def test_nothing_is_learned_from_a_supply_with_a_fault(supply):
    lesson = learn(supply, readings(supply, {"set-point of rack supply": 2.0}, "joints"))
    assert lesson.learned == ()
    assert lesson.faults[0].key == ("set-point", "rack supply", "")


def test_the_site_file_takes_it_with_a_date_and_bands_tighten(supply):
    taken = readings(supply, {}, "joints")
    changes = changes_of(supply, learn(supply, taken))
    after = written(supply.operation.site, changes, "measured 2026-11-27")
    site = read_text(after)
    rack, true = site.parts["rack supply"], drawn(supply, 1)
    assert rack.output_v.nominal == pytest.approx(true["set-point of rack supply"], rel=0.01)
    assert rack.output_v.high - rack.output_v.nominal < 0.01 * 19
    assert rack.idle.power_w == pytest.approx(true["idle of rack supply"], rel=0.05)
    assert rack.measured_fraction is not None
    assert "# on the shelf; measured 2026-11-27: idle ±" in after  # the builder's own comment stays
    unchanged = [line for line in TEXT.splitlines() if "pump," in line or "site:" in line or "block:" in line]
    assert all(line in after for line in unchanged if "{from" not in line)
    again = bench(after)
    situation, points = taken[-1].situation, [o.point for o in taken if o.situation is taken[-1].situation]
    pairs = zip(expectations(supply, situation, points), expectations(again, situation, points), strict=True)
    ratios = [(new.high - new.low) / (old.high - old.low) for old, new in pairs]
    assert sum(ratios) / len(ratios) < 0.9


def test_learning_again_replaces_its_own_comment(supply):
    changes = changes_of(supply, learn(supply, readings(supply, {}, "joints")))
    once = written(supply.operation.site, changes, "measured 2026-11-27")
    twice = written(read_text(once), changes, "measured 2026-12-24")
    assert "2026-11-27" not in twice
    assert once.count("# ") == twice.count("# ")
    assert once.replace("2026-11-27", "2026-12-24") == twice


@pytest.mark.parametrize(
    ("text", "line", "expected"),
    [
        ("site: {name: hut}", 0, "site: {name: hut}   # measured x"),
        ("site: {name: 'a # b'}  # mine", 0, "site: {name: 'a # b'}  # mine; measured x"),
        ("site: {name: hut}  # measured with its links", 0, "site: {name: hut}  # measured with its links; measured x"),
        ("site:\r\n  name: hut\r\n", 1, "site:\r\n  name: hut   # measured x\r\n"),
        ("site:\n  name: {a: 1,  # first\n    b: 2}", 1, "site:\n  name: {a: 1,  # first; measured x\n    b: 2}"),
    ],
)
def test_comments_stay(text, line, expected):
    assert with_comment(text, "a.yaml", line, "measured x") == expected


def test_a_line_inside_a_text_takes_no_comment():
    with pytest.raises(EditRefused, match="line 2 cannot"):
        with_comment('site:\n  name: "hut\n    by the lake"\n', "a.yaml", 1, "measured x")
