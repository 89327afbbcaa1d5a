"""The top of the file: its format version, and which sections there are."""

from .drafts import Reading
from .guess import listed, nearest, quoted
from .nodes import Mapping, Node, Scalar, is_empty
from .place import Place
from .problems import Problem, SiteError

FORMAT = 1
OUTDOORS = ("weather", "arrays", "shade", "season")
INDOORS = ("cabinet", "plate")
SECTIONS = ("ohmstead", "site", "zones", "battery", "parts", "runs", "accepted", *OUTDOORS, *INDOORS)
LATER = ("prices", "stock", "meters")
_BEGIN = f"begin the file with the line ohmstead: {FORMAT}"


def sections_of(root: Node | None, reading: Reading) -> dict[str, Node]:
    """Name -> content of every section that this version reads; tells of the others. Raises SiteError."""
    if root is None or is_empty(root):
        empty = Problem(
            Place(reading.file, 1, 1, 0, 0),
            "this file is empty",
            f"sections such as: {listed(SECTIONS)}",
            _BEGIN,
        )
        raise SiteError([*reading.problems, empty], reading.text)
    if not isinstance(root, Mapping):
        wrong = Problem(root.place, "this file does not hold sections", f"sections such as: {listed(SECTIONS)}", _BEGIN)
        raise SiteError([*reading.problems, wrong], reading.text)
    _check_version(root, reading)
    found = {name: root.entries[name][1] for name in SECTIONS if name in root.entries}
    for name, (key, node) in root.entries.items():
        if name in LATER:
            what = "is a section that is not read by this version yet"
            mend = "take it out, or put # in front of its lines"
        elif name not in SECTIONS:
            meant = nearest(name, (*SECTIONS, *LATER))
            what = "is not a section"
            mend = f"did you mean '{meant}'?" if meant else "indent it if it belongs to the section above"
            if meant in SECTIONS:  # read on as if it were spelt well, so that one slip is told once
                found.setdefault(meant, node)
        else:
            continue
        reading.tell(key.place, f"{quoted(name)} {what}", f"one of: {listed(SECTIONS)}", mend)
    return found


def _check_version(root: Mapping, reading: Reading) -> None:
    """The format must be the one we read; a file of another is not looked at further."""
    found = root.entries.get("ohmstead")
    if found is None and nearest("ohmstead", root.entries):
        return  # told as a section that does not exist
    if found is None:
        first = next(iter(root.entries.values()), (root, root))[0]
        reading.tell(first.place, "this file does not say which format it is written in", f"ohmstead: {FORMAT}", _BEGIN)
        return
    node = found[1]
    version = node.text if isinstance(node, Scalar) else ""
    if version == str(FORMAT):
        return
    if version.isascii() and version.isdigit() and version.strip("0"):
        wrong = Problem(
            node.place,
            f"this file is written in format {version[:12]}, newer than this program",
            f"format {FORMAT}",
            "install a newer version of Ohmstead, or ask for the file in format 1",
        )
        raise SiteError([wrong], reading.text)
    shown = f"{quoted(version)} is not a format of site files" if version else "the format of this file is left open"
    wrong = Problem(node.place, shown, f"ohmstead: {FORMAT}", f"write ohmstead: {FORMAT}")
    raise SiteError([wrong], reading.text)
