"""docs/site-file.md is made from the declarations, and its example is a good site file."""

from pathlib import Path

import pytest

from ohmstead.site.declare import declared
from ohmstead.site.describe import EXAMPLE, site_file_page
from ohmstead.site.kinds import KINDS
from ohmstead.site.model import About, Acceptance, Battery, Run, Zone
from ohmstead.site.read import read_text
from ohmstead.site.sky import Array, Goal, Horizon, Obstacle, Weather

SKY = (Weather, Array, Horizon, Obstacle, Goal)
PAGE = Path(__file__).parents[2] / "docs" / "site-file.md"


def test_the_committed_page_is_in_step() -> None:
    assert PAGE.read_text(encoding="utf-8") == site_file_page()


def test_the_example_is_read() -> None:
    site = read_text(EXAMPLE)
    assert set(site.parts) == {"fuse block", "rack supply", "recorder", "lamps"}
    assert site.runs[1].origin["wire"].how == "choose"


@pytest.mark.parametrize("cls", [About, Zone, Battery, Run, Acceptance, *SKY, *KINDS.values()])
def test_every_key_stands_on_the_page(cls: type) -> None:
    page = site_file_page()
    for field in declared(cls).values():
        assert f"| `{field.key}` |" in page
        assert field.doc in page
        assert field.why in page
