"""Ohmstead: one safe extra-low-voltage DC supply, checked from one plain-text site file.

>>> import ohmstead
>>> study = ohmstead.open("examples/skerry/skerry-mended.yaml")  # doctest: +SKIP
>>> study.verdict  # doctest: +SKIP
'fine'
"""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

    from .study import Study

__version__ = "0.1.0"


def open(path: "str | Path") -> "Study":
    """Open a site file as a Study. Raises SiteError with every problem in the file."""
    from .study import open_site

    return open_site(path)
