"""Reads an SVG of the one-line drawing back as boxes and segments, without the program's own geometry.

Widths: every sign of a monospaced face has the advance of DejaVu Sans Mono, 1233/2048 of its size (read from
the font's `hmtx` table); East Asian wide signs two of them.
"""

import re
from dataclasses import dataclass, field
from unicodedata import combining, east_asian_width
from xml.etree import ElementTree

import numpy as np

SVG = "{http://www.w3.org/2000/svg}"
TOKEN = re.compile(r"[MLHVz]|-?[\d.]+")
TOUCH = 0.02  # coordinates are written to a thousandth; this much overlap is none


@dataclass
class Lettering:
    """One text and the paper it covers."""

    text: str
    box: tuple[float, float, float, float]
    kind: str
    owner: str


@dataclass
class Stroke:
    """One straight piece of a line."""

    points: tuple[float, float, float, float]
    half: float
    owner: str
    shape: str  # "line" or "solid"


@dataclass
class Drawn:
    """Everything on one sheet."""

    width: float
    height: float
    texts: list[Lettering] = field(default_factory=list)
    strokes: list[Stroke] = field(default_factory=list)
    ids: list[str] = field(default_factory=list)


def read(svg: str) -> Drawn:
    root = ElementTree.fromstring(svg)
    _, _, width, height = map(float, root.attrib["viewBox"].split())
    found = Drawn(width, height)
    pen = next(child for child in root if child.tag == SVG + "g")
    for child in pen:
        _walk(child, found, "", float(pen.attrib["font-size"]))
    return found


def _walk(element: ElementTree.Element, found: Drawn, owner: str, size: float) -> None:
    if "id" in element.attrib:
        owner = element.attrib["id"]
        found.ids.append(owner)
    if element.tag == SVG + "text":
        found.texts.append(_lettering(element, owner, size))
    elif element.tag == SVG + "path":
        half = float(element.get("stroke-width", 0.25)) / 2 * (element.get("stroke") != "none")
        solid = "solid" if element.get("fill") == "currentColor" else "line"
        found.strokes += [Stroke(piece, half, owner, solid) for piece in pieces(element.attrib["d"])]
    elif element.tag == SVG + "circle":
        x, y, r = (float(element.attrib[name]) for name in ("cx", "cy", "r"))
        half = float(element.get("stroke-width", 0.25)) / 2
        angles = np.linspace(0, 2 * np.pi, 17)
        ring = [(x + r * np.cos(a), y + r * np.sin(a)) for a in angles]
        found.strokes += [Stroke((*a, *b), half, owner, "line") for a, b in zip(ring, ring[1:], strict=False)]
    for child in element:
        _walk(child, found, owner, size)


def _lettering(element: ElementTree.Element, owner: str, size: float) -> Lettering:
    size, text = float(element.get("font-size", size)), element.text or ""
    wide = sum(0 if combining(s) else 2 if east_asian_width(s) in "WF" else 1 for s in text) * size * 1233 / 2048
    x, y = float(element.attrib["x"]), float(element.attrib["y"])
    x -= {"start": 0.0, "middle": 0.5, "end": 1.0}[element.get("text-anchor", "start")] * wide
    return Lettering(text, (x, y - 0.76 * size, x + wide, y + 0.236 * size), element.get("class", ""), owner)


def pieces(path: str) -> list[tuple[float, float, float, float]]:
    """The straight pieces of a path written with M, L, H, V and z."""
    found, tokens = [], TOKEN.findall(path)
    x = y = first_x = first_y = 0.0
    command, at = "", 0
    while at < len(tokens):
        if tokens[at].isalpha():
            command, at = tokens[at], at + 1
            if command == "z":
                found.append((x, y, first_x, first_y))
                continue
        before = x, y
        if command in "ML":
            x, y, at = float(tokens[at]), float(tokens[at + 1]), at + 2
        elif command == "H":
            x, at = float(tokens[at]), at + 1
        else:
            y, at = float(tokens[at]), at + 1
        if command == "M":
            first_x, first_y = x, y
        else:
            found.append((*before, x, y))
    return found


def overlapping_texts(drawn: Drawn) -> list[tuple[str, str]]:
    boxes = np.array([text.box for text in drawn.texts])
    hit = _boxes_meet(boxes[:, None, :], boxes[None, :, :])
    return [(drawn.texts[i].text, drawn.texts[j].text) for i, j in zip(*np.nonzero(np.triu(hit, 1)), strict=True)]


def crossed_texts(drawn: Drawn) -> list[tuple[str, str, tuple[float, float, float, float]]]:
    """Texts that a stroke runs through."""
    texts = np.array([text.box for text in drawn.texts])
    lines = np.array([stroke.points for stroke in drawn.strokes])
    half = np.array([stroke.half for stroke in drawn.strokes])
    reach = np.stack(
        [
            np.minimum(lines[:, 0], lines[:, 2]) - half,
            np.minimum(lines[:, 1], lines[:, 3]) - half,
            np.maximum(lines[:, 0], lines[:, 2]) + half,
            np.maximum(lines[:, 1], lines[:, 3]) + half,
        ],
        axis=1,
    )
    found = []
    for i, j in zip(*np.nonzero(_boxes_meet(texts[:, None, :], reach[None, :, :])), strict=True):
        stroke = drawn.strokes[j]
        if _passes(stroke.points, drawn.texts[i].box, stroke.half):
            found.append((drawn.texts[i].text, stroke.owner, stroke.points))
    return found


def _boxes_meet(a: np.ndarray, b: np.ndarray) -> np.ndarray:
    return (
        (a[..., 0] < b[..., 2] - TOUCH)
        & (b[..., 0] < a[..., 2] - TOUCH)
        & (a[..., 1] < b[..., 3] - TOUCH)
        & (b[..., 1] < a[..., 3] - TOUCH)
    )


def _passes(line: tuple[float, float, float, float], box: tuple[float, float, float, float], half: float) -> bool:
    """Does a segment come into a box grown by half its width? Clipping after Liang and Barsky."""
    x, y, dx, dy = line[0], line[1], line[2] - line[0], line[3] - line[1]
    first, last = 0.0, 1.0
    grown = half - TOUCH
    for p, q in (
        (-dx, x - box[0] + grown),
        (dx, box[2] + grown - x),
        (-dy, y - box[1] + grown),
        (dy, box[3] + grown - y),
    ):
        if p == 0:
            if q < 0:
                return False
        elif p < 0:
            first = max(first, q / p)
        else:
            last = min(last, q / p)
    return first <= last


def crossing_runs(drawn: Drawn) -> list[tuple[str, str]]:
    """Level and upright pieces of different runs that meet."""
    runs = [stroke for stroke in drawn.strokes if stroke.owner.startswith("run-")]
    if not runs:
        return []
    lines = np.array([s.points for s in runs])
    boxes = np.stack(
        [
            np.minimum(lines[:, 0], lines[:, 2]) - 0.05,
            np.minimum(lines[:, 1], lines[:, 3]) - 0.05,
            np.maximum(lines[:, 0], lines[:, 2]) + 0.05,
            np.maximum(lines[:, 1], lines[:, 3]) + 0.05,
        ],
        axis=1,
    )
    hit = _boxes_meet(boxes[:, None, :], boxes[None, :, :])
    return [
        (runs[i].owner, runs[j].owner)
        for i, j in zip(*np.nonzero(np.triu(hit, 1)), strict=True)
        if runs[i].owner != runs[j].owner
    ]


def meeting_parts(drawn: Drawn) -> list[tuple[str, str]]:
    """Signs of different parts, or a sign and a foreign line, that lie on each other."""
    boxes: dict[str, list[float]] = {}
    for stroke in drawn.strokes:
        if not stroke.owner.startswith("part-"):
            continue
        x1, y1, x2, y2 = stroke.points
        if stroke.owner not in boxes:
            boxes[stroke.owner] = [x1, y1, x1, y1]
        box = boxes[stroke.owner]
        box[0], box[1] = min(box[0], x1, x2), min(box[1], y1, y2)
        box[2], box[3] = max(box[2], x1, x2), max(box[3], y1, y2)
    names = list(boxes)
    return [
        (a, b)
        for i, a in enumerate(names)
        for b in names[i + 1 :]
        if boxes[a][0] < boxes[b][2]
        and boxes[b][0] < boxes[a][2]
        and boxes[a][1] < boxes[b][3]
        and boxes[b][1] < boxes[a][3]
    ]
