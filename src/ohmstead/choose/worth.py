"""What an option costs: grams of metal, or money by the builder's list, own parts first."""

from collections.abc import Mapping
from dataclasses import field

from ..parts.fuse import Fuse
from ..parts.wire import Wire
from ..site.record import record
from .options import Decision, Option

UNLISTED = 1e4  # an item the list does not name costs so many times more that it is taken only in need
GRAMS = 1000.0
NOT_OWN = 0.01  # in grams: a fuse at hand is taken before one to buy
PER_KG = 1e-3  # of money: between two that cost the same, less metal


@record(frozen=True)
class Length:
    """So many equal lengths of wire at hand: the line that says so, and as it is written there. `colour` "": any."""

    line: int
    length_m: float
    count: int
    colour: str
    said: str


@record(frozen=True)
class Item:
    """A thing of a price list: what it is, its price a metre or piece, how much of it is at hand."""

    text: str
    thing: Wire | Fuse
    price: float | None = None
    own: float = 0.0
    lengths: tuple[Length, ...] = ()

    @property
    def same(self) -> tuple[object, ...]:
        """Equal for equal things."""
        return identity(self.thing)


@record(frozen=True)
class Stock:
    """A price list: its lines, the currency it names ("" when it names none), and what is sold by size.

    by_size: price of a W of panels, a Wh (or, as "battery charge", an Ah) of battery, an A of controller.
    """

    items: tuple[Item, ...]
    currency: str = ""
    by_size: Mapping[str, float] = field(default_factory=dict)

    @property
    def priced(self) -> str:
        """ "yes" when any line has a price."""
        return "yes" if any(item.price is not None for item in self.items) else "no"


@record(frozen=True)
class Bundle:
    """Options drawn from one item of which some is at hand: what each needs, what is owned, price of the rest."""

    needs: Mapping[tuple[tuple[str, str], int], float]
    own: float
    price: float


def identity(thing: Wire | Fuse | float) -> tuple[object, ...]:
    """Equal for things that can take each other's place."""
    if isinstance(thing, Wire):
        return thing.system, thing.size, thing.metal, thing.insulation, thing.insulation_c, thing.strand_class
    if isinstance(thing, Fuse):
        return thing.family.name, thing.rating_a
    return (thing,)


class Worth:
    """Costs of options with or without a price list."""

    def __init__(self, stock: Stock | None = None) -> None:
        self.stock = stock
        self.by_same = {item.same: item for item in stock.items} if stock else {}
        self.money = stock.priced if stock else "no"

    @property
    def unit(self) -> str:
        """What the objective is counted in."""
        return (self.stock.currency or "money") if self.stock and self.money == "yes" else "g of metal"

    def cost(self, decision: Decision, option: Option) -> float:
        """Cost of one option on its own; what comes from stock is counted by its bundle."""
        if decision.attribute == "rating":
            return 0.0
        item = self.by_same.get(identity(option.thing))
        small = PER_KG * option.mass_kg if self.money == "yes" else 0.0
        if item is not None and item.own > 0:
            return small
        return small + option.need * self._price(item, option)

    def _price(self, item: Item | None, option: Option) -> float:
        """A metre or a piece bought."""
        grams = GRAMS * option.mass_kg / option.need if option.mass_kg and option.need else 0.0
        if self.money == "no":
            return grams if option.mass_kg else (NOT_OWN if self.stock else 0.0)
        if item is not None and item.price is not None:
            return item.price
        return UNLISTED * (1.0 + grams / GRAMS)

    def bundles(self, decided: tuple[Decision, ...]) -> tuple[Bundle, ...]:
        """One bundle for every item at hand."""
        needs: dict[tuple[object, ...], dict[tuple[tuple[str, str], int], float]] = {}
        prices: dict[tuple[object, ...], float] = {}
        for decision in decided if self.by_same else ():
            for index, option in enumerate(decision.options):
                same = identity(option.thing)
                item = self.by_same.get(same)
                if item is not None and item.own > 0:
                    needs.setdefault(same, {})[(decision.key, index)] = option.need
                    prices[same] = self._price(item, option)
        return tuple(Bundle(found, self.by_same[same].own, prices[same]) for same, found in needs.items())
