"""Prices by size: what a watt of panels, a watt-hour of battery and an ampere of charge controller cost."""

import re

from ..quantity.faults import QuantityError
from ..quantity.read import read_number
from ..site.place import Place
from ..site.problems import Problem

# item of the price list -> its dimension and the units that may stand in the list; the first is the example.
SOLD_BY = {"panels": "power", "battery": "energy", "controller": "current"}
UNITS = {"panels": "`W`, `100 W` or `kW`", "battery": "`kWh`, or `Ah`, `100 Ah`", "controller": "`A` of its output"}
PER_AH = "battery charge"  # key of a battery's price when it is given for its charge
NUMBER = re.compile(r"\d+(?:\.\d+)?")


def is_sized(text: str) -> str:
    """The item when it is one that is sold by size, else nothing.

    >>> is_sized("Panels"), is_sized("2.5 mm2")
    ('panels', '')
    """
    name = text.strip().lower()
    return name if name in SOLD_BY else ""


def size_price(name: str, line: int, cells: dict[str, str], problems: list[Problem]) -> tuple[str, float] | None:
    """Item and price per W, Wh (or Ah, then under another name) or A; None when something is wrong, told in problems.

    >>> size_price("prices.csv", 2, {"item": "battery", "price": "310", "unit": "kWh"}, [])
    ('battery', 0.31)
    """
    item = is_sized(cells["item"])
    price, unit = cells.get("price", ""), cells.get("unit", "")
    place = Place(name, line, 1, 0, 0)
    if not NUMBER.fullmatch(price):
        mend = f"write {price.replace(',', '.')}" if "," in price else "write a plain number"
        problems.append(Problem(place, f"the price of {item} is no number", "a number such as 0.45", mend))
        return None
    text = unit if NUMBER.match(unit) else f"1 {unit}"
    for dimension, key in ((SOLD_BY[item], item), ("charge", PER_AH)):
        if dimension == "charge" and item != "battery":
            continue
        try:
            size = read_number(text, dimension)
        except QuantityError:
            continue
        if size > 0.0:
            return key, float(price) / size
    problems.append(
        Problem(place, f"`{unit}` is no unit for the price of {item}", UNITS[item], "say what the price is for")
    )
    return None
