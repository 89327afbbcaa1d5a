"""A sheet of SVG: lines, boxes, words, three hatches. Nothing hangs on colour alone; it prints in black and white."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from xml.sax.saxutils import escape

INK, FAINT, GRID, PAPER = "#1d2329", "#6b747d", "#d5dade", "#ffffff"
SUN, LOAD, CELLS, HELD, LACK = "#eec45f", "#2f5d7c", "#9fb8a3", "#e3ebe4", "#a8321f"
HEAD = 46
FOOT = 26

HATCHES = (
    f'<pattern id="lack" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">'
    f'<rect width="6" height="6" fill="#f7ddd8"/><rect width="2.4" height="6" fill="{LACK}"/></pattern>'
    f'<pattern id="spilled" width="5" height="5" patternUnits="userSpaceOnUse">'
    f'<rect width="5" height="5" fill="{PAPER}"/><circle cx="2.5" cy="2.5" r="1" fill="{FAINT}"/></pattern>'
    f'<pattern id="backup" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)">'
    f'<rect width="6" height="6" fill="{PAPER}"/><rect width="1.6" height="6" fill="{INK}"/></pattern>'
)


@dataclass(slots=True)
class Canvas:
    """A sheet with a title above and a note below."""

    width: float
    height: float
    title: str
    note: str
    pieces: list[str] = field(default_factory=list)

    def box(self, x: float, y: float, size: tuple[float, float], fill: str, line: str = "none") -> None:
        """A rectangle; `size` is width and height."""
        width, height = size
        if width > 0 and height > 0:
            self.pieces.append(f'<rect x="{x:.1f}" y="{y:.1f}" width="{width:.1f}" height="{height:.1f}" '
                               f'fill="{fill}" stroke="{line}" stroke-width="0.8"/>')  # fmt: skip

    def line(self, points: Iterable[tuple[float, float]], colour: str, weight: float = 1.0, dash: str = "") -> None:
        """A line through points."""
        path = " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
        dashed = f' stroke-dasharray="{dash}"' if dash else ""
        self.pieces.append(f'<polyline points="{path}" fill="none" stroke="{colour}" stroke-width="{weight}"{dashed}/>')

    def area(self, points: Iterable[tuple[float, float]], fill: str) -> None:
        """A filled shape."""
        path = " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
        self.pieces.append(f'<polygon points="{path}" fill="{fill}"/>')

    def words(self, x: float, y: float, text: str, style: str = "start", size: float = 11) -> None:
        """Words; style: where they hang ("start", "middle", "end"), with "strong" or "faint" after a blank."""
        anchor, _, look = style.partition(" ")
        weight = ' font-weight="600"' if look == "strong" else ""
        colour = FAINT if look == "faint" else INK
        self.pieces.append(f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}" font-size="{size:g}" '
                           f'fill="{colour}"{weight}>{escape(text)}</text>')  # fmt: skip

    def key(self, x: float, y: float, entries: Iterable[tuple[str, str]]) -> None:
        """What the fills stand for, in a row."""
        for fill, text in entries:
            self.box(x, y - 9, (14, 10), fill, INK)
            self.words(x + 19, y, text)
            x += 34 + 6.1 * len(text)

    def svg(self) -> str:
        """The sheet as a file."""
        width, height = self.width, self.height
        inner = f'width="{width - 12:g}" height="{height - 12:g}"'
        frame = f'<rect width="{width:g}" height="{height:g}" fill="{PAPER}"/>'
        frame += f'<rect x="6" y="6" {inner} fill="none" stroke="{INK}"/>'
        title = f'<text x="20" y="30" font-size="15" font-weight="600" fill="{INK}">{escape(self.title)}</text>'
        title += f'<text x="20" y="{height - 16:g}" font-size="10.5" fill="{FAINT}">{escape(self.note)}</text>'
        return (f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:g} {height:g}" width="{width:g}" '
                f'height="{height:g}" font-family="system-ui, Segoe UI, Helvetica, Arial, sans-serif">'
                f"<title>{escape(self.title)}</title><defs>{HATCHES}</defs>{frame}{title}"
                + "".join(self.pieces) + "</svg>\n")  # fmt: skip


def ticks(most: float) -> list[float]:
    """Round values from 0 to `most`, four to eight of them."""
    if most <= 0.0:
        return [0.0, 1.0]
    size = 10.0 ** (len(str(int(most))) - 1) if most >= 1 else 0.1
    step = next((size * part for part in (0.1, 0.2, 0.25, 0.5, 1.0, 2.0) if most / (size * part) <= 6), size)
    count = int(-(-most // step))
    return [step * i for i in range(count + 1)]
