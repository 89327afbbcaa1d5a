"""What a label says, before it has a size."""

from ...site.record import record


@record(frozen=True)
class Words:
    """One item of a label's text. `scale` is its size beside the label's plain text, `cut` "whole" forbids cutting."""

    text: str
    scale: float = 1.0
    weight: str = ""
    cut: str = "when needed"


@record(frozen=True)
class Label:
    """One label. Items that matter most stand first: what does not fit goes from the end.

    kind: "wire", "way", "fuse", "converter", "plug" or "warning". tag: what it belongs to, such as "W07+" or
    "hide block / 3"; with `side` ("near", "far" or "") unique. sign: a drawing at its left, see signs.py, or the
    text of a large number. anchor: the place in the report that its code leads to. wrap_mm: what of a flag goes
    around the wire; 0 for a label that lies flat.
    """

    kind: str
    tag: str
    words: tuple[Words, ...]
    side: str = ""
    sign: str = ""
    anchor: str = ""
    wrap_mm: float = 0.0

    @property
    def name(self) -> str:
        """Kind, tag and side."""
        return " ".join(part for part in (self.kind, self.tag, self.side) if part)
