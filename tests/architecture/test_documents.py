"""The documents are held to the code: what they name exists."""

import re
import tomllib
from pathlib import Path

import pytest

from desktop.commands import NAMES
from desktop.core.shop.orders.order_states import states_table

TOP = Path(__file__).parents[2]
README = (TOP / "README.md").read_text("utf-8")
DEVELOPERS = (TOP / "DEVELOPERS.md").read_text("utf-8")


def test_that_every_command_of_the_readme_exists_and_every_command_is_in_the_readme() -> None:
    named = set(re.findall(r"^- `sparkwright ([a-z-]+)", README, re.MULTILINE))
    named |= set(re.findall(r"`sparkwright ([a-z-]+) SHOP`", README))
    assert named == set(NAMES)


def test_that_the_readme_has_two_lines_to_paste() -> None:
    lines = re.findall(r"^apt-get update && .*$", README, re.MULTILINE)
    assert len(lines) == 2
    assert lines[0].endswith("sparkwright demo --paper papers")
    assert lines[1].endswith("-m pytest -q")


def test_that_every_dependency_is_justified_in_a_line() -> None:
    project = tomllib.loads((TOP / "pyproject.toml").read_text("utf-8"))["project"]
    extras = [name for extra in project["optional-dependencies"].values() for name in extra]
    for requirement in [*project["dependencies"], *extras]:
        name = re.split(r"[\[<>=;]", requirement)[0].strip()
        assert name in DEVELOPERS, f"DEVELOPERS.md does not say why {name} is here"


def test_that_the_top_level_holds_what_was_agreed_and_nothing_else() -> None:
    there = {place.name for place in TOP.iterdir() if not place.name.startswith(".")}
    built = {place for place in there if place.endswith(".egg-info")} | {"papers", "__pycache__", "sparkwright-papers"}
    assert there - built == {
        "README.md",
        "DEVELOPERS.md",
        "pyproject.toml",
        "desktop",
        "resources",
        "reports",
        "tests",
    }


def test_that_the_moves_of_an_order_are_those_of_the_code() -> None:
    assert states_table() in DEVELOPERS


@pytest.mark.parametrize("name", ["Apache-2.0.txt", "OFL-atkinson-hyperlegible-next.txt", "OFL-b612-mono.txt"])
def test_that_the_licence_texts_lie_where_they_should(name: str) -> None:
    assert len((TOP / "resources" / "licences" / name).read_text("utf-8")) > 1000


def test_that_every_picture_of_the_readme_is_there_and_none_lies_about() -> None:
    shown = set(re.findall(r"\]\((resources/pictures/[a-z-]+\.png)\)", README))
    assert shown == {place.relative_to(TOP).as_posix() for place in (TOP / "resources" / "pictures").iterdir()}
    assert all((TOP / name).read_bytes().startswith(b"\x89PNG") for name in shown)
    assert len(shown) == 4
