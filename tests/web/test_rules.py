"""Every rule has its page on the page, whole and readable without a network."""

import html
import re

from ohmstead.rules.catalogue import page as rule_page
from ohmstead.rules.catalogue import rule_names
from ohmstead.web.prose import blocks
from web.served import client, filled


def test_every_rule_is_listed_and_has_a_page_with_all_its_sections(tmp_path):
    page = client(tmp_path)
    listed = re.findall(r'href="/rules/([\w-]+)"', page.get("/rules").text)
    assert listed == list(rule_names())
    for slug in listed:
        answer = page.get(f"/rules/{slug}")
        assert answer.status_code == 200
        for title, body in rule_page(slug).sections.items():
            assert f'<h2 lang="en">{title}</h2>' in answer.text, (slug, title)
            words = re.findall(r"\w+", re.sub(r"\]\(\S*\.md\)|^```.*$|^\d+\. ", " ", body, flags=re.M))
            shown = re.findall(r"\w+", html.unescape(re.sub(r"<[^>]*>", " ", answer.text)))
            start = next(i for i in range(len(shown)) if shown[i : i + len(words)] == words)  # all of it, in order
            assert start > 0, (slug, title)
        inside = re.findall(r'href="(/rules/[\w-]+)"', answer.text)
        assert set(inside) <= {f"/rules/{name}" for name in listed}


def test_a_rule_that_is_none_is_not_there(tmp_path):
    page = client(tmp_path)
    assert page.get("/rules/no-such-rule").status_code == page.get("/rules/catalogue").status_code == 404


def test_a_finding_leads_to_its_rule(tmp_path):
    page = client(filled(tmp_path, "skerry.yaml"))
    link = re.search(r'href="(/s/skerry.yaml/finding\?key=[^"]+)"', page.get("/s/skerry.yaml").text)[1]
    there = re.search(r'href="(/rules/[\w-]+)"', page.get(html.unescape(link)).text)[1]
    assert page.get(there).status_code == 200


def test_prose_is_escaped():
    shown = blocks("<script>x</script> `a<b` **c>d** [e](javascript:f)\n\n```yaml\n<g>\n```", lambda word: "")
    assert "<script" not in shown and "<g>" not in shown and "javascript" not in shown
    assert "<code>a&lt;b</code>" in shown and "<b>c&gt;d</b>" in shown
