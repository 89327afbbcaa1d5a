"""What a name in the site file may be."""

from .drafts import Reading
from .guess import quoted
from .nodes import Scalar

_LONGEST_NAME = 80
_NAME_MARKS = {" / ": "stands between a part and its way", " -> ": "stands between the ends of a run"}


def check_name(name: str, key: Scalar, reading: Reading) -> None:
    """Tells when a name cannot be written, or would be read as something else."""
    if len(name) > _LONGEST_NAME:
        what = f"a name of {len(name)} characters"
        reading.tell(key.place, what, f"at most {_LONGEST_NAME}", "shorten it; notes go behind a #")
    if not name:
        reading.tell(key.place, "a name is missing before this colon", "a name", "write a name before the colon")
    for mark, meaning in _NAME_MARKS.items():
        if mark in name:
            reading.tell(
                key.place,
                f"the name {quoted(name)} holds '{mark}', which {meaning}",
                f"a name without '{mark}'",
                f"write it without, such as {name.replace(mark, ' ')}",
            )
