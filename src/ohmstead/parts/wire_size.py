"""The size in a wire's text: mm², gauge, or the outer diameter that the vehicle trade sells by."""

from dataclasses import dataclass

from ..tables.reader import numbers, words
from . import gauges
from .faults import PartError
from .words import take, without

EXPECTED = "a wire such as 2.5 mm2, 16 mm2 tinned XLPE, 10 AWG or 8 gauge SAE"
_NUMBER = r"(?<![\d./])(\d+(?:\.\d+)?)\s*"
_GAUGE = r"(?<![\d./])(\d/0|\d{1,2})"


@dataclass(frozen=True, slots=True)
class WireSize:
    """What the size words of a wire said; `ambiguous` tells both readings when there are two."""

    system: str
    size: str
    area_mm2: float
    ambiguous: str = ""


def read_wire_size(text: str, whole: str) -> tuple[WireSize, str]:
    """The size words, and the text without them."""
    vehicle = r"\b(?:automotive|auto|vehicle|car)\b"
    is_vehicle = take(text, vehicle) is not None
    text = without(text, vehicle)
    metric = _NUMBER + r"(?:mm2|mm²|mm\^2|sq\.?\s?mm)(?!\w)"
    found = take(text, metric)
    if found:
        return _metric_size(float(found[0]), is_vehicle), without(text, metric)
    trade = _NUMBER + r"mm\b"
    found = take(text, trade)
    if found:
        return _trade_size(float(found[0])), without(text, trade)
    sae = r"\bsae\b"
    awg = r"\b(?:awg|b&s)\b"
    system = "SAE" if take(text, sae) else "AWG" if take(text, awg) else ""
    text = without(without(text, sae), awg)
    gauge = r"#?\s*" + _GAUGE + r"\s*(?:gauge|ga|g)?\b"
    found = take(text, gauge)
    named = take(text, r"\d\s*(?:gauge|ga)\b|gauge") is not None
    if found and (system or named):
        return _gauge_size(found[0], system or ("SAE" if is_vehicle else "?")), without(text, gauge)
    number = take(text, _NUMBER)
    if number and system:
        return _gauge_size(number[0], system), text
    if number:
        mend = f"write {number[0]} mm2" + (f" or {number[0]} AWG" if number[0] in gauges.AWG_SIZES else "")
        raise PartError(f"the size {number[0]} has no unit", EXPECTED, mend)
    raise PartError(f"{whole!r} names no wire size", EXPECTED, "start with the size, such as 2.5 mm2")


def _metric_size(area_mm2: float, is_vehicle: bool) -> WireSize:
    if not 0.05 <= area_mm2 <= 400:
        raise PartError(f"{area_mm2:g} mm2 is no size of wire", "0.05 mm2 to 400 mm2", "check the number and the unit")
    return WireSize("vehicle" if is_vehicle else "mm2", f"{area_mm2:g} mm2", area_mm2)


def _trade_size(diameter: float) -> WireSize:
    """Cable sold by its outer diameter: take the copper it usually holds."""
    table = dict(zip(numbers("vehicle_trade_mm", "trade_mm"), numbers("vehicle_trade_mm", "size_mm2"), strict=True))
    inside = table.get(diameter)
    if inside is None:
        raise PartError(f"{diameter:g} mm is a diameter, not a cross-section", EXPECTED, f"write {diameter:g} mm2")
    told = (
        f"{diameter:g} mm may be the outer diameter of vehicle cable ({inside:g} mm² of copper) "
        f"or {diameter:g} mm²; counted as {inside:g} mm²"
    )
    return WireSize("vehicle", f"{inside:g} mm2", inside, told)


def _gauge_size(size: str, system: str) -> WireSize:
    if size not in gauges.AWG_SIZES:
        raise PartError(f"there is no gauge {size}", "30 to 1, 1/0, 2/0, 3/0 or 4/0", "2/0 is written with its zero")
    if system == "AWG":
        return WireSize("AWG", f"{size} AWG", gauges.awg_area_mm2(size))
    if size not in words("sae_area", "size"):
        if system == "?":
            return WireSize("AWG", f"{size} AWG", gauges.awg_area_mm2(size))
        raise PartError(
            f"no area is known for SAE gauge {size}",
            "SAE gauge " + ", ".join(words("sae_area", "size")),
            "state the cross-section in mm2",
        )
    area = gauges.sae_area_mm2(size)
    if system == "SAE":
        return WireSize("SAE", f"{size} gauge SAE", area)
    told = (
        f"{size} gauge may be AWG ({gauges.awg_area_mm2(size):.3g} mm²) or the thinner SAE cable "
        f"({area:.3g} mm²); counted as SAE"
    )
    return WireSize("SAE", f"{size} gauge SAE", area, told)
