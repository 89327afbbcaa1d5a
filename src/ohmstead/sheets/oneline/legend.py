"""The notes beside the drawing: how to read it, and the list of the signs."""

from collections.abc import Iterable

from ...quantity.show import show
from . import words
from .label import FULL
from .marks import INK, SIGN, Sign, draw_sign, shape, sign_width
from .route import DASH, PAIR, WEIGHTS
from .scene import Group, Text
from .symbols import flag, negative
from .text import BODY, LINE, RISE, clipped, text_width

PAD = 1.6
TITLE_ROW = 4.0
SAMPLE = 9.0  # length of a sample line
LEGEND_WIDE = 2 * PAD + text_width("0" * 53)
LIST_WIDE = 2 * PAD + text_width("0" * 62)


def framed(group: Group, title: str, x: float, y: float, size: tuple[float, float]) -> float:
    """A thin frame with a heading; returns the top of the first row below it."""
    group.box((x, y, x + size[0], y + size[1]), "", 0.2)
    group.marks.append(Text(x + PAD, y + PAD + RISE * BODY, title, "note", BODY, "bold"))
    return y + PAD + TITLE_ROW - 0.6


def legend_size() -> tuple[float, float]:
    """Width and height of the legend."""
    return LEGEND_WIDE, 2 * PAD + TITLE_ROW + LINE * (len(words.LEGEND_LINES) + 8) + 0.4


def draw_legend(x: float, y: float) -> Group:
    """How lines, letterings and signs are to be read."""
    group = Group("", "note")
    top = framed(group, words.LEGEND, x, y, legend_size())
    for line in words.LEGEND_LINES:
        _row(group, x + PAD, top, line)
        top += LINE
    top += 0.6
    _row(group, x + PAD, top, words.WEIGHTS)
    top += LINE
    at = x + PAD
    steps = [least for least, _ in WEIGHTS[1:]]
    for number, (least, width) in enumerate(WEIGHTS):
        said = (
            words.UNDER.format(current=show(steps[0], "current"))
            if number == 0
            else words.OVER.format(current=show(least, "current"))
        )
        group.line((at, top + LINE / 2), (at + 3.6, top + LINE / 2), width=width)
        _row(group, at + 4.3, top, said, "legend")
        at += 4.3 + text_width(said) + 1.4
    for said in (words.NETWORK_LINE, words.DATA_LINE, words.TIE_LINE, words.NEGATIVE_LINE):
        top += LINE
        _sample(group, said, x + PAD, top + LINE / 2)
        _row(group, x + PAD + SAMPLE + 1.5, top, said)
    top += LINE + 0.8
    at = x + PAD
    for severity, said in words.SIGNS.items():
        own = Group("", "mark", "", INK[severity])
        shape(own, severity, "stands", (at, top + RISE * BODY + 0.4))
        group.groups.append(own)
        _row(group, at + SIGN + 0.8, top, said)
        at += SIGN + 0.8 + text_width(said) + 3.0
    top += LINE
    at = x + PAD
    for severity in words.SIGNS:
        own = Group("", "mark", "", INK[severity])
        shape(own, severity, "accepted", (at, top + RISE * BODY + 0.4))
        group.groups.append(own)
        at += SIGN + 0.8
    _row(group, at + 0.5, top, words.ACCEPTED)
    return group


def _row(group: Group, x: float, top: float, text: str, what: str = "note") -> None:
    group.marks.append(Text(x, top + RISE * BODY + 0.3, text, what))


def _sample(group: Group, said: str, x: float, y: float) -> None:
    if said == words.NETWORK_LINE:
        for dy in (-PAIR, PAIR):
            group.line((x, y + dy), (x + SAMPLE, y + dy), width=0.2)
    elif said == words.DATA_LINE:
        group.line((x, y), (x + SAMPLE, y), width=0.25, dash=DASH)
    elif said == words.TIE_LINE:
        group.line((x, y), (x + SAMPLE - 3.2, y))
        flag(group, x + SAMPLE - 1.6, y)
    else:
        negative(group, x + SAMPLE / 2, y - 1.1)


def list_size(signs: Iterable[Sign]) -> tuple[float, float]:
    """Width and height of a list of findings."""
    rows = [len(list_rows(sign)) for sign in signs]
    return LIST_WIDE, 2 * PAD + TITLE_ROW + LINE * sum(rows)


def list_rows(sign: Sign) -> tuple[str, ...]:
    """The rule and its subject in one row, in two when they are long."""
    room = int((LIST_WIDE - 2 * PAD - sign_width(sign)) / (FULL / 16)) - 2
    one = f"{sign.rule}: {sign.subject}"
    if len(one) <= room:
        return (one,)
    return clipped(f"{sign.rule}:", room), clipped(sign.subject, room)


def draw_list(signs: Iterable[Sign], x: float, y: float) -> Group:
    """The findings by their numbers."""
    signs = tuple(signs)
    group = Group("", "note")
    top = framed(group, words.FINDINGS, x, y, list_size(signs))
    for sign in signs:
        draw_sign(group, sign, x + PAD, top + RISE * BODY + 0.3)
        for line in list_rows(sign):
            _row(group, x + PAD + SIGN + 0.3 + text_width("000"), top, line, "finding")
            top += LINE
    return group
