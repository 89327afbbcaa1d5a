"""How the PDF sheets look: the same drawing sheet as the HTML ones, said to the typesetter.

The fonts are those that the typesetter brings: a serif for text, a monospaced one for lettering.
Lines: 0.5 mm for the border, 0.25 mm inside it, as ISO 128 pairs wide and narrow lines (from memory).
"""

LEAF = """\
#let lettered(body, size: 10pt, weight: "regular") = text(font: "DejaVu Sans Mono", size: size, weight: weight, body)
#let wide = 0.5mm + black
#let narrow = 0.25mm + black
#let hair = 0.15mm + luma(110)
#set text(font: ("Libertinus Serif", "DejaVu Sans Mono"), size: 10.5pt, lang: "en", fallback: true)
#set text(number-type: "lining", number-width: "tabular", hyphenate: false)
#set par(leading: 0.55em, spacing: 0.8em)
#set table(stroke: none, inset: (x: 1.3mm, y: 0.95mm))
#set table.cell(breakable: false)
#show table: set text(size: 10pt)
#show heading.where(level: 1): it => block(width: 100%, sticky: true, below: 4mm,
  lettered(size: 16pt, weight: "bold", it.body) + v(1.4mm, weak: true) + line(length: 100%, stroke: wide)
  + v(0.7mm, weak: true) + line(length: 100%, stroke: narrow))
// A heading takes room for a few lines below it and gives it back, so that none stands at the foot of a page.
#show heading.where(level: 2): it => {
  block(width: 100%, height: 30mm, breakable: false, above: 7mm, below: 0mm)
  v(-30mm)
  block(width: 100%, sticky: true, above: 0mm, below: 3mm, lettered(size: 11.5pt, weight: "bold", it.body)
    + v(1mm, weak: true) + line(length: 100%, stroke: narrow)) }
#show heading.where(level: 3): it => block(sticky: true, above: 4.5mm, below: 2mm,
  lettered(size: 10pt, weight: "bold", it.body))
#show heading: set par(justify: false)
#let sign = box(width: 9mm, height: 8mm, {
  place(polygon(stroke: (paint: black, thickness: 0.6mm, join: "round"),
    (4.5mm, 0.3mm), (8.7mm, 7.7mm), (0.3mm, 7.7mm)))
  place(dx: 4.1mm, dy: 2.7mm, rect(width: 0.8mm, height: 2.6mm, fill: black))
  place(dx: 4.1mm, dy: 5.9mm, rect(width: 0.8mm, height: 0.8mm, fill: black)) })
#let caution(title, ..lines) = block(width: 100%, breakable: false, stroke: 0.9mm + black, inset: 3mm, above: 5mm,
  below: 5mm, grid(columns: (9mm, 1fr), column-gutter: 4mm, sign, {
    lettered(weight: "bold", title)
    for said in lines.pos() { par(said) } }))
#let tick = box(width: 3.2mm, height: 3.2mm, stroke: 0.35mm + black, baseline: 0.4mm)
#let ticks(..items) = list(marker: tick, body-indent: 2.5mm, spacing: 2.4mm, ..items.pos())
#let steps(..items) = enum(body-indent: 2mm, spacing: 2mm, ..items.pos())
#let head(body) = lettered(size: 8pt, weight: "bold", body)
#let rows(columns, align, heads, cells) = {
  let count = heads.len()
  table(columns: columns, align: align, stroke: (x, y) => if y > 0 { (bottom: hair) },
    table.header(repeat: true, table.hline(stroke: wide), ..heads.map(h => table.cell(align: bottom, head(h))),
      table.hline(stroke: wide)),
    ..cells, table.hline(stroke: wide)) }
#let caption(body) = block(sticky: true, above: 4mm, below: 1.6mm, emph(body))
#let drawn(body, said) = block(width: 100%, breakable: false, above: 3mm, below: 4mm,
  align(center, body) + if said != none { v(1.5mm, weak: true) + emph(said) })
#let cell(label, body, size: 8.5pt, weight: "regular") = block(width: 100%, height: 100%, clip: true,
  inset: (x: 1.5mm, top: 1mm), stack(dir: ttb, spacing: 1.5mm, lettered(size: 5.5pt, label),
    lettered(size: size, weight: weight, body)))
#let page-count = context [#counter(page).display() #OF #counter(page).final().first()]
#let title-block(f) = grid(columns: (1fr,) * 12, rows: (8.6mm, 7.4mm, 5mm), stroke: narrow, align: top + left,
  grid.cell(colspan: 4, cell(f.labels.site, f.site, size: 10pt, weight: "bold")),
  grid.cell(colspan: 4, cell(f.labels.sheet, f.sheet, size: 10pt, weight: "bold")),
  grid.cell(colspan: 2, cell(f.labels.date, f.date, size: 10pt)),
  grid.cell(colspan: 1, cell(f.labels.revision, f.revision, size: 10pt, weight: "bold")),
  grid.cell(colspan: 1, cell(f.labels.page, page-count, size: 6.8pt)),
  grid.cell(colspan: 4, cell(f.labels.file, f.file)), grid.cell(colspan: 2, cell(f.labels.mark, f.mark)),
  grid.cell(colspan: 2, cell(f.labels.units, f.units)), grid.cell(colspan: 4, cell(f.labels.made, f.made)),
  grid.cell(colspan: 12, block(width: 100%, height: 100%, inset: (x: 1.5mm),
    align(horizon, text(size: 8.5pt, f.caution)))))
#let band(f) = block(width: 100%, height: 13mm, stroke: 1mm + black, inset: (x: 4mm, y: 1.8mm), clip: true,
  align(horizon, lettered(size: 11pt, weight: "bold", upper(f.unfit)) + h(4mm) + text(size: 9.5pt, f.why)))
#let border(f) = align(top + left, {
  place(top + left, dx: 14mm, dy: 8mm, rect(width: 100% - 22mm, height: 100% - 16mm, stroke: wide))
  for (x, y, dx, dy) in ((50%, 0%, 0mm, 5mm), (50%, 100%, 0mm, -5mm), (0%, 50%, 11mm, 0mm), (100%, 50%, -5mm, 0mm)) {
    place(top + left, dx: x + if x == 0% { 11mm } else if x == 100% { -8mm } else { 3mm },
      dy: y + if y == 0% { 5mm } else if y == 100% { -8mm } else { 0mm },
      line(end: if dx == 0mm { (0mm, 3mm) } else { (3mm, 0mm) }, stroke: wide)) }
  place(bottom + left, dx: 14mm, dy: -8mm, block(width: 100% - 22mm, title-block(f)))
  if f.why != none { place(top + left, dx: 14mm, dy: 8mm, block(width: 100% - 22mm, band(f))) } })
#let strip(f, part) = place(top + left, dx: 6mm, dy: 3.2mm, block(width: 100% - 12mm, height: 3mm, clip: true, {
  if f.why != none { lettered(size: 6pt, weight: "bold", upper(f.unfit)); lettered(size: 6pt, ": " + f.why + " · ") }
  lettered(size: 6pt, (f.site, f.sheet, f.file + " " + f.mark, f.labels.revision + " " + f.revision, f.date,
    part).join(" · ")) }))
"""

TOP_MM, BOTTOM_MM, LEFT_MM, RIGHT_MM = 14.0, 35.0, 19.0, 13.0
BAND_MM = 14.0
