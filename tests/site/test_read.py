"""What a site file says arrives in the model: values, origins, places."""

import re
from pathlib import Path

import pytest
import yaml

from ohmstead.quantity.span import Span
from ohmstead.site import compose
from ohmstead.site.declare import declared
from ohmstead.site.kinds import (
    Busbar,
    Charger,
    Converter,
    Device,
    Disconnect,
    Distribution,
    EthernetSource,
    Switch,
)
from ohmstead.site.model import Site
from ohmstead.site.pieces import (
    ChargeLimits,
    Draw,
    DutyEntry,
    Endpoint,
    Idle,
    LaidAs,
    Lockout,
    OpenCircuit,
)
from ohmstead.site.read import SiteError, read_site, read_text

FULL = Path(__file__).parent / "full.yaml"


@pytest.fixture(scope="module")
def site() -> Site:
    return read_site(FULL)


def test_the_full_file_uses_every_key(site: Site) -> None:
    """Otherwise a key could be read by nobody."""
    things = [site.about, *site.zones.values(), *site.batteries.values(), *site.parts.values(), *site.runs]
    things += site.accepted
    used: dict[type, set[str]] = {}
    for thing in things:
        written = {name for name, origin in thing.origin.items() if origin.how in ("stated", "choose")}
        used.setdefault(type(thing), set()).update(written)
    for cls, names in used.items():
        assert names == set(declared(cls)), cls
    assert {Busbar, Charger, Converter, Device, Disconnect, Distribution, EthernetSource, Switch} <= set(used)


def test_every_attribute_has_an_origin(site: Site) -> None:
    things = [site.about, *site.zones.values(), *site.batteries.values(), *site.parts.values(), *site.runs]
    for thing in things:
        assert set(thing.origin) == set(declared(type(thing)))
        for name, origin in thing.origin.items():
            assert origin.how in ("stated", "assumed", "choose", "plan", "missing")
            assert (origin.place is not None) == (origin.how in ("stated", "choose", "plan")), name
            assert bool(origin.note) == (origin.how == "assumed"), name


def test_places_point_at_the_value(site: Site) -> None:
    lines = site.text.split("\n")
    run = site.runs[0]
    for attribute, text in (("length_m", "0.4 m"), ("wire", "35 mm2"), ("ends", "[ring M8, ring M8]")):
        place = run.origin[attribute].place
        assert place is not None and place.file == str(FULL)
        assert site.text[place.start : place.end] == text
        assert lines[place.line - 1][place.column - 1 :].startswith(text)


def test_places_count_characters_not_bytes() -> None:
    text = "ohmstead: 1\nsite: {name: Ärmelhütte Ω🙂, rules: US, touch: wet}\n"
    place = read_text(text).about.origin["outlets_touchable"].place
    assert place is not None
    assert text[place.start : place.end] == "wet"
    assert text.split("\n")[place.line - 1][place.column - 1 :].startswith("wet")


def test_about(site: Site) -> None:
    about = site.about
    assert (about.name, about.latitude, about.longitude, about.elevation_m) == ("Skerry hide", 57.6, -7.5, 12.0)
    assert (about.rules, about.clear_within_s, about.drop_limit_fraction) == ("IEC", 5.0, 0.05)
    assert (about.outlets_touchable, about.timezone) == ("wet", "Europe/London")


def test_zones_and_their_air(site: Site) -> None:
    assert site.air_of("outdoors") == Span(-8.0, 8.0, 24.0)
    assert site.zones["loft"].inside == "outdoors"
    assert site.air_of("shelf") == Span(-4.0, 18.5 + 4.0, 41.0 + 8.0)
    assert site.air_of("cellar") == Span(11.0, 11.0, 11.0)
    assert site.air_of("nowhere") == Span(15.0, 22.5, 30.0)


def test_battery(site: Site) -> None:
    bank = site.batteries["bank"]
    assert (bank.chemistry, bank.cells, bank.capacity_ah, bank.resistance_ohm) == ("LFP", 8, 230.0, 0.0026)
    assert isinstance(bank.cells, int)
    assert bank.limits == ChargeLimits(120.0, 100.0, 500.0)
    assert bank.open_circuit == OpenCircuit(27.2, 26.3, 22.0)
    old = site.batteries["old bank"]
    assert (old.cells, old.voltage_v) == (0, 24.0)
    assert old.origin["cells"].how == "missing"
    assert old.origin["resistance_ohm"].how == "missing"
    assert old.origin["slow_ohm"].note == "no slow part"
    assert old.origin["slow_s"].note == "60 s"


def test_parts(site: Site) -> None:
    cut = site.parts["low cut"]
    assert isinstance(cut, Disconnect)
    assert (cut.off_v, cut.on_v, cut.delay_s, cut.senses, cut.own_w) == (24.2, 26.2, 10.0, "bank", 0.05)
    assert cut.stud_mm == pytest.approx(5 / 16 * 25.4)
    supply = site.parts["net supply"]
    assert isinstance(supply, Converter)
    assert supply.input_v == Span(20.0, 26.0, 32.0)
    assert (supply.output_v.low, supply.output_v.high) == pytest.approx((53.46, 54.54))
    assert supply.idle == Idle(pytest.approx(0.014 * 25.6), 25.6)
    assert supply.efficiency == ((0.1, 0.86), (0.5, 0.94), (1.0, 0.92))
    assert supply.lockout == Lockout(18.0, 19.0)
    rack = site.parts["rack supply"]
    assert isinstance(rack, Converter)
    assert rack.rating_w is None and rack.origin["rating_w"].how == "choose"
    assert rack.efficiency == ((0.5, 0.93),)
    assert rack.origin["nothing_at_c"].note == "falls to nothing at 85 °C"
    camera = site.parts["east camera"]
    assert isinstance(camera, Device)
    assert camera.class_ == 3


def test_draws_and_duty(site: Site) -> None:
    recorder, pump, lamps = site.parts["recorder"], site.parts["pump"], site.parts["lamps"]
    spare, camera = site.parts["service spare"], site.parts["east camera"]
    assert isinstance(recorder, Device) and isinstance(pump, Device) and isinstance(lamps, Device)
    assert isinstance(spare, Device) and isinstance(camera, Device)
    assert recorder.draws[3] == Draw("start-up", Span(55.0, 55.0, 55.0), 25.0)
    assert recorder.duty == (DutyEntry("recording", "clock", 3.5, 9.5), DutyEntry("idle", "rest"))
    assert pump.draws[0].power_w.nominal == pytest.approx(3.1 * 24)
    assert pump.duty == (DutyEntry("running", "clock", 6.0, 6.5), DutyEntry("running", "clock", 18.0, 18.5))
    assert lamps.draws == (Draw("on", Span(18.0, 18.0, 18.0)),)
    assert lamps.duty == (DutyEntry("on", "daily hours", hours=2.0),)
    assert spare.draws == (Draw("on", Span(0.0, 60.0, 120.0)),)
    assert spare.duty == (DutyEntry("on", "any"),)
    assert camera.duty == (DutyEntry("night", "dark"), DutyEntry("day", "rest"))


def test_runs(site: Site) -> None:
    first, choice = site.runs[0], site.runs[8]
    assert first.number == 1 and first.name == "bank -> bank switch"
    assert first.start == Endpoint("bank") and first.length_m == 0.4
    assert first.fuse is not None and first.fuse.rating_a == 125.0
    assert first.fuse_window == {1.35: (10.0, 600.0), 2.0: (0.5, 240.0)}
    assert [end.stud_mm for end in first.ends] == [8.0, 8.0]
    assert choice.start == Endpoint("fuse block", 2)
    assert choice.wire is None and choice.origin["wire"].how == "choose"
    assert choice.fuse is None and choice.origin["fuse"].how == "choose"
    by_end = {run.end.part: run for run in site.runs}
    assert by_end["net supply"].laid == LaidAs("in trunking", 5)
    assert by_end["lamps"].laid == LaidAs("bundled", 3)
    assert by_end["pump"].length_m == 7.5
    assert by_end["net switch"].length_m == 0.8
    assert by_end["fuse block"].length_m == pytest.approx(3.048)
    assert by_end["east camera"].cable is not None
    assert by_end["rack supply"].origin["laid"].note == "in trunking on its own"


def test_accepted(site: Site) -> None:
    first, second = site.accepted
    assert (first.finding, first.on, first.until) == ("drop-on-path", "lamps", "2028-01-01")
    assert (second.on, second.until) == ("", "")


def test_words_mean_what_was_typed() -> None:
    """YAML 1.1 would read these as false, 750 and 8."""
    text = "ohmstead: 1\nsite: {name: no, timezone: 12:30}\nparts: {off: {kind: busbar}, 010: {kind: busbar}}\n"
    site = read_text(text)
    assert site.about.name == "no" and site.about.timezone == "12:30"
    assert set(site.parts) == {"off", "010"}


def test_sections_may_be_empty() -> None:
    site = read_text("ohmstead: 1\nsite:\nzones:\nbattery:\nparts:\nruns:\naccepted:\n")
    assert site.about.name == "site" and site.runs == () and not site.parts


def test_hard_and_narrow_spaces_count_as_spaces() -> None:
    text = "ohmstead: 1\nsite: {elevation: 12\u202fm}\nparts: {fuse\xa0block: {kind: busbar, rating: 5\xa0A}}\n"
    site = read_text(text)
    assert site.about.elevation_m == 12.0
    assert set(site.parts) == {"fuse block"}


def test_a_bare_now_and_then_means_every_lasting_state() -> None:
    text = (
        "ohmstead: 1\nparts:\n"
        "  tv: {kind: device, draws: {low: 4 W, high: 8 W, start-up: 20 W for 2 s}, duty: now and then}\n"
    )
    tv = read_text(text).parts["tv"]
    assert isinstance(tv, Device)
    assert tv.duty == (DutyEntry("low", "any"), DutyEntry("high", "any"))


@pytest.mark.parametrize(
    ("written", "entry"),
    [
        ("22:00-06:00", DutyEntry("on", "clock", 22.0, 6.0)),
        ("00:00-24:00", DutyEntry("on", "clock", 0.0, 24.0)),
        ("8:15 – 9:00", DutyEntry("on", "clock", 8.25, 9.0)),
        ("always", DutyEntry("on", "clock", 0.0, 24.0)),
        ("dusk..dawn", DutyEntry("on", "dark")),
        ("dawn - dusk", DutyEntry("on", "light")),
        ("90 min per day", DutyEntry("on", "daily hours", hours=1.5)),
    ],
)
def test_times(written: str, entry: DutyEntry) -> None:
    text = f"ohmstead: 1\nparts:\n  lamp: {{kind: device, draws: 5 W, duty: {written}}}\n"
    lamp = read_text(text).parts["lamp"]
    assert isinstance(lamp, Device)
    assert lamp.duty == (entry,)


def test_two_windows_of_two_states_may_touch() -> None:
    text = (
        "ohmstead: 1\nparts:\n  tv: {kind: device, draws: {low: 4 W, high: 8 W}, "
        "duty: {low: 22:00-06:00, high: 06:00-22:00}}\n"
    )
    assert read_text(text).parts["tv"]


@pytest.mark.parametrize("newline", ["\n", "\r\n", "\r"])
def test_any_line_end_and_a_byte_order_mark(site: Site, newline: str) -> None:
    text = "\ufeff" + FULL.read_text(encoding="utf-8").replace("\n", newline)
    other = read_text(text, str(FULL))
    assert other.runs[3].length_m == site.runs[3].length_m
    for run, same in zip(site.runs, other.runs, strict=True):
        one, two = run.origin["length_m"].place, same.origin["length_m"].place
        assert one is not None and two is not None
        assert (one.line, one.column) == (two.line, two.column)
        assert site.text[one.start : one.end] == text[two.start : two.end]


def test_the_pure_reader_agrees_with_the_compiled_one(site: Site, monkeypatch: pytest.MonkeyPatch) -> None:
    """PyYAML without its compiled part gives the same site, places included."""
    monkeypatch.setattr(compose, "Loader", yaml.SafeLoader)
    assert read_site(FULL) == site


def test_all_problems_are_told_at_once_in_the_order_of_lines() -> None:
    text = "ohmstead: 1\nzones:\n  a: {air: hot}\nparts:\n  b: {kind: x}\nruns:\n  - {from: b, to: c, length: 1}\n"
    with pytest.raises(SiteError) as told:
        read_text(text, "site.yaml")
    lines = [problem.place.line for problem in told.value.problems]
    assert lines == sorted(lines) and set(lines) == {3, 5, 7}


def test_problems_beyond_use_are_not_piled_up() -> None:
    runs = "".join(f"  - {{from: a, to: b, length: {n}}}\n" for n in range(500))
    with pytest.raises(SiteError) as told:
        read_text(f"ohmstead: 1\nruns:\n{runs}")
    assert len(told.value.problems) == 100


def test_a_bomb_of_brackets_is_left_at_once() -> None:
    for text in ("[" * 1_000_000, "{a: " * 300_000, "- " * 1_000_000, "? " * 100_000):
        with pytest.raises(SiteError, match="deeper than 20 levels|not read|stands where"):
            read_text(text)


def test_the_example_of_the_docs_of_messages() -> None:
    """The form that the house promises, to the last blank."""
    text = "ohmstead: 1\nruns:\n  - {from: battery, to: fuse block, length: 1.6, wire: 16 mm2}\n"
    with pytest.raises(SiteError) as told:
        read_text(text, "skerry.yaml")
    shown = re.search(r"skerry.yaml, line 3: length needs a unit\n(.*\n.*\n.*\n.*)", str(told.value))
    assert shown is not None
    assert shown[1] == (
        "    3 |   - {from: battery, to: fuse block, length: 1.6, wire: 16 mm2}\n"
        "                                                    ^^^\n"
        "   expected  a length such as 1.6 m or 5 ft\n"
        "   mend      write 1.6 m (or 1.6 ft)"
    )


@pytest.mark.parametrize("zone", ["loft", "loft 2", "2nd floor", "K", "box + lid", "-"])
def test_air_above_a_zone_of_any_name(zone: str) -> None:
    site = read_text(f"ohmstead: 1\nzones:\n  {zone!r}: {{air: -4..41 °C}}\n  box: {{air: '{zone} + 9 °F'}}\n")
    assert site.zones["box"].air is not None and site.zones["box"].air.above == zone
    assert site.air_of("box").high == pytest.approx(46.0)
