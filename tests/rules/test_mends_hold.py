"""What a mend names is done in the text of the site, and the finding is gone: wires, fuses, set-points.

Tried on every page's failing example and on every slip of the practice sites. A mend may uncover what stood behind
the fault, so other findings may appear; the same rule must not speak of the same thing as gravely as before.
"""

import re
from collections.abc import Iterator

import pytest

from ohmstead import study
from ohmstead.evidence.finding import GRAVITY, Finding
from ohmstead.parts.faults import PartError
from ohmstead.parts.fuse import read_fuse
from ohmstead.rules.catalogue import example, rule_names
from rules.test_practice import SLIPS, edited

TEXTS = {slug: example(slug, "Fails") for slug in rule_names()}
TEXTS |= {param.id: edited(param.values[1], param.values[2]) for param in SLIPS}
SIZE = r"(?:\d+(?:\.\d+)? mm²|\d+(?:/0)? AWG|\d+ gauge SAE)"
LAY = re.compile(
    rf"lay ({SIZE})[^,;:]*? or thicker"
    r"(?: \(also in ([^()]+)\)| \(also ([^()]+)\)| in ([^,;:]+?)| from ([^,;:]+?) to ([^,;:]+?))?(?=[,;:]| and fit|$)"
)
FIT = re.compile(
    r"fit (\d+(?:\.\d+)? A [^,;:(]+?)(?: \(\d+ V\))?(?: or less)?(?: within [^,;:]+| at [^,;:]+)?"
    r"(?: in ([^,;:]+?), which| in ([^,;:]+?))?(?=[,;:]| \(too| and |$)"
)
SET = re.compile(r"set (.+?) to ([\d.]+ V) or less")
CHARGE = re.compile(r"set the charging current to ([\d.]+ A) or less(?! together)")
OPEN, CLOSE = re.compile(r"open at about ([\d.]+ V)"), re.compile(r"close again at ([\d.]+ V) or higher")
Edit = tuple[str, str, str]  # run or part, what, value


def named(found: study.Study, finding: Finding) -> Iterator[tuple[Edit, ...]]:
    """Every cure that the mend names, each as the edits it asks for."""
    runs = {view.name: view for view in found.evidence.runs}
    guard = _guard(runs, finding)
    for match in LAY.finditer(finding.mend):
        at = match[4] or (f"{match[5]} -> {match[6]}" if match[5] else finding.subject)
        also = re.split(r", | and ", match[2] or match[3] or "") if match[2] or match[3] else []
        if at not in runs:
            continue
        edits = [(run, "wire", match[1].replace("mm²", "mm2")) for run in (at, *also)]
        fit = FIT.search(finding.mend, match.end()) if finding.mend[match.end() :].startswith(" and fit") else None
        yield (*edits, *([(guard, "fuse", fit[1])] if fit else []))
    for match in FIT.finditer(finding.mend):
        joined = finding.mend[: match.start()].endswith("and ")
        unfitting = "too small" in finding.mend[match.end() : match.end() + 12]
        if _is_fuse(match[1]) and not joined and not unfitting and guard in runs:
            own = "of its own" in finding.mend[: match.start() + 40]
            yield ((match[2] or match[3] or (finding.subject if own else guard), "fuse", match[1]),)
    for pattern, key in ((SET, "output"), (OPEN, "off"), (CLOSE, "on")):
        for match in pattern.finditer(finding.mend):
            name = match[1] if pattern is SET and match[1] != "it" else finding.subject
            kind = found.site.parts[name].kind if name in found.site.parts else ""
            if kind:
                yield ((name, "voltage" if kind == "charger" else key, match[match.re.groups]),)
    for match in CHARGE.finditer(finding.mend):
        chargers = [view.name for view in found.evidence.chargers]
        yield tuple((name, "current", match[1]) for name in chargers[:1])


def _guard(runs, finding):
    view = runs.get(finding.subject)
    guard = view.guard.run if view is not None and view.guard is not None else finding.subject
    inside = re.search(r"fuse.* in (\S.* -> [^;,]+?) guards", finding.message)
    return inside[1] if inside else guard


def _is_fuse(text):
    try:
        read_fuse(text)
    except PartError:
        return False
    return True


def done(text: str, edits: tuple[Edit, ...]) -> str:
    """The text with the edits made; nothing is left undone."""
    lines = text.splitlines()
    for name, key, value in edits:
        number = next(i for i, line in enumerate(lines) if _is_about(line, name))
        old, new = lines[number], _written(lines[number], key, value)
        assert new != old, f"{name}: {key} {value} changes nothing in {old}"
        lines[number] = new
    return "\n".join(lines) + "\n"


def _is_about(line, name):
    run = re.search(r"from: (.+?), *to: (.+?)[,}]", line)
    if run:
        lone = re.search(r"wires: (positive|negative)", line)
        return f"{run[1].strip()} -> {run[2].strip()}{f' ({lone[1]})' if lone else ''}" == name
    return line.strip().startswith(f"{name}:")


def _written(line, key, value):
    if key == "wire":
        return re.sub(r"(?<=wire: )(?:\d+(?:\.\d+)? mm2|\d+(?:/0)? (?:AWG|gauge(?: SAE)?))", value, line, count=1)
    if key == "fuse" and "fuse: " not in line:
        return f"{line.rstrip().rstrip('}')}, fuse: {value}, fuse at: 0 m}}"
    tolerance = re.search(rf"\b{key}: [\d.]+ V( ± [\d.]+ %)", line)
    kept = tolerance[1] if tolerance else ""
    return re.sub(rf"(?<=\b{key}: )[^,}}]+", value + kept, line, count=1)


def still(text: str, finding: Finding) -> list[str]:
    after = study.from_text(text, "mended.yaml").findings
    same = [one for one in after if (one.rule, one.subject) == (finding.rule, finding.subject)]
    return [one.message for one in same if GRAVITY[one.severity] <= GRAVITY[finding.severity]]


@pytest.mark.parametrize("name", TEXTS)
def test_what_a_mend_names_mends(name):
    found = study.from_text(TEXTS[name], "site.yaml")
    for finding in found.findings:
        for edits in named(found, finding):
            assert still(done(TEXTS[name], edits), finding) == [], (finding.mend, edits)


def test_enough_mends_are_tried():
    """A mend that no longer reads as one would be passed over in silence."""
    tried: dict[str, int] = {}
    for text in TEXTS.values():
        found = study.from_text(text, "site.yaml")
        for finding in found.findings:
            for edits in named(found, finding):
                for _, key, _ in edits:
                    tried[key] = tried.get(key, 0) + 1
    assert tried["wire"] > 40 and tried["fuse"] > 80
    assert tried["output"] + tried["voltage"] > 2 and tried["off"] > 1 and tried["on"] > 2 and tried["current"] > 1
