"""A picture as PNG, by the typesetter typst with its own fonts: the same on every machine."""

from .svg import checked
from .typst import quoted

PER_POINT = 0.75  # a point of the typesetter for each unit of a picture, which is a pixel of 1/96 inch
SHARP = 192  # pixels an inch: twice that of a plain screen


def png(svg: str) -> bytes:
    """A picture of two pixels for each of its units. Raises ImportError when typst is not installed."""
    import typst

    width, height = _size(svg)
    page = f"#set page(width: {width * PER_POINT:g}pt, height: {height * PER_POINT:g}pt, margin: 0pt)\n"
    source = f'{page}#image(bytes({quoted(checked(svg))}), format: "svg", width: 100%)'
    made: bytes = typst.compile(source.encode(), format="png", ppi=SHARP, ignore_system_fonts=True)
    return made


def _size(svg: str) -> tuple[float, float]:
    """Width and height of a picture in its own units."""
    from re import search

    found = search(r'viewBox="0 0 ([0-9.]+) ([0-9.]+)"', svg)
    if found is None:
        raise ValueError("a picture without a viewBox that begins at 0 0")
    return float(found[1]), float(found[2])
