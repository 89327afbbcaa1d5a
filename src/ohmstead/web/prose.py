"""The pages that stand beside the rules, as HTML: headings, paragraphs, lists, tables, code. Everything is escaped."""

import re
from collections.abc import Callable, Iterator

from markupsafe import Markup, escape

INLINE = re.compile(r"`([^`]+)`|\*\*([^*]+)\*\*|\[([^\]]+)\]\(([^)]*)\)")
Linked = Callable[[str], str]
"""A word in code or the target of a link -> where it leads, empty for nowhere."""


def blocks(text: str, linked: Linked) -> Markup:
    """A piece of a page.

    >>> blocks("Drop is *not* `drop-on-run`.", lambda word: "")
    Markup('<p>Drop is *not* <code>drop-on-run</code>.</p>')
    """
    return Markup("\n").join(_block(lines, linked) for lines in _split(text))


def _split(text: str) -> Iterator[list[str]]:
    """Lines that belong together: paragraphs, lists, tables, and code between fences."""
    held: list[str] = []
    fenced = False
    for line in text.splitlines():
        fence = line.startswith("```")
        if fence and not fenced and held:
            yield held
            held = []
        fenced = fenced != fence
        if line.strip() or fenced:
            held.append(line)
        if held and not fenced and (fence or not line.strip()):
            yield held
            held = []
    if held:
        yield held


def _block(lines: list[str], linked: Linked) -> Markup:
    first = lines[0]
    if first.startswith("```"):
        body = "\n".join(line for line in lines[1:] if not line.startswith("```"))
        return Markup('<pre class="code-block" tabindex="0"><code>{}</code></pre>').format(body)
    if first.startswith("|"):
        return _table([line for line in lines if not re.fullmatch(r"[|:\- ]+", line)], linked)
    if re.match(r"(-|\d+\.) ", first):
        kind = Markup("ul") if first.startswith("-") else Markup("ol")
        items = re.split(r"\n(?:-|\d+\.) ", "\n" + "\n".join(lines))[1:]
        inside = Markup("").join(
            Markup("<li>{}</li>").format(_inline(" ".join(item.split()), linked)) for item in items
        )
        return Markup("<{0}>{1}</{0}>").format(kind, inside)
    return Markup("<p>{}</p>").format(_inline(" ".join(line.strip() for line in lines), linked))


def _table(lines: list[str], linked: Linked) -> Markup:
    rows = [[_inline(cell.strip(), linked) for cell in line.strip().strip("|").split("|")] for line in lines]
    head = Markup("").join(Markup('<th scope="col">{}</th>').format(cell) for cell in rows[0])
    body = Markup("").join(
        Markup("<tr>{}</tr>").format(Markup("").join(Markup("<td>{}</td>").format(cell) for cell in row))
        for row in rows[1:]
    )
    return Markup("<table><thead><tr>{}</tr></thead><tbody>{}</tbody></table>").format(head, body)


def _inline(text: str, linked: Linked) -> Markup:
    found, at = Markup(""), 0
    for hit in INLINE.finditer(text):
        found += escape(text[at : hit.start()])
        code, strong, words, target = hit.groups()
        if code:
            there = linked(code)
            inside = Markup("<code>{}</code>").format(code)
            found += Markup('<a href="{}">{}</a>').format(there, inside) if there else inside
        elif strong:
            found += Markup("<b>{}</b>").format(strong)
        else:
            there = linked(target)
            found += Markup('<a href="{}">{}</a>').format(there, words) if there else escape(words)
        at = hit.end()
    return found + escape(text[at:])
