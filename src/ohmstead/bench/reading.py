"""One reading as it is entered, and as it stands in the store."""

import math
from hashlib import sha256

from ..quantity.units import DIMENSIONS
from ..site.record import record

TICK = "tick"  # quantity of what is only ticked off: 1 when it is so, 0 when not
LONGEST_TEXT = 2000  # characters of a name, a state or a note
LARGEST_PICTURE = 12_000_000  # bytes of one attachment
_MAGIC = (
    (b"\xff\xd8\xff", "image/jpeg"),
    (b"\x89PNG\r\n\x1a\n", "image/png"),
    (b"%PDF-", "application/pdf"),
)


@record(frozen=True)
class Reading:
    """What somebody read. `value` is in the base unit of `quantity`; None only in a row that withdraws another.

    `point` names what was measured and where, `state` in which state of the supply, `step` the step of the
    switch-on plan; all three are free text to the store. `at` is the moment of measuring in UTC,
    such as 2026-11-27T09:14:00Z; left empty it becomes the moment of entering. `uncertainty` is one standard
    deviation where the person knows it, else None. `revision` is `revision_of` the site file's text.
    The same `token` is stored once: who is not sure whether a reading was taken may enter it again.
    """

    quantity: str
    point: str
    value: float | None
    who: str
    revision: str
    state: str = ""
    step: str = ""
    meter: str = ""
    note: str = ""
    at: str = ""
    uncertainty: float | None = None
    token: str = ""


@record(frozen=True)
class Entry:
    """A reading in the store: its number, when it was entered, and which earlier row it corrects (0: none)."""

    number: int
    reading: Reading
    entered: str
    corrects: int = 0
    pictures: int = 0


@record(frozen=True)
class Picture:
    """An attachment of a reading; `kind` is found from its first bytes."""

    number: int
    reading: int
    name: str
    kind: str
    size: int
    sha256: str
    who: str
    entered: str


def revision_of(site_text: str) -> str:
    """The checksum that ties readings to a text of the site file.

    >>> revision_of("ohmstead: 1")[:12]
    'f28ca2e32779'
    """
    return sha256(site_text.encode("utf-8", "surrogatepass")).hexdigest()


def picture_kind(data: bytes) -> str:
    """The media type that the first bytes tell, empty when it is none that is taken.

    >>> picture_kind(b"%PDF-1.7 ...")
    'application/pdf'
    """
    if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
        return "image/webp"
    return next((kind for magic, kind in _MAGIC if data.startswith(magic)), "")


def faults_of(reading: Reading) -> list[tuple[str, str]]:
    """What is wrong with a reading, as keys of the room's texts with the field named; empty when it can be stored."""
    found = []
    if reading.quantity not in DIMENSIONS and reading.quantity != TICK:
        found.append(("quantity", reading.quantity))
    if not reading.point.strip():
        found.append(("point", ""))
    if not reading.who.strip():
        found.append(("who", ""))
    if reading.value is not None and not math.isfinite(reading.value):
        found.append(("value", repr(reading.value)))
    if reading.uncertainty is not None and not (math.isfinite(reading.uncertainty) and reading.uncertainty >= 0):
        found.append(("uncertainty", repr(reading.uncertainty)))
    for name in ("point", "state", "step", "who", "meter", "note", "token"):
        text = getattr(reading, name)
        if len(text) > LONGEST_TEXT:
            found.append(("long", name))
        elif any(ord(sign) < 32 and sign not in "\n\t" for sign in text):
            found.append(("control", name))
    if reading.at and _moment(reading.at) is None:
        found.append(("at", reading.at))
    if len(reading.revision) != 64 or not set(reading.revision) <= set("0123456789abcdef"):
        found.append(("revision", reading.revision[:20]))
    return found


def _moment(text: str) -> str | None:
    """A moment as UTC text, None when it cannot be read. Without an offset it counts as UTC."""
    from datetime import UTC, datetime

    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        return None
    moment = moment.replace(tzinfo=UTC) if moment.tzinfo is None else moment.astimezone(UTC)
    return moment.strftime("%Y-%m-%dT%H:%M:%SZ")


def utc(text: str) -> str:
    """A moment as UTC text to the second. Raises ValueError when it cannot be read.

    >>> utc("2026-11-27 10:14+01:00")
    '2026-11-27T09:14:00Z'
    """
    moment = _moment(text)
    if moment is None:
        raise ValueError(text)
    return moment


def now() -> str:
    """The clock of this machine in UTC, to the second."""
    from datetime import UTC, datetime

    return datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
