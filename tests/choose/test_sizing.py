"""Which array with which battery: the line of least sizes, the least cost, the map."""

from xml.etree import ElementTree

import numpy as np
import pytest

from ohmstead.choose.prices import read_price_text
from ohmstead.choose.recommend import recommend
from ohmstead.choose.size_picture import size_map
from ohmstead.choose.sizing import Sizing
from ohmstead.quantity.faults import QuantityError
from ohmstead.season.asked import Wish, angles, cuts, offer_of, sizes
from ohmstead.season.designs import Offer, spread
from ohmstead.season.scene import scene_of
from ohmstead.season.sweep import run_sweep
from ohmstead.season.swept import MET
from ohmstead.season.trouble import SeasonError
from ohmstead.sheets.render.raster import png
from ohmstead.site.problems import SiteError
from ohmstead.site.read import read_text

from ..season.hut import HUT

PRICES = "item,price,unit,currency\npanels,40,100 W,EUR\nbattery,3,Ah,EUR\ncontroller,5,A,EUR\n"


@pytest.fixture(scope="module")
def sizing() -> Sizing:
    scene = scene_of(read_text(HUT))
    offer = Offer(spread(0.5, 8.0, 13), ((45.0, 180.0), (65.0, 180.0)), spread(0.5, 4.0, 9))
    return Sizing(run_sweep(scene, offer), prices=read_price_text(PRICES))


def test_nothing_smaller_keeps_the_goal(sizing: Sizing) -> None:
    """Against all designs one by one: no other needs less of one and no more of the other."""
    line = sizing.frontier()
    assert len(line) >= 2
    kept = np.flatnonzero(sizing.verdict == MET)
    arrays, banks = sizing.swept.array_w, sizing.swept.battery_wh
    for pick in line:
        assert pick.verdict == "met"
        assert pick.most_unserved_fraction <= sizing.goal.unserved_fraction
        less = (arrays[kept] <= pick.array_w) & (banks[kept] <= pick.battery_wh)
        same = (arrays[kept] == pick.array_w) & (banks[kept] == pick.battery_wh)
        assert (less == same).all()
    for number in kept:  # and every design that keeps the goal lies beyond the line
        assert any(p.array_w <= arrays[number] and p.battery_wh <= banks[number] for p in line)


def test_least_cost_is_the_least_of_all_that_keep_the_goal(sizing: Sizing) -> None:
    cheapest = sizing.cheapest(5)
    assert [pick.cost for pick in cheapest] == sorted(pick.cost for pick in cheapest if pick.cost is not None)
    swept = sizing.swept
    by_hand = swept.array_w * 0.4 + swept.battery_ah * 3.0 + 20.0 * swept.array_w / 200.0 * 5.0
    kept = sizing.verdict == MET
    assert cheapest[0].cost == pytest.approx(by_hand[kept].min())
    assert cheapest[0].controller_a == pytest.approx(20.0 * cheapest[0].array_w / 200.0)


def test_the_map_shows_the_best_facing(sizing: Sizing) -> None:
    unserved, verdict, numbers = sizing.map()
    assert unserved.shape == (13, 9)
    facing = sizing.swept.unserved_fraction.reshape(2, 13, 9)
    np.testing.assert_array_equal(unserved, facing.min(axis=0))
    np.testing.assert_array_equal(verdict, sizing.verdict[numbers])
    text = size_map(sizing)
    assert text == size_map(sizing)
    assert ElementTree.fromstring(text).tag.endswith("svg")
    assert "least cost" in text and "as it is" in text
    assert png(text)[:8] == b"\x89PNG\r\n\x1a\n"


def test_what_is_put_forward_is_reckoned_in_full() -> None:
    found = recommend(read_text(HUT), Wish(array="100..1600 W in 9", battery="50..400 Ah in 7"),
                      prices=read_price_text(PRICES))  # fmt: skip
    assert found.chosen == found.cheapest[0] and found.by == "cost"
    assert found.in_full is not None and found.in_full.verdict == "met"
    assert found.in_full.unserved_fraction == pytest.approx(found.chosen.unserved_fraction, rel=0.02)
    now, module, battery = found.one_more
    assert (now.array_w, module.array_w, battery.array_w) == pytest.approx((200.0, 300.0, 200.0))
    assert (now.battery_ah, module.battery_ah, battery.battery_ah) == pytest.approx((100.0, 100.0, 200.0))
    assert module.unserved_fraction <= now.unserved_fraction
    assert found.tilts is not None and found.tilts.tilts_deg[found.tilts.best] > 45.0


def test_when_nothing_keeps_the_goal_nothing_is_put_forward() -> None:
    found = recommend(read_text(HUT), Wish(array="60 W", battery="20 Ah"))
    assert found.chosen is None and found.frontier == () and found.in_full is None


def test_a_site_that_asks_for_nothing_is_told() -> None:
    text = "\n".join(line for line in HUT.splitlines() if "lamp" not in line and "radio" not in line)
    with pytest.raises(SiteError) as fault:
        recommend(read_text(text.replace("night draw: 0.5 W", "night draw: 0 W")), Wish())
    assert "ask for nothing" in fault.value.problems[0].what


def test_the_usual_range_holds_what_there_is_and_what_is_usual() -> None:
    scene = scene_of(read_text(HUT))
    offer = offer_of(scene, Wish(), (3.0, 0.5))
    assert 1.0 in offer.arrays and 1.0 in offer.banks
    assert min(offer.arrays) <= 0.5 and max(offer.arrays) == pytest.approx(6.0, rel=0.05)
    assert min(offer.banks) == pytest.approx(0.25, rel=0.05) and max(offer.banks) == pytest.approx(2.0, rel=0.05)
    assert len(offer_of(scene, Wish(planes=50), (1.0, 1.0)).facings) == 50
    with pytest.raises(SeasonError, match="too many"):
        offer_of(scene, Wish(array="1..999 W in 999", battery="1..999 Ah in 999", tilt="0..90° in 19"), (1.0, 1.0))


@pytest.mark.parametrize(
    ("read", "text"),
    [(lambda t: sizes(t, "power", 5), "400"), (lambda t: sizes(t, "power", 5), "0 W"),
     (lambda t: sizes(t, "charge", 5), "10 W"), (angles, "30..60"), (cuts, "24 Ah")],
)  # fmt: skip
def test_sizes_without_meaning_are_told(read, text: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(QuantityError):
        read(text)


@pytest.mark.parametrize(
    ("line", "told"),
    [("panels,0.40,piece,EUR", "`piece` is no unit"), ("battery,300,W,EUR", "`W` is no unit"),
     ("panels,\"0,4\",W,EUR", "is no number"), ("controller,,A,EUR", "is no number")],
)  # fmt: skip
def test_prices_by_size_that_cannot_be_used_are_told(line: str, told: str) -> None:
    with pytest.raises(SiteError) as fault:
        read_price_text(f"item,price,unit,currency\n{line}\n")
    assert told in fault.value.problems[0].what


def test_a_list_without_panels_is_told() -> None:
    with pytest.raises(SiteError) as fault:
        recommend(
            read_text(HUT), Wish(), prices=read_price_text("item,price,unit\nbattery,300,kWh\n10 A blade,1,piece\n")
        )
    assert "panels" in fault.value.problems[0].what
