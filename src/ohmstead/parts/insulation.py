"""What keeps the copper from touching anything, and how hot the copper may get under it."""

from dataclasses import dataclass
from functools import cache

from ..tables.reader import rows
from .faults import PartError
from .words import find_word, take, without


@dataclass(frozen=True, slots=True)
class Insulation:
    """Limits of the copper's temperature: all day, and at the end of a fault."""

    name: str
    limit_c: float
    fault_c: float


@cache
def insulations() -> dict[str, Insulation]:
    """All known insulations by the word that names them."""
    return {
        str(row["word"]): Insulation(str(row["name"]), float(row["limit_c"]), float(row["fault_c"]))
        for row in rows("insulation")
    }


def read_insulation(text: str) -> tuple[Insulation, str, str]:
    """The insulation in a wire's text, the words that named it, and the text without them.

    Nothing said means PVC for 70 °C. A temperature alone means insulation of that class.
    """
    degrees = r"(?<![\d./])(\d{2,3})\s*(?:°\s*c|deg(?:rees)?\s*c|c)\b"
    said_c = take(text, degrees)
    rest = without(text, degrees) if said_c else text
    named = None
    for word, insulation in insulations().items():
        at = find_word(rest.lower(), word)
        if at >= 0:
            named, rest = insulation, rest[:at] + " " + rest[at + len(word) :]
            break
    if said_c is None:
        return named or insulations()["pvc"], named.name if named else "", rest
    limit_c = float(said_c[0])
    if not 50 <= limit_c <= 260:
        raise PartError(f"{limit_c:g} °C is no temperature class of insulation", "60 °C to 200 °C", "PVC is 70 °C")
    if named is None:
        return Insulation("insulation", limit_c, 250.0 if 85 <= limit_c < 105 else 160.0), said_c[0], rest
    return Insulation(named.name, limit_c, named.fault_c), said_c[0], rest
