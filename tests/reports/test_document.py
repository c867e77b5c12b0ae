from __future__ import annotations

import math
from dataclasses import FrozenInstanceError

import pytest

from reports.document import (
    Column,
    Foot,
    Head,
    Picture,
    ReadingColumn,
    ReadingTable,
    Run,
    Seal,
    Space,
    Table,
    plain,
)
from reports.drawing import Drawing

SHEET = Drawing(10.0, 10.0, ())


@pytest.mark.parametrize(
    "build",
    [
        lambda: ReadingTable((), ()),
        lambda: ReadingTable((), (ReadingColumn("what"), ReadingColumn("what"))),
        lambda: Column("a", 0.0),
        lambda: Column("a", math.nan),
        lambda: Table((), ()),
        lambda: Table((Column("a"),), (("1", "2"),)),
        lambda: Picture(SHEET, 0.0, 10.0),
        lambda: Picture(SHEET, 10.0, math.inf),
        lambda: Seal(""),
        lambda: Seal("x" * 601),
        lambda: Seal("x", size_mm=5.0),
        lambda: Space(-1.0),
        lambda: Space(math.nan),
        lambda: Head("x" * 201),
        lambda: Head("x", lines=(plain("a"),) * 7),
        lambda: Head("x", lines=(plain("a" * 201),)),
        lambda: Foot("x" * 201),
        lambda: Foot(codes=(("a", "1" * 200),)),
    ],
)
def test_that_a_value_which_could_not_be_printed_cannot_be_built(build: object) -> None:
    with pytest.raises(ValueError, match=r"\w"):
        build()  # type: ignore[operator]


def test_that_papers_cannot_be_changed() -> None:
    run = Run("as typed")
    with pytest.raises(FrozenInstanceError):
        run.text = "changed"  # type: ignore[misc]
    assert hash(run) == hash(Run("as typed"))


def test_that_plain_words_make_a_paragraph_of_one_run() -> None:
    assert plain("word", bold=True).runs == (Run("word", bold=True),)
