"""The program's sentences, read from the one place where they stand."""

import tomllib
from collections.abc import Mapping
from importlib.resources import files


def finding_sentences() -> Mapping[str, str]:
    """Return the sentence of each rule by its id."""
    text = files("resources").joinpath("texts", "en.toml").read_text("utf-8")
    sentences: dict[str, str] = tomllib.loads(text)["findings"]
    return sentences
