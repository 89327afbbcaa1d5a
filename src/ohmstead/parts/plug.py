"""What sits at the end of a wire: plugs, terminals, ferrules, and whether two of them go together."""

from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from ..tables.reader import columns, words
from . import gauges
from .faults import PartError
from .words import cut_word, find_word, like, take, tidy, without
from .yaml_data import part_file, part_words

EXPECTED = "an end such as ring M8, ferrule, tab 6.3, barrel 5.5x2.1 centre positive, bullet 3.5 or PV 4 mm2"
_POLARITY = r"\b(?:centre|center|tip|pin|inner)[ -]*(positive|negative|\+|-|plus|minus)(?!\w)"
_AREA = r"(?<![\d.])(\d+(?:\.\d+)?)\s*(?:mm2|mm²)(?!\w)"
_NUMBER = r"\d+(?:\.\d+)?"
_SIZE = rf"(?<![\d.])({_NUMBER}\s*[x×/]\s*{_NUMBER}|m{_NUMBER}|{_NUMBER})\s*(?:mm)?(?![\w.])"
# Threads in inches and the metric ring that goes over them, as the trade sells them; common practice, no source.
_INCH_THREADS = {"1/4": "M6", "5/16": "M8", "3/8": "M10", "1/2": "M12", "#8": "M4", "#10": "M5"}
_INCH_THREAD = r"(?<![\w.])(1/4|5/16|3/8|1/2|#\s?8|#\s?10)\s*(?:in\b|inch\b|\")?(?![\w.])"
_FILLERS = r"\b(?:plug|socket|jack|male|female|terminal|connector|for|pair|insulated|type|crimped|eiaj)\b"


@dataclass(frozen=True, slots=True)
class End:
    """One end of a wire or one socket of a part. `contact_ohm` is one contact, one pole.

    None where nothing limits it or the builder did not say (polarity).
    `least_v` and `most_v` bound the voltage that the size is made to tell.
    """

    kind: str
    text: str
    size: str
    polarity: str | None
    stud_mm: float | None
    rating_a: float | None
    contact_ohm: float
    wire_least_mm2: float | None
    wire_most_mm2: float | None
    source: str
    read: str
    assumed: tuple[str, ...] = ()
    least_v: float | None = None
    most_v: float | None = None

    @property
    def name(self) -> str:
        """Kind and size in words: "barrel plug 5.5x2.1"."""
        title = str(part_file("plugs", self.kind)["title"])
        return title if self.size == "any" else f"{title} {self.size}"

    def __str__(self) -> str:
        return self.text


@cache
def read_end(text: str) -> End:
    """The end behind a builder's words, in any order. Raises PartError.

    >>> end = read_end("barrel 5.5x2.1 centre positive")
    >>> end.kind, end.size, end.polarity, end.rating_a
    ('barrel', '5.5x2.1', 'centre positive', 5.0)
    """
    rest = tidy(text).lower().replace("eiaj-", "eiaj ")
    polarity = take(rest, _POLARITY)
    rest = without(rest, _POLARITY) if polarity else rest
    kind, entry, rest = _kind(rest)
    area = take(rest, _AREA) if kind not in ("pv", "screw") else None
    rest = without(rest, _AREA) if area else rest.replace("mm2", "mm").replace("mm²", "mm")
    size, rest = _size(kind, entry, _metric_thread(rest) if kind in ("ring", "stud") else rest)
    if polarity and not part_file("plugs", kind).get("polarity"):
        raise PartError(f"a {part_file('plugs', kind)['title']} has no centre", EXPECTED, "leave out the polarity")
    while take(rest, _FILLERS):
        rest = without(rest, _FILLERS)
    if tidy(rest):
        raise PartError(
            f"{tidy(rest)!r} says nothing about a {part_file('plugs', kind)['title']}",
            EXPECTED,
            f"leave out {tidy(rest)!r}",
        )
    word = (
        None
        if polarity is None
        else "centre negative"
        if polarity[0] in ("negative", "-", "minus")
        else "centre positive"
    )
    end = _end(tidy(text), kind, size, word)
    return replace(end, wire_least_mm2=float(area[0]), wire_most_mm2=float(area[0])) if area else end


def _kind(text: str) -> tuple[str, str, str]:
    """The plug file that the words name, the alias's size if one was used, and the text without them."""
    bullets = part_file("plugs", "bullet")["aliases"] if "xt" in text else {}
    for alias, size in bullets.items():
        if find_word(text, alias) >= 0:
            return "bullet", size, cut_word(text, alias)
    entries = [(word.lower(), kind) for kind, known in part_words("plugs").items() for word in known]
    for word, kind in sorted(entries, key=lambda entry: -len(entry[0])):
        if find_word(text, word) >= 0:
            return kind, "", cut_word(text, word)
    first = text.split()[0] if text else ""
    guess = like(first, [word for word, _ in entries])
    raise PartError(f"no end is called {text!r}", EXPECTED, f"did you mean {guess}?" if guess else "name its shape")


def _metric_thread(text: str) -> str:
    """The text with a thread in inches written as the metric ring that fits it."""
    found = take(text, _INCH_THREAD)
    if found is None:
        return text
    return f"{_INCH_THREADS[found[0].replace(' ', '')]} {without(text, _INCH_THREAD)}"


def _size(kind: str, alias: str, text: str) -> tuple[str, str]:
    """The size as the file names it, and the text without it."""
    sizes = [str(size) for size in part_file("plugs", kind)["sizes"]]
    if alias:
        return alias, text
    for size in sizes:
        if size != "any" and not size[0].isdigit() and find_word(text, size.lower()) >= 0:
            return size, cut_word(text, size.lower())
    found = take(text, _SIZE)
    if found is None:
        if "any" in sizes:
            return "any", text
        raise PartError(f"the size of the {kind} is missing", f"{kind} " + ", ".join(sizes), f"write {kind} {sizes[0]}")
    wanted = _figures(found[0])
    for size in sizes:
        if size != "any" and _figures(size) == wanted:
            return size, without(text, _SIZE)
    known = ", ".join(size for size in sizes if size != "any")
    raise PartError(f"no {kind} has the size {found[0]}", f"{kind} {known}" if known else kind, "measure it again")


def _figures(size: str) -> tuple[float, ...]:
    """The numbers in a size: (5.5, 2.1) for "5.5x2.1", (8,) for "M8"."""
    plain = size.lower().replace("m", "").replace("×", "x").replace("/", "x")
    try:
        return tuple(float(part) for part in plain.split("x"))
    except ValueError:
        return ()


def _end(text: str, kind: str, size: str, polarity: str | None) -> End:
    data = part_file("plugs", kind)
    entry: dict[str, Any] = next(value for key, value in data["sizes"].items() if str(key) == size)
    least, most = entry.get("wire_mm2", (None, None))
    rating, stud = entry.get("rating_a"), entry.get("stud_mm")
    return End(
        kind="barrel" if kind == "eiaj" else kind,
        text=text,
        size=entry.get("size", size),
        polarity=polarity,
        stud_mm=None if stud is None else float(stud),
        rating_a=None if rating is None else float(rating),
        contact_ohm=entry["contact_mohm"] * 1e-3,
        wire_least_mm2=None if least is None else float(least),
        wire_most_mm2=None if most is None else float(most),
        source=data["standard"]["source"],
        read=entry.get("read", data["standard"]["read"]),
        assumed=(entry["assumed"],) if "assumed" in entry else (),
        least_v=entry.get("least_v"),
        most_v=entry.get("most_v"),
    )


def tab_rating_a(end: End, area_mm2: float) -> float | None:
    """What a push-on tab may carry on a wire of this area: the row of the next thinner gauge. [A]

    None when the end is no tab or the wire is thinner than the table.
    """
    if end.kind != "tab" or end.size == "9.5":
        return end.rating_a if end.kind == "tab" else None
    table = "ul_310_4_8" if end.size == "4.8" else "ul_310"
    column = "tab_" + end.size.replace(".", "_") + "_a"
    best: float | None = None
    for gauge, current in zip(words(table, "size"), columns(table)[column], strict=True):
        value = float(current)
        if gauges.awg_area_mm2(gauge) <= area_mm2 * 1.05 and value == value:
            best = value if best is None else max(best, value)
    return best


def takes_wire(end: End, area_mm2: float) -> str:
    """Empty when the end takes a wire of this area, else the reason."""
    if end.wire_most_mm2 is not None and area_mm2 > end.wire_most_mm2 * 1.1:
        return f"a {end.name} takes at most {end.wire_most_mm2:g} mm²"
    if end.wire_least_mm2 is not None and area_mm2 < end.wire_least_mm2 * 0.8:
        return f"a {end.name} takes at least {end.wire_least_mm2:g} mm²"
    return ""


def mates(a: End, b: End) -> str:
    """Empty when the end of a cable (a) goes onto the socket or terminal of a part (b), else the reason.

    >>> mates(read_end("barrel 5.5x2.5"), read_end("barrel 5.5x2.1"))
    'the plug is bored for a 2.5 mm pin and sits loose on the 2.1 mm pin'
    """
    kinds = {a.kind, b.kind}
    if kinds == {"ring", "stud"}:
        ring, stud = (a, b) if a.kind == "ring" else (b, a)
        return _ring_on_stud(ring.stud_mm or 0.0, stud.stud_mm or 0.0)
    if kinds in ({"ferrule", "screw"}, {"bare", "screw"}):
        return ""
    if a.kind != b.kind:
        return f"a {a.name} does not go onto a {b.name}"
    if a.kind == "barrel" and a.size != b.size:
        return _barrels(_figures(a.size), _figures(b.size))
    if a.size != b.size and a.kind not in ("ring", "screw", "ferrule", "bare", "butt"):
        return f"a {a.name} does not fit a {b.name}"
    if a.polarity and b.polarity and a.polarity != b.polarity:
        return f"the plug is {a.polarity}, the socket {b.polarity}"
    return ""


def _ring_on_stud(hole: float, stud: float) -> str:
    if hole < stud:
        return f"an M{hole:g} ring does not go over an M{stud:g} stud"
    return "" if hole == stud else f"an M{hole:g} ring sits loose on an M{stud:g} stud"


def _barrels(plug: tuple[float, ...], socket: tuple[float, ...]) -> str:
    if plug[0] != socket[0]:
        return f"the plug is {plug[0]:g} mm outside, the socket is made for {socket[0]:g} mm"
    if plug[1] < socket[1]:
        return f"the plug is bored for a {plug[1]:g} mm pin and does not go over the {socket[1]:g} mm pin"
    return f"the plug is bored for a {plug[1]:g} mm pin and sits loose on the {socket[1]:g} mm pin"
