"""How far a wire may run before its fuse."""

import pytest

from ohmstead.evidence.finding import Severity
from rules.small_site import said, site

RUN = "from: bank, to: lamp, length: 5 m, wire: 4 mm2, laid: clipped, fuse: 10 A blade, fuse at: {}"


@pytest.mark.parametrize(
    ("rules", "sheathed", "limit_m", "place", "read"),
    [
        ("small craft", "no", 7 * 0.0254, "183.455(a): 7 inches", "original"),
        ("small craft", "yes", 40 * 0.0254, "183.455(a): 40 inches when enclosed", "original"),
        ("IEC", "yes", 3.0, "434.2.1: 3 m", "from memory"),
    ],
)
def test_the_published_distances(outside, rules, sheathed, limit_m, place, read):
    def speaks(at_m):
        run = RUN.format(f"{at_m} m") + f", sheathed: {sheathed}"
        return said(site([run], about=f"rules: {rules}"), "fuse-too-far")

    (finding,) = speaks(limit_m + 0.01)
    assert not speaks(limit_m - 0.01)
    source = "iec-60364-4-43" if rules == "IEC" else "33-cfr-183"
    outside(
        source=source, place=place, read=read, what="unfused length of wire", deviation=abs(finding.limit / limit_m - 1)
    )
    assert finding.limit == pytest.approx(limit_m, rel=0.002)  # 178 mm and 1016 mm stand in the law itself


def test_runs_before_the_fuse_count_and_one_bare_stretch_is_one_finding():
    parts = (
        "main: {kind: switch, rating: 60 A, voltage: 60 V}\nblock: {kind: distribution, ways: 4, per way: 30 A}\n"
        "fan: {kind: device, input: 7..64 V, draws: 5 W}"
    )
    runs = [
        "from: bank, to: main, length: 0.12 m, wire: 6 mm2",
        "from: main, to: block, length: 0.12 m, wire: 6 mm2",
        "from: block / 1, to: lamp, length: 2 m, wire: 2.5 mm2, fuse: 5 A blade",
        "from: block / 2, to: fan, length: 2 m, wire: 2.5 mm2, fuse: 5 A blade",
    ]
    (finding,) = said(site(runs, parts), "fuse-too-far", "unfused-run")
    assert finding.value == pytest.approx(0.24)


def test_an_assumed_place_is_called_assumed():
    runs = [
        "from: bank, to: bar, length: 170 mm, wire: 6 mm2",
        "from: bar, to: more, length: 170 mm, wire: 6 mm2",
        "from: more, to: lamp, length: 2 m, wire: 2.5 mm2, fuse: 5 A blade",
    ]
    (finding,) = said(site(runs, "bar: {kind: busbar}\nmore: {kind: busbar}"), "fuse-too-far")
    assert "not stated" in finding.message and finding.severity is Severity.FAILS


def test_a_tap_from_a_bus_counts_only_when_the_main_is_too_large_for_it():
    tap = "from: bar, to: lamp, length: 5 m, wire: 2.5 mm2, laid: clipped, fuse: 5 A blade, fuse at: 1.5 m"
    main = "from: bank, to: bar, length: 1 m, wire: 10 mm2, laid: clipped, fuse: {}, fuse at: 0.1 m"
    (finding,) = said(site([main.format("60 A class T"), tap], "bar: {kind: busbar}"), "fuse-too-far")
    assert finding.severity is Severity.DANGER and "after bar" in finding.message
    assert not said(site([main.format("20 A blade"), tap], "bar: {kind: busbar}"), "fuse-too-far")
