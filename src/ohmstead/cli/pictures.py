"""Writes pictures into a folder, as SVG and, where asked for, as PNG."""

import sys
from collections.abc import Mapping
from pathlib import Path

from .size_texts import SIZE


def write_pictures(made: Mapping[str, str], folder: str, form: str) -> list[str]:
    """File names that were written; form: "svg", or "png" for both. Raises OSError."""
    place = Path(folder)
    place.mkdir(parents=True, exist_ok=True)
    written = []
    for name, text in made.items():
        (place / name).write_text(text, encoding="utf-8")
        written.append(str(place / name))
    if form != "png":
        return written
    from ..sheets.render.raster import png

    try:
        for name, text in made.items():
            file = (place / name).with_suffix(".png")
            file.write_bytes(png(text))
            written.append(str(file))
    except ImportError as error:
        print(SIZE["needs-png"].format(name=error.name), file=sys.stderr)
    return written
