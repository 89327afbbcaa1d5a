"""Every fixed text of the command line, in one place, so that it can be put into another language."""

SEVERITY = {"danger": "DANGER", "fails": "FAILS", "tight": "TIGHT", "fine": "FINE"}
SIGN = {"danger": "!!", "fails": " x", "tight": " ~", "fine": "  "}
COUNT = {"danger": ("danger", "dangers"), "fails": ("failure", "failures"), "tight": ("tight spot", "tight spots")}

NOTHING_FOUND = "Nothing found. Every rule was asked; see `ohmstead rules` for what they look at."
ACCEPTED = "accepted by the builder: {because}"
STALE = "accepted, but no rule has that name: {name}"
TAKEN = "Taken for granted, since the file does not say:"
CELL_RESISTANCE = "pack resistance {span} old, cold or nearly empty, from the kind and size of its cells"
STANDS = "every other figure was stated in the file or looked up in a table"

LABEL_MEND = "mend"
LABEL_BY = "by"
LABEL_CASE = "case"
LABEL_LINE = "line"

CAUTIONS_TITLE = "Before you trust this"
CAUTIONS = (
    "A calculation is not a measurement: measure before you trust it.",
    "A battery delivers thousands of amps: rings and watches off, insulated tools, terminals covered, "
    "main fuse out while you work.",
    "Check polarity with a meter at every plug before the device goes in, and every converter's output before "
    "its load.",
    "Do not pull plugs or fuses under load above about 20 V: a DC arc stays. Capacitors hold charge after the "
    "fuse is out.",
    "Do not charge lithium cells below 0 °C; lead cells give off hydrogen. Above 60 V other rules apply.",
    "Mains, generators, vehicle alternators and lightning are outside what is judged here.",
    "Local codes and licensed practice decide. Nothing here certifies anything.",
)

ONE_WAY_AND_BACK = "{one_way} one way, {both} out and back"
NO_RUNS = "the site has no runs"

HELP = {
    "program": "Judges a battery-fed extra-low-voltage DC supply from one plain-text site file.",
    "check": "judge a site file by every rule",
    "list": "list the parts, runs or cases of a site with what is known of each",
    "case": "show one operating case: voltages, currents, losses",
    "explain": "explain a rule, or the findings of a site with their numbers",
    "rules": "list the rules",
    "netlist": "write one case as a netlist for a circuit simulator",
    "schema": "print the JSON Schema of the site file, for editors",
    "start": "write a first site file by asking a few questions",
    "choose": "choose every wire, fuse, end, rating and block that the site file leaves open with `choose`",
    "weather": "show the weather of a site by month, or fetch true years of it",
    "plan": "place the parts of a cabinet on its plate, lead the wires, draw plan and drilling template",
    "what-if": "compare two site files, or a site file with a change, finding by finding and number by number",
    "readings": "enter, list, read in and write out readings of the meter",
    "learn": "what the readings say about the parts, as measured values in the site file",
    "diagnose": "find the likeliest faults behind the readings, and what to read next",
    "bench": "print the switch-on plan with what the meter should read, walk through it, or write its record",
    "file": "the site file",
    "json": "print JSON instead of text (docs/json.md)",
    "colour": "always, never, or auto: colour when a terminal reads",
    "case-name": "name of the case, as `list FILE cases` prints it; left out: the heaviest one",
    "what": "parts, runs or cases",
    "rule": "a rule's name, such as fuse-over-cable",
    "only": "only findings of this rule",
    "start-file": "the file to write; it must not exist yet",
}

ERRORS = {
    "no-case": "there is no case {name!r}",
    "no-case-mend": "ohmstead list {file} cases   names them all",
    "no-rule": "there is no rule {name!r}",
    "no-rule-mend": "ohmstead rules   names them all",
    "closest": "closest: {names}",
    "exists": "{file} is there already and stays as it is",
    "exists-mend": "name another file",
    "cannot-write": "{file} cannot be written: {reason}",
    "inside": "something went wrong inside Ohmstead, not in your file: {reason}",
    "inside-mend": "your file was not changed; please report it with the site file. "
    "OHMSTEAD_TRACE=1 shows where it happened.",
}

ASK = {
    "name": "What is the site called? [site]",
    "chemistry": "What kind of battery: LFP, NMC, lead flooded or lead AGM? [LFP]",
    "volts": "Its nominal voltage? [12.8 V]",
    "capacity": "Its capacity? [100 Ah]",
    "limit": "The largest current its protection board lets out, such as 100 A? [it has none: a low-voltage cut-off]",
    "block": "How far is the fuse block from it, one way? [1 m]",
    "device": "Name a device, or press Enter when there is no more:",
    "window": "   the voltage it wants, such as 19 V ± 5 % or 10..15 V?",
    "power": "   the power it takes, such as 12 W or 2..30 W?",
    "distance": "   how far from the fuse block, one way, such as 3 m or 10 ft?",
}
START = {
    "nothing-written": "the answers ended early; nothing was written",
    "written": "{file} is written. What is left open in it says `choose`.\nnext: ohmstead check {file}",
    "twice": "{name} is named already",
    "bad-name": "that cannot be a name",
    "good-name": "letters, digits, spaces and hyphens, and not `bank`, `low cut` or `fuse block`",
    "bad-chemistry": "that is not a kind of battery known here",
    "not-positive": "that must be more than zero",
}

SHEETS = {
    "out": "folder to write into [sheets]; files of the same name in it are replaced",
    "only": "only these sheets, by name",
    "as": "forms, such as html,pdf,csv,xlsx,svg,dxf; left out: all that can be made here",
    "date": "date to print on every sheet, such as 2026-11-25; it is never taken from the clock",
    "revision": "revision to print on every sheet, such as B",
    "paper": "A4 or Letter",
    "prices": "price list, CSV or XLSX (docs/prices.md): cost on the parts list, own parts and rolls used first",
    "no-workbook": "a price list in XLSX needs openpyxl, which is not installed",
    "no-workbook-mend": 'pip install "ohmstead[choose]", or save the list as CSV',
    "units": "which units stand first",
    "anonymous": "leave out the site's name, file and place, for sharing",
    "wrote": "{count} files in {out}:",
    "marked": "{mark}; every page says so:",
    "left-out": 'no {form}: it needs {package}. pip install "ohmstead[sheets]"',
    "missing": "{form} needs {package}, which is not installed",
    "missing-mend": 'pip install "ohmstead[sheets]"   (html, csv and svg need nothing)',
    "no-form": "there is no form {form!r}",
    "no-form-mend": "choose among {forms}",
    "no-sheet": "there is no sheet {name!r}",
    "no-sheet-mend": "closest: {names}",
    "bad-date": "{date!r} is not a date",
    "bad-date-mend": "write it as 2026-11-25",
    "own-file": "{file} is the site file and is never written over",
    "own-file-mend": "name another folder with --out",
    "cannot-write": "{file} cannot be written: {reason}",
    "cannot-write-mend": "name another folder with --out",
}
HELP["sheets"] = "write the sheets to build from: drawing, schedules, labels, report"

CHOOSE = {
    "prices": "price list, CSV or XLSX (docs/prices.md): least cost instead of least metal, own parts first",
    "write": "write the choices into the site file; without it nothing is written",
    "boxes-open": "what cabinet {names} leaves open is decided by: ohmstead heat {file}",
    "nothing-open": "nothing in {file} says `choose`",
    "needs": "choosing needs scipy and numpy, price lists in XLSX need openpyxl: pip install 'ohmstead[choose]'",
    "total-mass": "{mass} of metal in {n} choices",
    "total-cost": "{cost:.2f} {unit} for what is to buy, {mass} of metal in {n} choices",
    "proven": "proven: no other choice of the sizes offered is better",
    "gap": "another choice could be better by {gap:.1%} at most",
    "unfinished": "the search ended before a full check was clean; nothing is proposed for good",
    "clash-title": "Nothing fits. These demands cannot be met together; give up or ease one of them:",
    "clash-one": "Nothing fits. This cannot be met by any size offered:",
    "left-title": "What no choice mends:",
    "unknown-title": "Left open, since the file does not say enough:",
    "near-title": "Near misses that remain with these choices:",
    "tried": "{next} would not do: {message}",
    "reckoned": "{next} would not do ({rule}): {message}",
    "smallest": "the smallest there is",
    "fits": "{message}",
    "preferred": "{next} would hold as well, but brings other choices or near misses with it",
    "diff-title": "What would be written:",
    "write-hint": "ohmstead choose {file} --write   writes it",
    "written": "{file} is written.",
    "not-written": "nothing was written: {reason}",
    "changed-meanwhile": "run the command again",
    "no-check": "the choices are written, but the check still fails; see `ohmstead check {file}`",
}
WHAT_IF = {
    "other": "the other site file",
    "set": 'a change, such as "hide lamps.wire=4 mm2" or "fuse block / 3 -> lamps.fuse=5 A blade"; may be repeated',
    "one": "name the other file, or a change with --set",
    "both": "name the other file or a change with --set, not both",
    "nothing": "nothing changes: same findings, same numbers",
    "verdict": "verdict: {before} -> {after}",
    "gone": "gone:",
    "new": "new:",
    "changed": "changed:",
    "before": "before",
    "after": "after",
    "numbers": "numbers:",
}
WEATHER = {
    "fetch": "download hours of true years for the place of the site from NASA POWER, an open service",
    "from": "first year to fetch, 2001 or later",
    "to": "last year to fetch",
    "folder": "where fetched years are kept; left out: the folder weather beside the site file",
    "fetched": "{file} is there. To use it, write into the site file:\n\nweather: {{file: {file}, format: nasa power}}",
    "needs": "weather needs {package}, which is not installed: pip install 'ohmstead[season]'",
    "no-place": "the site has no latitude and longitude",
    "no-place-mend": "add latitude: 57.6 and longitude: -7.5 to section site, with those of the place",
    "one-year": "{site}: one year of hours at latitude {latitude:.2f}°, longitude {longitude:.2f}°, clock {timezone}",
    "years": "{site}: {n_year} years of hours from {first_year} at latitude {latitude:.2f}°, "
    "longitude {longitude:.2f}°, clock {timezone}",
    "head": "month|sun a day|dimmest|brightest|air|coldest|hottest|dim days",
    "legend": "Sun on the level, mean of all years and of the dimmest and the brightest single year; air by day "
    "and night with its coldest and hottest hour; the longest run of days with less than 30 % of "
    "the sun above the air.",
    "months": "January February March April May June July August September October November December",
    "plane": "{name}: sun in the plane of the panels, {mean} a square metre in the mean",
    "harvest": "{name}: harvest as measured, {mean} in the mean",
    "all": "all arrays together",
    "notes": "What was taken for granted or mended:",
}
HELP["size"] = "which array with which battery keeps the goal of the season, and which costs least"
HELP["shade"] = "what trees, poles, walls and the skyline cost, month by month and hour by hour"
HELP["survive"] = "what to switch off to come through the worst week with what there is"
HELP["season"] = "years of hours: whether sun and battery carry the load through the worst weeks"

SEASON = {
    "with-season": "reckon the season too, and judge it by the season rules",
    "found": "What the season rules find",
    "nothing-found": "The season rules find nothing.",
    "years": "how many years are drawn from monthly means, in place of what the file says; `enough`: as many as make "
    "the answer as sure as asked",
    "years-bad": "a whole number of years from 1 to 1000, or enough",
    "csv": "folder for hours.csv, every hour of every year",
    "pictures": "folder for the pictures, as SVG",
    "needs": "a season needs {name}, which is not installed: pip install 'ohmstead[season]'",
    "cannot-write": "{file} cannot be written: {reason}",
    "written": "{file} is written",
    "years-line": "{n} {years} of hours reckoned",
    "met": "asked: at most {goal} of the energy unserved; met",
    "missed": "asked: at most {goal} of the energy unserved; MISSED",
    "open": "asked: at most {goal} of the energy unserved; met in the mean, but not as surely as asked: more years "
    "may tell (--years enough)",
    "load": "load at the battery",
    "load-text": "{day} kWh a day; {idle} of it ({idle_w}) flows with every device off, {way} is lost on the way to "
    "the devices, that included",
    "harvest": "harvest",
    "harvest-text": "{day} kWh a day at the battery; {spilled} of it spilled for want of room, {lost} lost in the "
    "battery",
    "unserved": "unserved energy",
    "sure": " of what was asked; the true mean is below {most} ({sure} sure, by Student's distribution over the years)",
    "hours": "hours with a lack",
    "hours-text": "{hours} a year",
    "bad": "bad years",
    "bad-text": "{bad} of {n} had more than {goal} unserved; the true share lies in {least}..{most} ({sure} sure, "
    "Wilson's interval)",
    "battery": "battery",
    "battery-text": "holds {full} kWh, {days} days of the mean load; lowest {lowest}; full on {n_full} days a year, "
    "longest run of days without: {run}",
    "battery-never": "holds {full} kWh, {days} days of the mean load; lowest {lowest}; never full",
    "cut": "disconnect",
    "cut-text": "opens at {off} of the energy under the mean load, closes at {on}",
    "wear": "battery wear",
    "wear-text": "{cycles} full cycles a year, the deepest {deepest}; loses {first} of its capacity in the first year; "
    "down to 80 % after {life}, {age} of that by age and the rest by use",
    "wear-long": "{cycles} full cycles a year, the deepest {deepest}; loses {first} of its capacity in the first year; "
    "more than 80 % left after {life}",
    "wear-by": "wear by {title}",
    "wear-years": "{years} years",
    "wear-most": "some {years} years, far beyond what the tests behind these laws lasted",
    "worst-lack": "The fortnight with most unserved, kWh a day",
    "worst-low": "Nothing is ever unserved. The fortnight with the lowest battery, kWh a day",
    "worst-head": "day|harvest|asked|unserved|lowest",
    "months": "A mean year by month, kWh a day; lowest state of all years",
    "months-head": "month|arrays|harvest|spilled|served|unserved|lost|lowest",
    "taken": "What stands behind this:",
    "not-modelled": "the battery is new in all years; what it loses is told, not reckoned with|an hour is one "
    "step: short peaks, and what a cloud edge clips, are not seen",
}

HELP["heat"] = "how warm each cabinet gets, part by part; what would cool it; what it leaves open decided"
HELP["page"] = "the local page: see the supply, change it, print it, in a browser"
PAGE = {
    "where": "a site file, or a folder of them; left out: this folder",
    "port": "port to listen on; left out: the first free one from 7451 on",
    "listen": "address to listen on; left out: only this machine. Another address opens the page to its network",
    "quiet": "do not open a browser",
    "nothing": "there is no {where}\n   mend   name a site file or a folder",
    "needs": "pip install 'ohmstead[page]'",
    "no-port": "cannot listen: {reason}\n   mend   stop what listens there, or name another --port",
    "open-to-others": "listening on {address}: whoever has the address below can read and change the files, once "
    "paired. What goes over the network is not encrypted: only in a network that you trust",
    "address": "{address}\nCtrl-C ends it",
}
