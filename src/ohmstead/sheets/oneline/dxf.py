"""The same sheets as a DXF drawing, side by side, on layers for lines, signs, lettering and frame."""

from importlib import import_module
from io import StringIO
from typing import Any

from .scene import Area, Disc, Group, Line, Mark, Page, Text

LAYERS = {"wire": "WIRES", "symbol": "SYMBOLS", "mark": "FINDINGS", "note": "NOTES", "frame": "FRAME"}
LETTERING = "TEXT"
COLOUR = {"FINDINGS": 1}
CAP = 0.729  # height of capitals of the face, in sizes: DejaVu Sans Mono, its glyph H
MILLIMETRES = 4  # DXF reference, $INSUNITS
BETWEEN = 20.0  # between sheets [mm]


def to_dxf(pages: list[Page]) -> str:
    """All sheets as the text of a DXF file. Raises ImportError when ezdxf is not installed (extra `sheets`)."""
    ezdxf: Any = import_module("ezdxf")
    kept = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True  # no time of writing, no chance ids
    try:
        made = ezdxf.new("R2010", setup=False)
        made.units = MILLIMETRES
        made.styles.new("LETTERING", dxfattribs={"font": "DejaVuSansMono.ttf"})
        for layer in (*LAYERS.values(), LETTERING):
            made.layers.add(layer, color=COLOUR.get(layer, 7))
        space, across = made.modelspace(), 0.0
        for page in pages:
            pen = _Pen(space, page, across)
            for group in page.groups:
                pen.draw(group)
            across += page.width * page.scale + BETWEEN
        out = StringIO()
        made.write(out)
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = kept
    return out.getvalue()


class _Pen:
    """Draws on one sheet; y grows upwards there."""

    def __init__(self, space: Any, page: Page, across: float) -> None:
        self.space, self.page, self.across = space, page, across

    def draw(self, group: Group) -> None:
        for own, mark in group.within():
            self._mark(LAYERS[own.what], mark)

    def _at(self, x: float, y: float) -> tuple[float, float]:
        scale = self.page.scale
        return round(self.across + x * scale, 4), round((self.page.height - y) * scale, 4)

    def _mark(self, layer: str, mark: Mark) -> None:
        weight = {"lineweight": _lineweight(getattr(mark, "width", 0.25) * self.page.scale), "layer": layer}
        if isinstance(mark, Text):
            self._text(mark)
        elif isinstance(mark, Disc):
            self.space.add_circle(self._at(mark.x, mark.y), mark.r * self.page.scale, dxfattribs=weight)
        elif isinstance(mark, Line):
            self.space.add_lwpolyline([self._at(*point) for point in mark.points], dxfattribs=weight)
        else:
            self._area(mark, weight)

    def _area(self, area: Area, weight: dict[str, Any]) -> None:
        points = [self._at(*point) for point in area.points]
        if area.fill == "ink":
            hatch = self.space.add_hatch(color=256, dxfattribs={"layer": weight["layer"]})
            hatch.paths.add_polyline_path(points, is_closed=True)
        if area.width > 0:
            self.space.add_lwpolyline(points, close=True, dxfattribs=weight)

    def _text(self, text: Text) -> None:
        from ezdxf.enums import TextEntityAlignment as Align

        align = {"start": Align.LEFT, "middle": Align.CENTER, "end": Align.RIGHT}[text.anchor]
        height = text.size * CAP * self.page.scale
        made = self.space.add_text(text.text, height=height, dxfattribs={"layer": LETTERING, "style": "LETTERING"})
        made.set_placement(self._at(text.x, text.y), align=align)


def _lineweight(width_mm: float) -> int:
    """The nearest of the widths that DXF knows, in hundredths of a millimetre. DXF reference, group code 370."""
    known = (0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120, 140, 158, 200, 211)
    return min(known, key=lambda step: abs(step - 100 * width_mm))
