"""The answer to "which array, which battery": a sweep over sizes judged by the goal, and what stands beside it."""

from dataclasses import dataclass

from ..season.asked import Wish, offer_of
from ..season.designs import Offer
from ..season.ledger import Ledger
from ..season.scene import Scene, ledger_at, scene_of
from ..season.sweep import Engine, Watch, here, run_sweep
from ..season.tilt import Tilts, tilts_of
from ..season.usual import Usual, usual_of
from ..season.year import Summary, summary_of
from ..site.model import Site
from ..site.place import Place
from ..site.problems import Problem, SiteError
from .sizes import PER_AH
from .sizing import Pick, Sizing
from .worth import Stock


@dataclass(frozen=True, slots=True)
class Recommendation:
    """What was found. chosen: the design that is put forward, None when none keeps the goal; in_full: its whole ledger.

    by: "cost" when prices decided, "middle" when it is the middle of the line of least sizes. one_more: the site as it
    is, with one module more, with one battery more. tilts: None when no array can be turned.
    """

    sizing: Sizing
    frontier: tuple[Pick, ...]
    cheapest: tuple[Pick, ...]
    chosen: Pick | None
    by: str
    in_full: Summary | None
    one_more: tuple[Pick, Pick, Pick]
    tilts: Tilts | None
    usual: Usual

    @property
    def scene(self) -> Scene:
        """The site in its years of hours."""
        return self.sizing.swept.scene


def recommend(
    site: Site,
    wish: Wish,
    turned: str = "",
    manner: str = "grows",
    prices: Stock | None = None,
    run: tuple[str, Engine, Watch | None] = ("", here, None),
) -> Recommendation:
    """Run the sweep that was asked for and judge it. run: file that keeps what is finished, engine, who watches.

    Raises SiteError, QuantityError, KeepError and Stopped.
    """
    _check(prices)
    scene = scene_of(site, turned, manner)
    if scene.asked_wh < 1e-3 * scene.hours.n_hour:
        place = Place(site.path, 0, 1, 0, 0)
        what = "the devices of the site ask for nothing: any array and any battery will do"
        raise SiteError([Problem(place, what, "at least one device with a duty", "describe what draws, and when")])
    tilts = tilts_of(scene) if scene.turned else None
    usual = usual_of(scene, tilts)
    ratios = (usual.array_w / scene.rated_w, usual.battery_wh / max(scene.bank.full_wh, 1e-9))
    swept = run_sweep(scene, offer_of(scene, wish, ratios), *run)
    sizing = Sizing(swept, prices=prices)
    frontier, cheapest = sizing.frontier(), sizing.cheapest()
    chosen = cheapest[0] if cheapest else (frontier[len(frontier) // 2] if frontier else None)
    return Recommendation(
        sizing=sizing,
        frontier=frontier,
        cheapest=cheapest,
        chosen=chosen,
        by="cost" if cheapest else "middle",
        in_full=summary_of(ledger_of(sizing, chosen), sizing.goal) if chosen else None,
        one_more=_one_more(scene, sizing),
        tilts=tilts,
        usual=usual,
    )


def ledger_of(sizing: Sizing, pick: Pick) -> Ledger:
    """The whole ledger of a design."""
    mixes, offer, number = sizing.swept.mixes, sizing.swept.offer, pick.number
    return ledger_at(sizing.swept.scene, offer.facings[mixes.facing[number]], offer.arrays[mixes.array[number]],
                     offer.banks[mixes.bank[number]], offer.cuts[mixes.cut[number]])  # fmt: skip


def _one_more(scene: Scene, sizing: Sizing) -> tuple[Pick, Pick, Pick]:
    """The site as it is, with one more module, with one more battery like the one it has."""
    n_module = sum(array.series * array.parallel for array in scene.site.arrays.values())
    n_battery = sum(max(1, battery.parallel) for battery in scene.site.batteries.values())
    offer = Offer((1.0, 1.0 + 1.0 / n_module), (scene.facing,), (1.0, 1.0 + 1.0 / n_battery))
    found = Sizing(run_sweep(scene, offer), sizing.goal, sizing.prices)
    return found.pick(0), found.pick(2), found.pick(1)


def _check(prices: Stock | None) -> None:
    """A price list that is given must say what panels and battery cost."""
    if prices is None:
        return
    lacking = [] if "panels" in prices.by_size else ["panels"]
    lacking += [] if {"battery", PER_AH} & prices.by_size.keys() else ["battery"]
    if lacking:
        what = f"the price list has no line for {' and '.join(lacking)}"
        expected = "`panels` with a price for W, `battery` with one for kWh or Ah, and `controller` with one for A"
        raise SiteError([Problem(Place("", 0, 1, 0, 0), what, expected, "add them (docs/prices.md)")], "")
