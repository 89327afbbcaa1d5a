"""Laws of a cabinet in its site: heat is kept, more of it is never cooler, openings never make it hotter."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ohmstead.network.cabinet.climate import Climate
from ohmstead.network.operate import operate
from ohmstead.site.read import read_text

SITE = """ohmstead: 1
site: {{name: box, latitude: {latitude}}}
zones:
  around: {{air: {low}..{high} °C}}
  box: {{inside: around, air: from heat}}
battery:
  bank: {{chemistry: LFP, cells: 8, capacity: 200 Ah, limits: {{discharge: 100 A}}, zone: around}}
parts:
  block: {{kind: distribution, ways: 4, zone: box}}
  supply: {{kind: converter, type: buck, input: 18..32 V, output: 12 V, rating: 200 W,
           efficiency: 0.9, zone: box, at: high}}
  near: {{kind: device, input: 11..13 V, draws: {near} W, zone: box, at: low}}
  far: {{kind: device, input: 11..13 V, draws: {far} W, zone: around}}
cabinet:
  box: {{size: {width} x {height} x 250 mm, mounted: {mounting}, colour: {colour}, daily swing: {swing} K{more}}}
runs:
  - {{from: bank, to: block, length: 1 m, wire: 16 mm2, fuse: 80 A class T, fuse at: 0.1 m}}
  - {{from: block / 1, to: supply, length: 0.4 m, wire: 6 mm2, fuse: 30 A 10x38}}
  - {{from: supply, to: near, length: 0.5 m, wire: 6 mm2}}
  - {{from: supply, to: far, length: 3 m, wire: 6 mm2}}
"""
figures = st.fixed_dictionaries(
    {
        "latitude": st.sampled_from([-35, 10, 57]),
        "low": st.integers(-20, 10),
        "high": st.integers(20, 60),
        "near": st.integers(1, 60),
        "far": st.integers(1, 60),
        "width": st.integers(300, 900),
        "height": st.integers(300, 1200),
        "mounting": st.sampled_from(["free", "floor", "wall", "corner", "recessed"]),
        "colour": st.sampled_from(["white", "black", "bare galvanised"]),
        "swing": st.integers(0, 25),
    }
)
Figures = dict[str, object]


def climate(values: Figures, more: str = "", **changed: object) -> Climate:
    return operate(read_text(SITE.format(**{**values, **changed}, more=more))).climates["box"]


@given(figures)
@settings(max_examples=8)
def test_heat_is_what_stays_in_the_box(values: Figures) -> None:
    """The device inside turns all into heat, the one outside nothing; the converter a ninth of what it gives."""
    found = climate(values)
    near, far = float(str(values["near"])), float(str(values["far"]))
    heat = {name: hours[12] for name, hours in found.hot.heat_w.items()}
    assert heat["near"] == pytest.approx(near, rel=1e-3)
    assert "far" not in heat
    assert 0.0 < heat["supply"] < 0.2 * (near + far) + 1.0
    assert found.hot.trace.heat_w[12] == pytest.approx(sum(heat.values()), rel=1e-6)


@given(figures)
@settings(max_examples=6)
def test_heat_goes_out_as_it_came_in(values: Figures) -> None:
    """Over a day that repeats nothing is left: what is given off leaves by walls and gaps."""
    trace = climate(values).hot.trace
    given_off = sum(trace.heat_w) + sum(trace.sun_w)
    assert sum(trace.wall_w) + sum(trace.vent_w) == pytest.approx(given_off, rel=2e-3)
    assert abs(sum(trace.stored_w)) < 2e-3 * given_off


@given(figures, st.integers(5, 60))
@settings(max_examples=6)
def test_more_heat_is_never_cooler(values: Figures, watts: int) -> None:
    more = climate(values, near=int(str(values["near"])) + watts)
    less = climate(values)
    assert more.air.high > less.air.high and more.air.low >= less.air.low - 0.05


@given(figures, st.sampled_from(["20 cm2", "100 cm2"]))
@settings(max_examples=6)
def test_openings_never_make_it_hotter(values: Figures, area: str) -> None:
    closed, open_ = climate(values), climate(values, f", low vent: {area} front, high vent: {area} front"
                                             if values["mounting"] != "recessed" else "")  # fmt: skip
    assert open_.air.high <= closed.air.high + 0.05


@given(figures)
@settings(max_examples=6)
def test_the_box_is_never_cooler_than_the_air_around_it(values: Figures) -> None:
    """Indoors there is no sky to lose heat to: on the hottest day the air inside stays above that around."""
    found = climate(values)
    assert found.air.high > max(found.hot.around.air_c)
    assert found.air.low > min(found.cold.around.air_c) - 0.05
