"""Findings as numbered signs: the same number stands at the part or run and in the list."""

from collections.abc import Iterable
from typing import NamedTuple

from ...evidence.finding import Finding
from .names import Names
from .scene import Area, Disc, Group, Line, Point, Text
from .text import BODY, text_width

SIGN = 2.3  # width of a sign
INK = {"danger": "#b3261e", "fails": "#b3261e", "tight": "#8a5a00", "fine": "#2f6b3a"}
"""Colours repeat what the shape says."""


class Sign(NamedTuple):
    """One finding on the drawing; `state` is "stands" or "accepted"."""

    number: int
    severity: str
    state: str
    rule: str
    subject: str


class Signs(NamedTuple):
    """All signs, and those at each part or run by the name that findings give it."""

    all: tuple[Sign, ...]
    at: dict[str, tuple[Sign, ...]]


def signs_of(findings: Iterable[Finding], names: Names) -> Signs:
    """Number the findings in their order; the same rule at the same place is one sign."""
    found: dict[tuple[str, str, str, str], Sign] = {}
    at: dict[str, tuple[Sign, ...]] = {}
    for finding in findings:
        state = "accepted" if finding.accepted else "stands"
        key = (finding.rule, finding.subject, finding.severity.value, state)
        if key not in found:
            sign = Sign(len(found) + 1, finding.severity.value, state, finding.rule, names.subject(finding.subject))
            found[key] = sign
            at[finding.subject] = (*at.get(finding.subject, ()), sign)
    return Signs(tuple(found.values()), at)


def sign_width(sign: Sign) -> float:
    """Width of a sign with its number."""
    return SIGN + 0.3 + text_width(str(sign.number))


def draw_sign(group: Group, sign: Sign, x: float, base: float) -> None:
    """Draw a sign with its left edge at x, standing on the base line of its text row."""
    own = Group("", "mark", "", INK.get(sign.severity, ""))
    shape(own, sign.severity, sign.state, (x, base + 0.15))
    own.marks.append(Text(x + SIGN + 0.3, base, str(sign.number), "mark", BODY, "bold"))
    group.groups.append(own)


def shape(group: Group, severity: str, state: str, corner: Point) -> None:
    """A triangle for danger, a cross for failing, a ring for tight; filled or heavy unless accepted."""
    x, base = corner
    fill, middle, centre = ("ink" if state == "stands" else ""), x + SIGN / 2, base - SIGN / 2 + 0.15
    if severity == "danger":
        group.marks.append(Area(((x, base), (middle, base - SIGN + 0.15), (x + SIGN, base)), fill, 0.2))
    elif severity == "fails":
        group.marks.append(Area(_cross(middle, centre, SIGN / 2 - 0.1, 0.42), fill, 0.2))
    else:
        group.marks.append(Disc(middle, centre, SIGN / 2 - 0.25, "", 0.55 if state == "stands" else 0.25))
        if severity == "fine":
            group.marks.append(Line(((middle - 0.5, centre), (middle + 0.5, centre)), 0.2))


def _cross(x: float, y: float, reach: float, arm: float) -> tuple[Point, ...]:
    """A saltire: twelve corners of two crossing beams."""
    r, a = reach, arm
    corners = (
        (0, -a),
        (r - a, -r),
        (r, a - r),
        (a, 0),
        (r, r - a),
        (r - a, r),
        (0, a),
        (a - r, r),
        (-r, r - a),
        (-a, 0),
        (-r, a - r),
        (a - r, -r),
    )
    return tuple((x + dx, y + dy) for dx, dy in corners)
