"""One choice, as it is told and written."""

from ..site.place import Place
from ..site.record import record
from .explain import Reason


@record(frozen=True)
class Choice:
    """What was chosen in one place: the text to write there, and what decided it."""

    subject: str
    attribute: str
    text: str
    place: Place
    reason: Reason
