"""Writes docs/site-file.md from the declarations: every section, every key, and its default."""

from .boxes import Cabinet, CabinetFan, CabinetFilter
from .declare import Field, declared
from .examples import example
from .kinds import KINDS
from .model import About, Acceptance, Battery, Run, Zone
from .plans import shown_default
from .plates import Entry, Mount, Plate
from .sections import LATER
from .sky import Array, Goal, Horizon, Obstacle, Weather

EXAMPLE = """\
ohmstead: 1                       # the format of this file

site: {name: Skerry hide, latitude: 57.6}

zones:                            # where things are; each has air
  hide: {air: 2..27 °C}
  box:  {inside: hide, air: hide + 8 K}

battery:
  bank:
    chemistry: LFP
    cells: 8                      # in series
    capacity: 230 Ah
    limits: {discharge: 120 A, charge: 100 A}
    zone: hide

parts:
  fuse block:  {kind: distribution, ways: 4, total: 100 A, per way: 30 A, zone: box}
  rack supply: {kind: converter, type: buck, input: 20..32 V, output: 19 V ± 2 %, rating: 90 W, zone: box}
  recorder:    {kind: device, input: 19 V ± 5 %, zone: box,
                draws: {idle: 7 W, recording: 24 W, start-up: 55 W for 25 s},
                duty: {recording: 03:30-09:30, idle: rest}}
  lamps:       {kind: device, input: 20..30 V, draws: 18 W, zone: hide}

runs:                             # two-wire cable, source end first; length is the route, one way
  - {from: bank, to: fuse block, length: 1.6 m, wire: 16 mm2, fuse: 80 A stud}
  - {from: fuse block / 1, to: rack supply, length: 0.6 m, wire: choose, fuse: choose}
  - {from: rack supply, to: recorder, length: 1.1 m, wire: 1.5 mm2}
  - {from: fuse block / 2, to: lamps, length: 9 m, wire: 1.5 mm2, fuse: 5 A blade}
"""

_INTRODUCTION = """\
# The site file

One plain-text file says what there is: the battery, the parts, the wires between them. It is written in YAML:
a key, a colon, a space and a value; things that belong together are indented by the same number of spaces, or
stand on one line in braces. What follows a `#` is a note for people. This page is made from the program.

A small complete file:

```yaml
{example}```

## How to write it

- **Units are needed** wherever a figure has one: `1.6 m`, `5 ft`, `2.5 mm2`, `10 AWG`, `230 Ah`, `2.6 mΩ`.
  [Writing quantities](quantities.md) lists them all.
- **Ranges and tolerances** are written as `20..32 V`, `19 V ± 2 %` or `19 V +- 0.3 V`.
- **A decimal comma** is understood (`1,6 m`), except inside braces, where a comma ends the value: there,
  write `1.6 m` or put the value in quotes.
- **`choose`** leaves a wire, a fuse or the rating of a converter open, to be chosen for you.
- **A way or port** of a part is written behind a stroke with spaces: `fuse block / 3`. Ways count from 1.
- **Words mean what they say**: `off`, `no`, `12:30` and `010` are never turned into something else.
- A value you know (a measured resistance, a fuse's own melting times) replaces the one from the tables. What
  was stated, what came from a table and what was assumed stays visible in every result.
- Every problem in a file is told at once, each with its line, the reason and what to write instead. Nothing
  is read from a file that has one.
- Anchors, aliases, tags, a second document, tabs as indentation and a key written twice are refused; so is a
  file that is not UTF-8, or larger than 5 MB.

"Left out" below says what is taken when a key is not written. **Needed** keys have no such value.
"""

_FORMS = {
    "text": "text",
    "zone": "name of a zone",
    "part or battery": "name of a part or battery",
    "slug": "name of a rule",
    "date": "date",
    "stud": "thread, such as M8 or 5/16 in",
    "air": "lowest..highest temperature, or `zone + rise`",
    "power": "power, or current at a voltage",
    "draws": "one power, or one for each state; `for 25 s` marks a brief one",
    "duty": "one time, or one for each state: see below",
    "level": "share of what it holds, or voltage",
    "shed": "priority: where it goes off, or off..on",
    "idle": "power, or current at a voltage",
    "efficiency": "one share, or one for each load",
    "lockout": "`off` and `on`",
    "limits": "`discharge`, `charge`, `short-trip`",
    "open circuit": "`full`, `nominal` and `cut-off`",
    "rates": "time to empty: charge, three of them",
    "fuse window": "multiple of the rating: fastest..slowest time",
    "endpoint": "part, or part / way",
    "wire": "size, then metal, strands, insulation",
    "ethernet cable": "category, then gauge",
    "fuse": "rating and family",
    "end": "plug or terminal",
    "ends": "list of two",
    "twelve": "twelve values, a list or one line",
    "one or twelve": "one value or twelve",
    "months": "names of months, or a stretch",
    "skyline": "azimuth: elevation",
    "columns": "quantity: heading of the column",
    "millimetres": "length",
    "box": "width x height x depth",
    "area": "width x height",
    "spot": "to the right, down",
    "holes": "width x height between four, a list of spots, or `none`",
    "distances": "list of lengths",
    "stretch": "from..to",
    "names": "name, or a list",
    "height": "`low`, `middle`, `high` or a length",
    "part": "name of a device",
    "vent": "free area, side, `at` a height",
    "rise at": "temperature difference at a power",
    "fan curve": "flow: pressure",
    "fan speed": "temperature: share of speed",
    "two temperatures": "temperature outdoors: temperature there",
    "cabinet fan": "a fan (below), or `none`",
    "cabinet filter": "a filter (below), or `none`",
    "arrays": "name of an array, or a list",
    "array": "name of an array",
    "laid": "`free air`, `clipped`, `in conduit`, `in trunking` or `bundled`, with how many",
}

_DUTY = """\
### When a device is in which state

| written | means |
|---|---|
| `03:30-09:30` | between these times of the clock; over midnight is fine |
| `[06:00-06:30, 18:00-18:30]` | several windows |
| `dusk..dawn`, `dawn..dusk` | the dark, the light |
| `2 h a day`, `2 h a day between 07:00-22:00` | that long, at any time (of the window) |
| `2 h a day at random`, `2 h a day at random between 07:00-22:00` | as long in the mean, drawn hour by hour with the `seed` of section season |
| `{5 °C: 15 %, 35 °C: 60 %}` | a share of the time that follows the air of its zone: straight between the temperatures, level beyond |
| `06:00-06:30 on mon-fri`, `18:00-23:00 on sat and sun` | on these days of the week only; a window over midnight belongs to the day it begins |
| `1 h a day in nov-feb` | in these months only |
| `now and then` | at any time |
| `always` | the whole day |
| `rest` | whenever no other state holds |

A device with a single power has one state, called `on`; hours that no state covers draw nothing. A bare
`now and then` means any state.
"""

_LAID = """\
`with 5` counts all loaded circuits that lie together, this run included: `in trunking with 5` is this run and
four more. Without a number the run lies on its own; `bundled` needs one.
"""


_WEATHER = """\
One of `file`, `monthly sun` and `clear sky: yes` says where the sun comes from. `csv` and `parquet` files also need
`columns`, `timezone` and `stamps`. Twelve values may stand on one line with one unit behind the last.
"""


_PLATE = """\
Spots are measured from the upper left corner of the plate: to the right, then down. Every part of the zone stands on
the plate unless it says `stands: elsewhere`. How parts without `at` find their place, how wires are led and what is
drawn is told in [The plan of the plate](methods/plan.md).
"""


_CABINET = """\
The box is called as the zone whose air it makes. That zone says `inside:` with the zone around the box, and
`air: from heat`. Where a part sits in the box is said at the part: `at: low`, `at: high`, or `at: 0.4 m`. What is
worked out, and how, is told in [The cabinet](methods/cabinet.md).
"""


def site_file_page() -> str:
    """The page, as markdown."""
    blocks = [
        _INTRODUCTION.format(example=EXAMPLE),
        _section("site", "site: {name: ..., ...}", About),
        _section("zones", "zones: {name: {...}, ...}", Zone),
        _section("battery", "battery: {name: {...}, ...}", Battery),
        "## parts\n\nWritten as `parts: {name: {kind: ..., ...}, ...}`. Parts and batteries share one set of names.\n",
        *(_kind(kind, cls) for kind, cls in KINDS.items()),
        _DUTY,
        _section("runs", "runs: [{...}, ...]", Run) + "\n" + _LAID,
        _section("accepted", "accepted: [{...}, ...]", Acceptance),
        _section("weather", "weather: {...}", Weather) + "\n" + _WEATHER,
        _section("arrays", "arrays: {name: {...}, ...}", Array),
        "## shade\n\nWritten as `shade: {horizon: {...}, obstacles: {name: {...}, ...}}`.\n",
        f"### horizon\n\n{_told(Horizon)}\n\n{_table(Horizon)}",
        f"### obstacles\n\n{_told(Obstacle)}\n\n{_table(Obstacle)}",
        _section("season", "season: {...}", Goal),
        _section("cabinet", "cabinet: {zone: {...}, ...}", Cabinet) + "\n" + _CABINET,
        f"### fan\n\n{_told(CabinetFan)}\n\n{_table(CabinetFan)}",
        f"### filter\n\n{_told(CabinetFilter)}\n\n{_table(CabinetFilter)}",
        _section("plate", "plate: {..., entries: {name: {...}}, parts: {name: {...}}}", Plate) + "\n" + _PLATE,
        f"### entries\n\n{_told(Entry)}\n\n{_table(Entry)}",
        f"### parts of the plate\n\n{_told(Mount)}\n\n{_table(Mount)}",
        "## Sections to come\n\nThese are refused for now: " + ", ".join(f"`{name}`" for name in LATER) + ".\n",
    ]
    return "\n".join(blocks)


def _section(name: str, written: str, cls: type) -> str:
    return f"## {name}\n\n{_told(cls)} Written as `{written}`.\n\n{_table(cls)}"


def _kind(kind: str, cls: type) -> str:
    return f"### kind: {kind}\n\n{_told(cls)}\n\n{_table(cls)}"


def _told(cls: type) -> str:
    return (cls.__doc__ or "").partition("\n")[0]


def _table(cls: type) -> str:
    rows = ["| key | value | what it is | left out | such as |", "|---|---|---|---|---|"]
    fields = list(declared(cls).items())
    fields.sort(key=lambda row: row[1].key == "zone")  # what is special to a thing comes first
    for attribute, field in fields:
        default = cls.__dataclass_fields__[attribute].default  # type: ignore[attr-defined]
        rows.append(
            f"| `{field.key}` | {_form(field)} | {_cell(field.doc)} | {_left_out(field, default)} "
            f"| `{example(field)}` |"
        )
    return "\n".join(rows) + "\n"


def _cell(text: str) -> str:
    return text.replace("|", "\\|")


def _form(field: Field) -> str:
    form, _, rest = field.form.partition(":")
    if form == "word":
        told = ", ".join(f"`{word}`" for word in rest.split("|"))
    elif form == "number":
        told = {"count": "whole number", "number": "number"}.get(rest, rest)
    elif form == "span":
        told = f"{rest}, a range or a tolerance"
    elif form.endswith("twelve"):
        told = f"{rest}, {_FORMS[form]}"
    else:
        told = _FORMS[field.form]
    if field.bounds and field.bounds not in ("any", "0 or more"):
        told += f", {field.bounds}"
    return told + (", or `choose`" if field.choosable else "")


def _left_out(field: Field, default: object) -> str:
    if field.why:
        return f"**needed**: {field.why}"
    return field.assumed or shown_default(field, default) or "-"
