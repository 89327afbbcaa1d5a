"""Drawings on their way into a page: made of nothing but lines and text."""

import re
from xml.etree import ElementTree

UNWANTED = {"script", "foreignObject", "iframe", "animate", "set"}
SAME_MM = 1.0
_SIZE = re.compile(r"^\s*([0-9.]+)\s*(mm|cm|in|pt|px|)\s*$")
_MM = {"mm": 1.0, "cm": 10.0, "in": 25.4, "pt": 25.4 / 72, "px": 25.4 / 96, "": 25.4 / 96}


def checked(svg: str) -> str:
    """The drawing without its prologue. Raises ValueError when it is no plain drawing."""
    start = svg.find("<svg")
    if start < 0:
        raise ValueError("a picture holds no <svg>")
    body = svg[start:].strip()
    try:
        root = ElementTree.fromstring(body)
    except ElementTree.ParseError as error:
        raise ValueError(f"a picture is not well-formed: {error}") from None
    for element in root.iter():
        tag = str(element.tag).rpartition("}")[2]
        if tag in UNWANTED:
            raise ValueError(f"a picture holds <{tag}>")
        for name, value in element.attrib.items():
            plain = name.rpartition("}")[2].lower()
            if plain.startswith("on") or (plain == "href" and not value.startswith(("#", "data:image/"))):
                raise ValueError(f"a picture holds {plain}={value!r}")
    return body


def whole_sheet(svg: str, paper_mm: tuple[float, float]) -> str:
    """How a drawing fills a sheet of paper: "as it lies", "turned", or "" when it is no whole sheet."""
    width, height = size_mm(svg)
    for sides, how in ((paper_mm, "as it lies"), (paper_mm[::-1], "turned")):
        if abs(width - sides[0]) < SAME_MM and abs(height - sides[1]) < SAME_MM:
            return how
    return ""


def size_mm(svg: str) -> tuple[float, float]:
    """Width and height of a drawing as it says of itself; from its view box when it has no size. [mm]"""
    root = ElementTree.fromstring(svg[svg.find("<svg") :])
    found = [_SIZE.match(root.get(name, "")) for name in ("width", "height")]
    if found[0] and found[1]:
        return float(found[0][1]) * _MM[found[0][2]], float(found[1][1]) * _MM[found[1][2]]
    box = [float(part) for part in root.get("viewBox", "0 0 100 100").replace(",", " ").split()]
    return box[2] * _MM[""], box[3] * _MM[""]
