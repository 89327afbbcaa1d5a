"""How the HTML sheets look: a workshop drawing sheet with a border and a title block.

Lettering of headings and figures is monospaced, as on a lettered drawing; black and white carries everything,
colour only repeats it.
"""

PAGE_MM = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
"""Width and height of an upright sheet. ISO 216 and ANSI Y14.1. [mm]"""

FOOT_MM = 21.0
BAND_MM = 15.0

STYLE = """\
:root { color-scheme: light dark; --paper: #fdfcf8; --ink: #14171a; --quiet: #51585e; --line: #14171a; --hair: #b9bdb8;
  --band: #14171a; --band-ink: #fff; --caution: #fff6d6; --shade: #f1f0ea; --desk: #e3e2db; --link: #0b4f7a;
  --mono: ui-monospace, "DejaVu Sans Mono", Menlo, Consolas, monospace;
  --text: system-ui, "Segoe UI", "Noto Sans", "DejaVu Sans", sans-serif; }
@media (prefers-color-scheme: dark) { :root { --paper: #16191b; --ink: #e8e6df; --quiet: #a5aaa6; --line: #cfcdc5;
  --hair: #464b4d; --band: #f2efe6; --band-ink: #16191b; --caution: #33301c; --shade: #1f2426; --desk: #0c0e0f;
  --link: #9cd0f2; } }
* { box-sizing: border-box; }
html { -webkit-text-size-adjust: 100%; }
body { margin: 0; background: var(--desk); color: var(--ink); font: 16px/1.45 var(--text); }
nav { max-width: 70rem; margin: 0 auto; padding: .75rem 1rem 0; font-family: var(--mono); font-size: .85rem; }
a { color: var(--link); }
.leaf { max-width: 70rem; margin: .75rem auto 2rem; background: var(--paper); border: 2px solid var(--line); }
main { padding: 1.25rem 1.5rem; }
h1, h2, h3 { font-family: var(--mono); line-height: 1.2; margin: 1.6em 0 .5em; overflow-wrap: anywhere; }
h1 { font-size: 1.6rem; margin-top: 0; padding-bottom: .35rem; border-bottom: 4px double var(--line); }
h2 { font-size: 1.15rem; border-bottom: 1px solid var(--line); padding-bottom: .15rem; }
h3 { font-size: 1rem; margin-top: 1.3em; }
p, li { max-width: 46rem; overflow-wrap: anywhere; }
p { margin: .4em 0 .8em; }
ul.tick { list-style: none; padding-left: 0; }
ul.tick label { display: flex; gap: .6rem; }
ul.tick input { appearance: none; flex: none; width: 1.1em; height: 1.1em; margin: .18em 0 0;
  border: 1.5px solid var(--ink); background: none; }
ul.tick input:checked { background: linear-gradient(45deg, transparent 44%, var(--ink) 44% 56%, transparent 56%),
  linear-gradient(-45deg, transparent 44%, var(--ink) 44% 56%, transparent 56%); }
li { margin: .3em 0; }
.caution { display: flex; gap: 1rem; border: 3px solid var(--line); background: var(--caution); margin: 1.2rem 0;
  padding: .7rem 1rem; max-width: 50rem; break-inside: avoid; }
.caution svg { flex: none; width: 2.6rem; height: 2.4rem; }
.caution b { font-family: var(--mono); } .caution p { margin: .2em 0; }
.table { overflow-x: auto; margin: .8rem 0 1.4rem; }
table { border-collapse: collapse; width: 100%; font-size: .92rem; font-variant-numeric: tabular-nums lining-nums; }
caption { text-align: left; color: var(--quiet); padding-bottom: .3rem; }
th, td { padding: .3rem .55rem; vertical-align: top; text-align: left; }
td { border-bottom: 1px solid var(--hair); overflow-wrap: break-word; }
th { border-top: 2px solid var(--line); border-bottom: 2px solid var(--line); font-family: var(--mono);
  font-size: .8rem; vertical-align: bottom; }
tbody tr:last-child td { border-bottom: 2px solid var(--line); }
.r { text-align: right; } .c { text-align: center; }
figure { margin: 1rem 0 1.5rem; } figcaption { color: var(--quiet); font-size: .92rem; }
figure .draw { background: #fff; color: #000; border: 1px solid var(--hair); overflow: auto; color-scheme: only light; }
figure .draw svg { display: block; width: 100%; height: auto; } figure.own .draw svg { width: auto; max-width: none; }
.band { background: var(--band); color: var(--band-ink); padding: .55rem 1.5rem; font-size: .95rem; }
.band b { font: bold 1.05rem var(--mono); text-transform: uppercase; letter-spacing: .06em; margin-right: .8em; }
.block { display: grid; grid-template-columns: repeat(12, 1fr); border-top: 2px solid var(--line); margin: 0;
  font-family: var(--mono); }
.block > div { padding: .2rem .5rem .25rem; border-right: 1px solid var(--line); border-bottom: 1px solid var(--line);
  min-width: 0; }
.block dt { font-size: .66rem; color: var(--quiet); } 
.block dd { margin: 0; font-size: .88rem; overflow-wrap: anywhere; }
.block .wide { grid-column: span 4; } .block .mid { grid-column: span 2; } .block .all { grid-column: span 12;
  border-right: 0; font-family: var(--text); font-size: .85rem; }
.block .site dd, .block .sheet dd { font-weight: bold; font-size: 1rem; }
.cells { margin: 1rem 0; overflow-x: auto; } .stock { display: grid; width: max-content; background: #fff; color: #000;
  border: 1px dashed var(--hair); position: relative; color-scheme: only light; margin-bottom: 1rem; }
.stock > .cell { position: absolute; overflow: hidden; } 
.stock > .cell svg { width: 100%; height: 100%; display: block; }
.stock > .strip { position: absolute; left: 6mm; right: 6mm; top: 3.4mm; height: 3mm; font: 6.5pt/3mm var(--mono);
  white-space: nowrap; overflow: hidden; margin: 0; max-width: none; }
.strip b { text-transform: uppercase; }
.forms a { margin-right: .8em; }
@media (max-width: 40rem) {
  .leaf { margin: .5rem 0; border-left: 0; border-right: 0; } main { padding: .9rem; } .band { padding: .55rem .9rem; }
  .block .wide, .block .mid { grid-column: span 6; } figure.page .draw svg { width: 64rem; max-width: none; }
  .cards table, .cards tbody, .cards tr, .cards td, .cards caption { display: block; }
  .cards thead { position: absolute; clip-path: inset(50%); width: 1px; height: 1px; overflow: hidden; }
  .cards colgroup { display: none; }
  .cards tr { border: 1.5px solid var(--line); margin-bottom: .7rem; background: var(--shade); }
  .cards td { display: flex; gap: .8rem; text-align: left; border-bottom: 1px solid var(--hair); }
  .cards tbody tr:last-child td, .cards td:last-child { border-bottom: 0; }
  .cards td:has(span:empty) { display: none; }
  .cards td::before { content: attr(data-head); flex: 0 0 38%; font: .78rem/1.5 var(--mono); color: var(--quiet); }
}
"""

PRINT = """\
@page { size: %(paper)s %(way)s; margin: 8mm 8mm 9mm 14mm;
  @bottom-right { content: "%(page)s " counter(page) " %(of)s " counter(pages); font: 8pt monospace; color: #000;
    padding-bottom: 3mm; } }
@page stock { size: %(paper)s %(way)s; margin: 0; @bottom-right { content: none; } }
@media print {
  :root { color-scheme: only light; --paper: #fff; --ink: #000; --quiet: #000; --line: #000; --hair: #888; --band: #fff;
    --band-ink: #000; --caution: #fff; --shade: #fff; --desk: #fff; --link: #000; }
  body { background: none; font-size: 10pt; line-height: 1.35; } nav { display: none; }
  .leaf { border: 0; margin: 0; max-width: none; display: table; width: 100%%; }
  .head, .foot { display: table-header-group; break-inside: avoid; } .foot { display: table-footer-group; }
  .head::before { content: ""; display: block; height: %(head)smm; }
  .foot::before { content: ""; display: block; height: %(foot)smm; }
  main { display: table-row; } main > div { display: block; padding: 0 5mm; }
  h1 { font-size: 16pt; } h2 { font-size: 12pt; } h3 { font-size: 10.5pt; } h1, h2, h3 { break-after: avoid; }
  p, li, .caution { max-width: none; orphans: 3; widows: 3; } table { font-size: 10pt; } th { font-size: 8pt; }
  caption { break-after: avoid; font-size: 10pt; }
  .table, figure .draw { overflow: visible; } thead { display: table-header-group; } tr, figure { break-inside: avoid; }
  th, td { padding: .9mm 1.5mm; } .break { break-before: page; } figure .draw { border: 0; }
  figure.page { break-before: page; } figure.page .draw svg { max-height: %(tall)smm; }
  .framed .band { position: fixed; top: 0; left: 0; right: 0; height: %(band)smm; border: 1.2mm solid #000;
    padding: 1.2mm 5mm; font-size: 9.5pt; line-height: 1.25; overflow: hidden; }
  .framed .block { position: fixed; bottom: 0; left: 0; right: 0; height: %(foot)smm; overflow: hidden;
    border-top: .5mm solid #000; grid-template-rows: 9mm 7mm 5mm; }
  .framed .edge { position: fixed; inset: 0; border: .5mm solid #000; }
  .block > div { padding: .5mm 1.5mm; } .block dt { font-size: 6pt; } .block dd { font-size: 8pt; }
  .block .site dd, .block .sheet dd { font-size: 9.5pt; } .block .all { border-bottom: 0; padding-top: .8mm; }
  .block .all dt { display: none; } .block .all dd { font-size: 8pt; }
  .block .wide { grid-column: span 4; } .block .mid { grid-column: span 2; }
  .loose .band { break-inside: avoid; margin: 8mm; border: .5mm solid #000; } .loose main { padding: 0; }
  .loose .foot { display: none; } .above { display: block; font: 8pt var(--mono); }
  .loose .leaf { display: block; } .loose main, .loose main > div { display: block; padding: 0; }
  .loose main > div > :not(.cells, .whole) { margin-left: 10mm; margin-right: 10mm; } .loose .head::before,
  .loose .foot::before { content: none; } .loose .head { display: block; }
  .bare { page: stock; } .bare .head, .bare h1, .bare .above { display: none; }
  figure.whole { page: stock; margin: 0; break-before: page; } figure.whole:first-of-type { break-before: auto; }
  figure.whole .draw { width: %(width)smm; height: %(height)smm; overflow: hidden; }
  figure.whole .draw svg { width: %(width)smm; height: %(full)smm; max-height: none; }
  .cells { margin: 0; overflow: visible; page: stock; break-before: page; } .stock { border: 0; margin: 0;
    break-inside: avoid; break-after: page; } .stock:last-child { break-after: auto; }
  .bare .cells:first-of-type { break-before: auto; }
}
@media screen { .above { display: none; } .head, .foot { display: block; } .edge { display: none; } }
"""

PAGE_HEAD = """\
@page { @top-left { content: "MARK"; font: bold 9pt monospace; color: #000; } }
@page stock { @top-left { content: none; } }
"""
"""Where label pages and text share a sheet, no band can stand on all; text pages then carry the mark in the margin."""


def page_mm(paper: str, turned: str) -> tuple[float, float]:
    """Width and height of the sheet as it lies. Raises KeyError for an unknown paper. [mm]"""
    width, height = PAGE_MM[paper]
    return (height, width) if turned == "sideways" else (width, height)


def style(paper: str, turned: str, marked: str) -> str:
    """The style of one sheet; `marked` is "marked" when each page carries the band of reasons."""
    width, height = page_mm(paper, turned)
    head = BAND_MM + 4 if marked == "marked" else 5
    way = "landscape" if turned == "sideways" else "portrait"
    room = height - 17 - head - FOOT_MM - 12
    return STYLE + PRINT % {
        "paper": paper.lower() if paper == "Letter" else paper,
        "way": way,
        "head": head,
        "foot": FOOT_MM,
        "band": BAND_MM,
        "tall": round(room, 1),
        "width": width,
        "height": height - 0.5,  # of what may show on a page; drawings keep their true size and are cut there
        "full": height,
        "page": "page",
        "of": "of",
    }
