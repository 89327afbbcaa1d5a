"""`ohmstead schema`: the JSON Schema of the site file."""

from argparse import ArgumentParser, Namespace

from ..site.schema import site_schema
from .as_json import dump


def declare(parser: ArgumentParser) -> None:
    """It takes no arguments."""


def run(options: Namespace) -> int:
    """Print the schema."""
    print(dump(site_schema()))
    return 0
