"""QR codes that lead from a label to its place in the site's report.

The code holds `report.html#run-...`: the name of the report's file and an id that the drawing in it carries, and
nothing else, neither a folder nor an address. Whoever keeps the report on a phone or a web page can open it there;
for anybody else it is a name to look for.
"""

from functools import cache
from urllib.parse import quote

REPORT = "report.html"
QUIET = 4  # light modules around a code; ISO/IEC 18004 (from memory)
LEAST_MM = 0.33  # a module that a phone reads from common printers; common practice, no source
MOST_MM = 0.45


def target(anchor: str) -> str:
    """What the code says."""
    return f"{REPORT}#{quote(anchor)}"


@cache
def modules(anchor: str) -> tuple[tuple[int, ...], ...]:
    """The dark (1) and light (0) modules, without the quiet zone. Raises ImportError when segno is not installed."""
    import segno

    made = segno.make(target(anchor), error="l", micro=False)
    return tuple(tuple(int(module) for module in row) for row in made.matrix)


def module_mm(n_module: int, side_mm: float) -> float:
    """Size of a module with which a code and its quiet zone fit, 0 when it could not be read. [mm]"""
    size = min(MOST_MM, side_mm / (n_module + 2 * QUIET))
    return size if size >= LEAST_MM else 0.0
