"""The sheet of the cabinet, and its pictures."""

from pathlib import Path
from xml.etree import ElementTree

import pytest

from ohmstead.sheets import cabinet_air
from ohmstead.sheets.boxed.pictures import pictures
from ohmstead.sheets.catalogue import applies, draw_all
from ohmstead.sheets.document import Picture, Steps, Table, Terms
from ohmstead.study import open_site

EXAMPLES = Path(__file__).parents[2] / "examples"
SALTPAN = open_site(EXAMPLES / "saltpan" / "saltpan.yaml")


def test_it_is_drawn_where_there_is_a_cabinet() -> None:
    cabin = open_site(EXAMPLES / "cabin" / "cabin.yaml")
    assert applies("cabinet-air", SALTPAN) and not applies("cabinet-air", cabin)
    (sheet,) = draw_all(SALTPAN, Terms(), ("cabinet-air",))
    assert [type(block) for block in sheet.blocks if isinstance(block, Picture | Table | Steps)] == [
        Picture, Picture, Table, Table, Steps,
    ]  # fmt: skip


def test_every_part_of_the_box_stands_in_the_table() -> None:
    sheet = cabinet_air.draw(SALTPAN, Terms())
    table = next(block for block in sheet.blocks if isinstance(block, Table))
    (view,) = SALTPAN.evidence.cabinets
    assert {row[0] for row in table.rows} == set(view.climate.inside.heights_m)
    left = [row[6] for row in table.raw if row[6] is not None]
    assert left == sorted(left)  # type: ignore[type-var]


def test_lines_of_the_pictures_stay_on_the_paper() -> None:
    (view,) = SALTPAN.evidence.cabinets
    for svg in pictures(view).values():
        root = ElementTree.fromstring(svg)
        width, height = (float(figure) for figure in root.attrib["viewBox"].split()[2:])
        points = [
            tuple(float(figure) for figure in pair.split(","))
            for line in root.iter("{http://www.w3.org/2000/svg}polyline")
            for pair in line.attrib["points"].split()
        ]
        assert len(points) > 50
        assert all(0 <= x <= width and 0 <= y <= height for x, y in points)


def test_the_fan_works_where_its_curve_meets_the_way() -> None:
    """The circles of the picture lie on the drawn curve of the fan."""
    (view,) = SALTPAN.evidence.cabinets
    root = ElementTree.fromstring(next(svg for name, svg in pictures(view).items() if name.endswith("fan.svg")))
    svg = "{http://www.w3.org/2000/svg}"
    heavy = next(line for line in root.iter(f"{svg}polyline") if line.attrib["stroke-width"] == "2.4")
    curve = [tuple(float(f) for f in pair.split(",")) for pair in heavy.attrib["points"].split()]
    circles = [(float(c.attrib["cx"]), float(c.attrib["cy"])) for c in root.iter(f"{svg}circle")]
    circles = [circle for circle in circles if circle[0] > 60]
    assert len(circles) == 2
    for x, y in circles:
        (x0, y0), (x1, y1) = next(pair for pair in zip(curve, curve[1:], strict=False) if pair[0][0] <= x <= pair[1][0])
        assert y == pytest.approx(y0 + (y1 - y0) * (x - x0) / (x1 - x0), abs=1.5)
