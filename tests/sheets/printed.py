"""What a PDF page draws, in millimetres from its upper left corner: read from the page's own operators."""

from io import BytesIO
from typing import NamedTuple

from pypdf import PdfReader
from pypdf.generic import ContentStream

MM = 25.4 / 72
Matrix = tuple[float, float, float, float, float, float]


class Drawn(NamedTuple):
    """Straight lines, and closed shapes of four or eight curves: circles as (x, y, diameter)."""

    lines: list[tuple[float, float, float, float]]
    circles: list[tuple[float, float, float]]


def times(one: Matrix, other: Matrix) -> Matrix:
    """First `one`, then `other`."""
    a, b, c, d, e, f = one
    g, h, i, j, k, m = other
    return a * g + b * i, a * h + b * j, c * g + d * i, c * h + d * j, e * g + f * i + k, e * h + f * j + m


def put(matrix: Matrix, x: float, y: float) -> tuple[float, float]:
    """A point through a matrix."""
    a, b, c, d, e, f = matrix
    return a * x + c * y + e, b * x + d * y + f


def drawn(pdf: bytes, number: int) -> Drawn:
    """Everything on a page."""
    reader = PdfReader(BytesIO(pdf))
    page = reader.pages[number]
    height = float(page.mediabox.height)
    found = Drawn([], [])

    def to_mm(point: tuple[float, float]) -> tuple[float, float]:
        return point[0] * MM, (height - point[1]) * MM

    def run(content, resources, matrix: Matrix) -> None:
        stack: list[Matrix] = []
        path: list[tuple[float, float]] = []
        curves: list[tuple[float, float]] = []
        for operands, operator in ContentStream(content, reader).operations:
            word = operator.decode()
            numbers = [float(value) for value in operands if isinstance(value, int | float)]
            if word == "q":
                stack.append(matrix)
            elif word == "Q":
                matrix = stack.pop()
            elif word == "cm":
                matrix = times(tuple(numbers), matrix)
            elif word == "m":
                path, curves = [put(matrix, *numbers)], []
            elif word == "l":
                here = put(matrix, *numbers)
                found.lines.append((*to_mm(path[-1]), *to_mm(here)))
                path.append(here)
            elif word == "c":
                curves.append(put(matrix, *numbers[4:]))
                path.append(curves[-1])
            elif word in ("h", "S", "s", "f", "B", "b", "n", "f*", "B*") and len(curves) in (4, 8):
                xs, ys = [x for x, _ in curves], [y for _, y in curves]
                middle = to_mm(((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2))
                found.circles.append((*middle, (max(xs) - min(xs)) * MM))
                curves = []
            elif word == "Do":
                inner = resources["/XObject"][operands[0]].get_object()
                if inner.get("/Subtype") == "/Form":
                    own = tuple(float(value) for value in inner.get("/Matrix", (1, 0, 0, 1, 0, 0)))
                    run(inner, inner.get("/Resources", resources), times(own, matrix))

    run(page.get_contents(), page["/Resources"], (1.0, 0.0, 0.0, 1.0, 0.0, 0.0))
    return found
