"""Draw the pictures of the documentation: real output of the command line on a drawing sheet, and the one-line drawing.

Run by `make pictures`. The output is asked for in colour, its colour codes are read, and the lines are set
as text on a sheet with a border and a title block.
"""

import os
import re
import subprocess
import sys
from dataclasses import dataclass, replace
from html import escape
from pathlib import Path

from ohmstead import study
from ohmstead.sheets import one_line
from ohmstead.sheets.boxed.pictures import pictures
from ohmstead.sheets.document import Terms

ROOT = Path(__file__).resolve().parents[2]
HERE = Path(__file__).resolve().parent
CHARACTER = 8.2  # width of one character, in units of the picture
LINE = 17.0
MARGIN = 34.0
BLOCK = 58.0  # height of the title block
MOST_LINES = 46
MOST_COLUMNS = 100
DRAWN_ON = "2026-11-25"  # a drawing takes its date from whoever asks for it

# Ink by colour code: readable on paper, and not the only sign of anything.
INK = {
    30: "#22272e", 31: "#a3231f", 32: "#2f6b3a", 33: "#8a5a00", 34: "#1f4f8b", 35: "#7a3478", 36: "#1f6b73",
    37: "#5b6470", 90: "#6b7480", 91: "#a3231f", 92: "#2f6b3a", 93: "#8a5a00", 94: "#1f4f8b", 95: "#7a3478",
    96: "#1f6b73", 97: "#22272e",
}  # fmt: skip


@dataclass(frozen=True)
class Style:
    """How a stretch of text is printed."""

    ink: str = ""
    weight: str = ""
    faint: str = ""
    ground: str = ""

    def after(self, code: int) -> "Style":
        """The style once a colour code has been met."""
        match code:
            case 0:
                return Style()
            case 1:
                return replace(self, weight="bold")
            case 2:
                return replace(self, faint="0.6")
            case 22:
                return replace(self, weight="", faint="")
            case 39:
                return replace(self, ink="")
            case 49:
                return replace(self, ground="")
        if code - 10 in INK and code >= 40:
            # On paper a coloured ground is a label: white letters on the ink of that colour.
            return replace(self, ground=INK[code - 10], ink="#ffffff")
        return replace(self, ink=INK[code]) if code in INK else self

    def attributes(self) -> str:
        """As attributes of an SVG text span."""
        named = {"fill": self.ink, "font-weight": self.weight, "opacity": self.faint}
        return "".join(f' {name}="{value}"' for name, value in named.items() if value)


def spans(line: str, style: Style) -> tuple[list[tuple[str, Style]], Style]:
    """A line cut at its colour codes, and the style that goes on into the next line."""
    found = []
    for number, piece in enumerate(re.split(r"\x1b\[([\d;]*)m", line)):
        if number % 2:
            for code in piece.split(";"):
                style = style.after(int(code or 0))
        elif piece:
            found.append((piece, style))
    return found, style


def clipped(found: list[tuple[str, Style]], width: int) -> list[tuple[str, Style]]:
    """At most `width` characters of a line."""
    kept, left = [], width
    for text, style in found:
        if left <= 0:
            break
        kept.append((text if len(text) <= left else text[: left - 1] + "…", style))
        left -= len(text)
    return kept


def sheet(output: str, command: str) -> str:
    """The drawing sheet with the output of a command on it."""
    lines = output.rstrip("\n").split("\n")
    left_out = len(lines) - MOST_LINES
    if left_out > 0:
        lines = lines[:MOST_LINES] + ["", f"\x1b[2m… and {left_out} more lines\x1b[0m"]
    width = MOST_COLUMNS * CHARACTER + 2 * MARGIN
    height = len(lines) * LINE + 2 * MARGIN + BLOCK + LINE
    foot = height - MARGIN / 2 - BLOCK
    rows, style = [], Style()
    for number, line in enumerate(lines):
        found, style = spans(line, style)
        base, x, text = MARGIN + LINE * (number + 1), MARGIN, ""
        for piece, look in clipped(found, MOST_COLUMNS):
            wide = len(piece) * CHARACTER
            if look.ground:
                box = f'x="{x - 2:.1f}" y="{base - 13:.1f}" width="{wide + 4:.1f}" height="{LINE}"'
                rows.append(f'<rect {box} fill="{look.ground}"/>')
            text += f"<tspan{look.attributes()}>{escape(piece)}</tspan>"
            x += wide
        if text:
            rows.append(f'<text x="{MARGIN}" y="{base:.1f}">{text}</text>')
    inner, edge = MARGIN / 2, width - MARGIN / 2
    cells = [("project", "Ohmstead"), ("drawn by", "$ " + command), ("sheet", "report, first page")]
    places = [inner + 12, inner + 170, edge - 210]
    block = [f'<path d="M{inner} {foot:.1f}H{edge:.1f}" stroke-width="1.6"/>']
    for x, (label, value) in zip(places, cells, strict=True):
        if x > places[0]:
            block.append(f'<path d="M{x - 12:.1f} {foot:.1f}V{height - inner:.1f}"/>')
        block.append(f'<text class="label" x="{x:.1f}" y="{foot + 20:.1f}">{label}</text>')
        block.append(f'<text x="{x:.1f}" y="{foot + 42:.1f}">{escape(value)}</text>')
    frame = f'<rect x="{inner}" y="{inner}" width="{edge - inner:.1f}" height="{height - MARGIN:.1f}"'
    return "\n".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:.0f} {height:.0f}" role="img">',
            f"<title>What {escape(command)} prints</title>",
            "<style>text{font:13.6px ui-monospace,'DejaVu Sans Mono',Menlo,Consolas,monospace;fill:#22272e;",
            "white-space:pre} .label{font-size:10px;fill:#6b7480} path,.frame{stroke:#22272e;fill:none}",
            "</style>",
            f'<rect width="{width:.0f}" height="{height:.0f}" fill="#fbfaf5"/>',
            f'{frame} class="frame" stroke-width="2.4"/>',
            *rows,
            *block,
            "</svg>\n",
        ]
    )


def printed(*arguments: str) -> str:
    """What the command line prints, in colour. A status of 2 means that nothing was checked."""
    done = subprocess.run(
        [sys.executable, "-m", "ohmstead", *arguments],
        cwd=ROOT, env={**os.environ, "PYTHONUTF8": "1"},
        capture_output=True, text=True, encoding="utf-8", check=False,
    )  # fmt: skip
    if done.returncode not in (0, 1) or not done.stdout:
        raise SystemExit(f"ohmstead {' '.join(arguments)} answered {done.returncode}\n{done.stderr}")
    return done.stdout


def one_line_drawing(site: str) -> str:
    """The first sheet of a site's one-line drawing."""
    asked = study.open_site(ROOT / site)
    return one_line.draw(asked, Terms(date=DRAWN_ON, revision="A")).blocks[0].svg


def cabinet_pictures(site: str) -> dict[str, str]:
    """The pictures of a site's only cabinet."""
    (view,) = study.open_site(ROOT / site).evidence.cabinets
    return pictures(view)


def main() -> None:
    """Write every picture beside this file."""
    site = "examples/skerry/skerry.yaml"
    picture = HERE / "check.svg"
    report = printed("check", "--colour", "always", site)
    picture.write_text(sheet(report, f"ohmstead check {site}"), encoding="utf-8")
    print(picture.relative_to(ROOT))
    picture = HERE / "one-line.svg"
    picture.write_text(one_line_drawing("examples/skerry/skerry-mended.yaml"), encoding="utf-8")
    print(picture.relative_to(ROOT))
    for name, text in cabinet_pictures("examples/saltpan/saltpan.yaml").items():
        (HERE / name).write_text(text, encoding="utf-8")
        print((HERE / name).relative_to(ROOT))


if __name__ == "__main__":
    main()
