"""docs/trust.md from what the tests recorded: rows, the page, and the comparison of the two."""

import math
import re
import tomllib
from dataclasses import dataclass, replace
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PAGE = ROOT / "docs" / "trust.md"
SOURCES = ROOT / "src" / "ohmstead" / "tables" / "sources.toml"

# How a source was read, least trustworthy first: the order of the page.
READS = {
    "from memory": "The source could not be opened; the figures are remembered. First to be replaced.",
    "common practice": "Facts of the trade, for which no publication is named.",
    "second-hand": "The figures of the source as quoted by somebody else.",
    "original": "Read in the source itself.",
    "computed": "Worked out from a law of nature or of arithmetic, by another path than the program's.",
    "program": "Another program solved the same problem.",
}
ALIASES = {"common practice, no source": "common practice", "computation": "computed", "run": "program"}
PROGRAMS = {
    "ngspice",
    "pvlib",
    "shapely",
    "networkx",
    "ht",
    "fluids",
    "libngspice",
    "pint",
    "numpy",
    "scipy",
    "ruamel.yaml",
    "jsonschema",
    "python",
    "hypothesis",
    "pybamm",
}
UNPUBLISHED = {"program", "common practice", "computed"}
HEAD = "| source | place | what is checked | worst deviation | test |"
RULE = "|---|---|---|---|---|"
INTRO = """# What Ohmstead was checked against

This page is written by the tests: each row is one check against something outside the program, recorded by
the test that made it. `make trust` writes it, `make test` fails when it is out of step. Nothing here is
edited by hand. "Worst deviation" is the largest relative difference met in that test; a dash means that the
check has no figure (a word, an order, a yes or no). The weakest sources come first.
"""


@dataclass(frozen=True, slots=True)
class Row:
    """One check against the outside."""

    source: str
    place: str
    read: str
    what: str
    deviation: float | None
    test: str

    @property
    def key(self) -> tuple[str, str, str, str, str]:
        return self.source, self.place, self.read, self.what, self.test


def record(source: str, place: str, read: str, what: str, deviation: float | None) -> dict[str, object]:
    """The fields of a record as plain values, so that they travel between processes; refuses nonsense."""
    if source == "common-practice":
        read = "common practice"
    read = "program" if source in PROGRAMS else ALIASES.get(read, read)
    if read not in READS:
        raise ValueError(f"read={read!r}: expected one of {', '.join(READS)}")
    for name, text in (("source", source), ("what", what)):
        if not text.strip():
            raise ValueError(f"{name} is empty")
    for name, text in (("source", source), ("place", place), ("what", what)):
        if "|" in text or "\n" in text:
            raise ValueError(f"{name}={text!r}: one line without | please")
    if deviation is not None:
        deviation = abs(float(deviation))
        if not math.isfinite(deviation):
            raise ValueError(f"deviation={deviation}: expected a finite number")
    return {"source": source, "place": place, "read": read, "what": what, "deviation": deviation}


def row(test: str, fields: dict) -> Row:
    return Row(test=test, **fields)


def test_name(nodeid: str) -> str:
    """`tests/published/test_x.py::test_y[3]` -> `published/test_x.py::test_y`."""
    return re.sub(r"\[.*", "", nodeid, flags=re.DOTALL).removeprefix("tests/")


test_name.__test__ = False  # a function of ours, not a test


def merged(rows: list[Row]) -> list[Row]:
    """One row per check; parametrised repeats keep their worst deviation. In the order of the page."""
    worst: dict[tuple[str, ...], Row] = {}
    for one in rows:
        known = worst.get(one.key)
        if known is None or (one.deviation or 0.0) > (known.deviation or 0.0):
            worst[one.key] = one
    order = list(READS)
    return sorted(worst.values(), key=lambda r: (order.index(r.read), r.source, r.place, r.what, r.test))


def titles() -> dict[str, str]:
    """Key -> title of every source in the bibliography."""
    if not SOURCES.exists():
        return {}
    found = tomllib.loads(SOURCES.read_text(encoding="utf-8"))
    return {key: str(entry.get("title", key)) for key, entry in found.items() if isinstance(entry, dict)}


def shown(deviation: float | None) -> str:
    """Two digits, coarse on purpose: the page must not change with every breath of the machine."""
    if deviation is None:
        return "–"
    if deviation < 1e-9:
        return "none"
    percent = deviation * 100
    return f"{percent:.2g} %" if percent >= 1e-3 else f"{percent:.0e} %"


def shown_value(text: str) -> float | None:
    """The reverse of `shown`."""
    if text == "–":
        return None
    return 0.0 if text == "none" else float(text.removesuffix(" %")) / 100


def page(rows: list[Row]) -> str:
    names = titles()
    parts = [INTRO]
    for read, meaning in READS.items():
        own = [r for r in rows if r.read == read]
        if not own:
            continue
        parts.append(f"## {read[0].upper()}{read[1:]}\n\n{meaning}\n\n{HEAD}\n{RULE}")
        for r in own:
            title = names.get(r.source)
            source = f"{title} (`{r.source}`)" if title else f"`{r.source}`"
            parts.append(f"| {source} | {r.place} | {r.what} | {shown(r.deviation)} | `{r.test}` |")
        parts.append("")
    return "\n".join(parts).rstrip() + "\n"


def read_page(text: str) -> list[Row]:
    """The rows of a page written by `page`."""
    rows, read = [], ""
    for line in text.splitlines():
        if line.startswith("## "):
            read = line[3].lower() + line[4:]
        elif line.startswith("| ") and line != HEAD:
            source, place, what, deviation, test = (cell.strip() for cell in line[1:-1].split("|"))
            key = re.search(r"`([^`]+)`\)?$", source)
            rows.append(Row(key[1] if key else source, place, read, what, shown_value(deviation), test.strip("`")))
    return rows


def same_order(one: float | None, other: float | None) -> bool:
    """Deviations agree when both are negligible or within a factor of ten."""
    if one is None or other is None:
        return one is other
    small, large = sorted((one, other))
    return large < 1e-5 or (small > 0 and large / small <= 10.0)


def differences(written: list[Row], fresh: list[Row], not_run: set[str]) -> list[str]:
    """What keeps the page from being in step. Rows of tests that did not run are left alone."""
    there = {r.key: r for r in written}
    now = {r.key: r for r in fresh}
    lines = [f"lacks: {r.source}, {r.place}: {r.what} ({r.test})" for key, r in now.items() if key not in there]
    for key, r in there.items():
        if key in now:
            if not same_order(r.deviation, now[key].deviation):
                now_shown = shown(now[key].deviation)
                lines.append(f"says {shown(r.deviation)}, is now {now_shown}: {r.what} ({r.test})")
        elif r.test not in not_run:
            lines.append(f"no test records this any more: {r.source}, {r.place}: {r.what} ({r.test})")
    return lines


def settle(mode: str, fresh: list[Row], not_run: set[str]) -> list[str]:
    """Write the page or compare it; what is returned are the complaints."""
    written = read_page(PAGE.read_text(encoding="utf-8")) if PAGE.exists() else []
    complaints = [
        f"source {key!r} is neither in sources.toml nor a program or common practice"
        for key in sorted({r.source for r in fresh if r.read not in UNPUBLISHED} - titles().keys())
    ]
    if mode == "write":
        # A test that could not run here keeps the row that it wrote elsewhere.
        known = {r.key for r in fresh}
        kept = [r for r in written if r.test in not_run and r.key not in known]
        PAGE.write_text(page(merged([*fresh, *kept])), encoding="utf-8")
        return complaints
    complaints += differences(written, fresh, not_run)
    expected = page([replace(r, deviation=None) for r in merged(written)])
    actual = page([replace(r, deviation=None) for r in written])
    if PAGE.exists() and expected != actual:
        complaints.append("the order of the page is not that of the generator")
    if complaints:
        complaints.append("run `make trust` and commit docs/trust.md")
    return complaints
