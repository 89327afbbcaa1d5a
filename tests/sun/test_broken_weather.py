"""Every file in broken/ is refused with the message beside it. The site's section weather stands in its .yaml."""

from pathlib import Path

import pytest

from ohmstead.sun.trouble import WeatherError
from ohmstead.sun.weather import read_given, read_hours
from sun.skies import site

FOLDER = Path(__file__).parent / "broken"
NAMES = sorted(path.stem for path in FOLDER.glob("*.yaml"))


def test_there_are_some() -> None:
    assert len(NAMES) >= 20
    assert {path.stem for path in FOLDER.iterdir()} == set(NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_broken(name: str) -> None:
    given = site((FOLDER / f"{name}.yaml").read_text(encoding="utf-8").strip())
    with pytest.raises(WeatherError) as error:
        (read_given if "harvest" in name else read_hours)(given, FOLDER)
    assert str(error.value) == (FOLDER / f"{name}.txt").read_text(encoding="utf-8").rstrip("\n")
