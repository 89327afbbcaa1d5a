"""A spoilt weather file is read or refused with a message; nothing else ever comes out."""

import shutil
from pathlib import Path

import pvlib
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from ohmstead.sun.trouble import WeatherError
from ohmstead.sun.weather import read_hours
from sun.skies import CSV, SKERRY, site, sky, write_csv, write_epw

DATA = Path(pvlib.__file__).parent / "data"
SECTIONS = {
    "a.csv": CSV % ("UTC", "start"),
    "a.epw": "{file: a.epw, format: epw}",
    "a.tm2": "{file: a.tm2, format: tmy2}",
    "a3.csv": "{file: a3.csv, format: tmy3}",
}
SPOILT = [b"", b",,", b"\n", b"nan", b"-", b'"', b"9e999", b"\xff\xfe", b"{", b"2021-01-01"]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("weather")
    rows = sky(SKERRY, "2021-01-01", "2021-12-31")
    write_csv(path, rows)
    write_epw(path, rows, SKERRY, 0.0)
    shutil.copy(DATA / "12839.tm2", path / "a.tm2")
    shutil.copy(DATA / "703165TY.csv", path / "a3.csv")
    return path


@pytest.mark.parametrize("name", SECTIONS)
@settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(at=st.integers(0, 3000) | st.integers(0, 200_000), gone=st.integers(0, 1500), put=st.sampled_from(SPOILT))
def test_spoilt(folder: Path, name: str, at: int, gone: int, put: bytes) -> None:
    good = (folder / name).read_bytes()
    bad = folder / "spoilt" / name
    bad.parent.mkdir(exist_ok=True)
    bad.write_bytes(good[:at] + put + good[at + gone :])
    try:
        assert read_hours(site(SECTIONS[name]), bad.parent).n_hour % 8760 == 0
    except WeatherError as error:
        problem = error.problems[0]
        assert problem.what and problem.expected and problem.mend
