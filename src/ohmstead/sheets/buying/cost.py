"""What the list costs: prices and own parts of a price list, line by line, and in all."""

from collections.abc import Iterable

from ...choose.worth import Item as Listed
from ...choose.worth import Stock, identity
from ...parts.wire import Wire
from ...site.record import record
from ..cutting.order import same_wire
from .item import Item


@record(frozen=True)
class Cost:
    """One line of the list with its price: `buy` metres or pieces beyond what is at hand. None: not on the list."""

    item: Item
    own: float = 0.0
    buy: float | None = None
    each: float | None = None

    @property
    def total(self) -> float | None:
        """Price of what is to buy; None where it is not known, nothing where nothing is to buy."""
        if self.buy == 0.0:
            return 0.0
        return None if self.buy is None or self.each is None else self.buy * self.each


def costs(items: Iterable[Item], prices: Stock | None) -> list[Cost]:
    """Every line of the list with its price. Wire at hand is what the cutting plan takes of it; fuses go by count."""
    found = []
    left = {entry.same: entry.own for entry in prices.items} if prices else {}
    for item in items:
        entry = listed(item, prices)
        if item.thing is None or prices is None:
            found.append(Cost(item))
        elif isinstance(item.thing, Wire):
            own = item.own_m
            found.append(Cost(item, own, max(0.0, (item.length_m or 0.0) - own), entry.price if entry else None))
        else:
            same = identity(item.thing)
            own = min(left.get(same, 0.0), float(item.total))
            left[same] = left.get(same, 0.0) - own
            found.append(Cost(item, own, item.total - own, entry.price if entry else None))
    return found


def listed(item: Item, prices: Stock | None) -> Listed | None:
    """The line of a price list for an item: the same thing, or a wire that can be taken for it."""
    if item.thing is None or prices is None:
        return None
    same = identity(item.thing)
    exact = next((entry for entry in prices.items if entry.same == same and entry.price is not None), None)
    if exact is not None or not isinstance(item.thing, Wire):
        return exact
    fitting = [
        entry
        for entry in prices.items
        if entry.price is not None and isinstance(entry.thing, Wire) and same_wire(entry.thing, item.thing)
    ]
    return min(fitting, key=lambda entry: entry.price or 0.0, default=None)
