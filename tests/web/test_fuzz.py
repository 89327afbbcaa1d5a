"""Anything may be sent to any address: an answer, never a fault of the program, never a traceback, never a loss."""

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from starlette.routing import Route

from web.served import client, filled

FIELDS = ("mark", "name", "kind", "key:length", "key:wire", "key:draws", "finding", "because", "direction", "there",
          "text", "work", "do", "language", "units", "file", "volts", "capacity", "device0", "window0", "power0",
          "other", "case", "battery", "warmth", "state:fridge", "field", "value", "key", "code", "paper", "date",
          "sharing", "take:10", "of", "around", "air", "array", "drag", "x", "y", "check", "costs", "key:tilt",
          "right:net switch", "down:net switch", "east:mast", "top:mast")  # fmt: skip
ODD = st.one_of(
    st.text(max_size=30),
    st.sampled_from(["", "0", "-1", "1e999", "nan", "choose", "run", "bank", "cabin.yaml", "../x", "a: b", "{a: 1}",
                     "]", "'", '"', "\x00", "𝔘", "%s", "{0}", "{t}", "bank -> low cut", "fuse-over-cable|bank",
                     "arrays", "cabinet", "obstacles", "mast", "east rack", "west rack", "yes", "5"]),
)  # fmt: skip
KEPT = ("cabin.yaml", "saltpan.yaml")
VALUES = st.dictionaries(st.sampled_from(FIELDS), ODD, max_size=6)


def routes(page):
    return [route for route in page.app.app.routes if isinstance(route, Route)]


@settings(max_examples=120, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.data())
def test_nothing_breaks_it(tmp_path, data):
    page = client(tmp_path)
    if not (tmp_path / "cabin.yaml").exists():
        filled(tmp_path, *KEPT)
    route = data.draw(st.sampled_from(routes(page)))
    path = route.path.replace("{file}", data.draw(st.sampled_from([*KEPT, "none.yaml", "x"])))
    path = path.replace("{name:path}", data.draw(st.sampled_from(["report.html", "x", "a/b", "tables/x.csv"])))
    path = (
        path.replace("{name}", "cabin.yaml")
        .replace("{slug}", "x")
        .replace("{work}", data.draw(st.sampled_from(["years", "x"])))
    )
    method = data.draw(st.sampled_from(sorted(route.methods or {"GET"}) + ["PUT"]))
    values = data.draw(VALUES)
    before = [(tmp_path / name).read_bytes() for name in KEPT]
    if method == "POST" and data.draw(st.booleans()):
        answer = page.request(method, path, params=values, content=data.draw(st.binary(max_size=60)))
    elif method == "POST":
        answer = page.request(method, path, data=values)
    else:
        answer = page.request(method, path, params=values)
    assert answer.status_code < 500, (method, path, values, answer.text[:300])
    assert "Traceback" not in answer.text
    assert [(tmp_path / name).read_bytes() for name in KEPT] == before  # no mark, no change
    for made in tmp_path.glob("*.yaml"):
        if made.name not in KEPT:
            made.unlink()
