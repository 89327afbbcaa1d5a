"""`ohmstead rules`: every rule in one line."""

from argparse import ArgumentParser, Namespace

from ..rules.catalogue import page, rule_names
from .paper import columns


def declare(parser: ArgumentParser) -> None:
    """It takes no arguments."""


def run(options: Namespace) -> int:
    """Print the list."""
    print("\n".join(columns(("rule", "what it looks for"), [(slug, page(slug).sentence) for slug in rule_names()])))
    return 0
