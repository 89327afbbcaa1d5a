"""A drawn sheet as SVG: text as text, an id on every part and run, no style sheet, nothing loaded."""

from collections.abc import Iterable, Iterator
from xml.sax.saxutils import escape, quoteattr

from .scene import Area, Disc, Group, Line, Mark, Page, Text
from .text import BODY, FAMILY, shortened

FILL = {"ink": "currentColor", "paper": "#fff", "": "none"}
SHOWN = {"size", "length", "fuse", "current", "drop", "volts", "rating", "name", "mark", "way", "tab", "sheet"}
"""Kinds of text that get a class, so that a page can find and swap them."""


def to_svg(page: Page, title: str) -> str:
    """The sheet as SVG in its true size."""
    size = [shortened(length * page.scale) for length in (page.width, page.height)]
    view = f"0 0 {shortened(page.width)} {shortened(page.height)}"
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{size[0]}mm" height="{size[1]}mm" viewBox="{view}" '
        f'role="img" color="#111"><title>{escape(title)}</title>'
    )
    pen = (
        f'<g font-family="{FAMILY}" font-size="{BODY}" fill="none" stroke="currentColor" stroke-width="0.25" '
        'stroke-linejoin="round" xml:space="preserve">'
    )
    paper = f'<path fill="#fff" stroke="none" d="M0 0H{shortened(page.width)}V{shortened(page.height)}H0z"/>'
    return "\n".join([head, paper, pen, *(part for group in page.groups for part in _group(group)), "</g></svg>", ""])


def _group(group: Group) -> Iterator[str]:
    named = f" id={quoteattr(group.id)}" if group.id else ""
    ink = f' color="{group.ink}"' if group.ink else ""
    wires = "" if group.what != "wire" else ' class="run"'
    title = f"<title>{escape(group.title)}</title>" if group.title else ""
    inside = [title, *_marks(group.marks), *(part for inner in group.groups for part in _group(inner))]
    yield f"<g{named}{wires}{ink}>{''.join(inside)}</g>" if named or ink or wires else "".join(inside)


def _marks(marks: Iterable[Mark]) -> Iterator[str]:
    """Lines of one width follow each other in one path."""
    open_path, key = "", ("", 0.25)
    for mark in marks:
        if isinstance(mark, Line):
            if open_path and key != (mark.dash, mark.width):
                yield _path(open_path, *key)
                open_path = ""
            key = (mark.dash, mark.width)
            open_path += _points(mark.points)
            continue
        if open_path:
            yield _path(open_path, *key)
            open_path = ""
        yield _solid(mark)
    if open_path:
        yield _path(open_path, *key)


def _solid(mark: Area | Disc | Text) -> str:
    if isinstance(mark, Text):
        return _text(mark)
    fill = f' fill="{FILL[mark.fill]}"' if mark.fill else ""
    line = ' stroke="none"' if mark.width == 0 else "" if mark.width == 0.25 else f' stroke-width="{mark.width}"'
    if isinstance(mark, Disc):
        return f'<circle cx="{shortened(mark.x)}" cy="{shortened(mark.y)}" r="{shortened(mark.r)}"{fill}{line}/>'
    return f'<path d="{_points(mark.points)}z"{fill}{line}/>'


def _points(points: tuple[tuple[float, float], ...]) -> str:
    """Points as a path, level and upright pieces written short."""
    parts, before = [], ("", "")
    for number, point in enumerate(points):
        x, y = shortened(point[0]), shortened(point[1])
        if number == 0:
            parts.append(f"M{x} {y}")
        elif y == before[1]:
            parts.append(f"H{x}")
        elif x == before[0]:
            parts.append(f"V{y}")
        else:
            parts.append(f"L{x} {y}")
        before = (x, y)
    return "".join(parts)


def _path(path: str, dash: str, width: float) -> str:
    dashed = f' stroke-dasharray="{dash}"' if dash else ""
    wide = "" if width == 0.25 else f' stroke-width="{width}"'
    return f'<path d="{path}"{wide}{dashed}/>'


def _text(text: Text) -> str:
    kind = f' class="{text.what}"' if text.what in SHOWN else ""
    size = "" if text.size == BODY else f' font-size="{shortened(text.size)}"'
    weight = f' font-weight="{text.weight}"' if text.weight else ""
    anchor = "" if text.anchor == "start" else f' text-anchor="{text.anchor}"'
    place = f'x="{shortened(text.x)}" y="{shortened(text.y)}"'
    return f'<text {place}{kind}{size}{weight}{anchor} fill="currentColor" stroke="none">{escape(text.text)}</text>'
