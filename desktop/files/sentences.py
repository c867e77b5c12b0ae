"""The program's sentences, read from the one place where they stand."""

import tomllib
from collections.abc import Mapping
from importlib.resources import files
from typing import Any


def finding_sentences() -> Mapping[str, str]:
    """Return the sentence of each rule about readings by its id."""
    return _texts("findings")


def paperwork_sentences() -> Mapping[str, str]:
    """Return the sentence of each rule about a card on an order, and about an order, by its id."""
    return _texts("paperwork")


def remedies() -> Mapping[str, str]:
    """Return what to do about each rule, in a line, by its id."""
    return _texts("remedies")


def _texts(table: str) -> Mapping[str, str]:
    text = files("resources").joinpath("texts", "en.toml").read_text("utf-8")
    every: dict[str, Any] = tomllib.loads(text)
    found: dict[str, str] = every[table]
    return found
