from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image

from reports.document_text import plain
from tests.reports import page_pictures
from tests.reports.page_pictures import KEPT, differing_dots, is_same, kept, picture_of, write_failure
from tests.reports.reading_back import paper
from tests.reports.sample_papers import PICTURES


@pytest.mark.parametrize("name", PICTURES)
def test_that_a_page_looks_as_it_was_last_looked_at(name: str) -> None:
    actual, expected = picture_of(*PICTURES[name]), kept(name)
    if not is_same(actual, expected):
        folder = write_failure(name, actual, expected)
        pytest.fail(
            f"{name}: {differing_dots(actual, expected)} dots differ; pictures in {folder}. When the new "
            "page is right: python -m tests.reports.renew_pictures"
        )


def test_that_every_kept_picture_has_its_page_and_all_are_small() -> None:
    files = list(KEPT.glob("*.png"))
    assert {file.stem for file in files} == set(PICTURES)
    assert sum(file.stat().st_size for file in files) < 1_000_000


def test_that_one_other_word_and_a_line_moved_by_a_point_are_noticed() -> None:
    before = picture_of(paper(plain("Timed to 23.5 degrees BTDC.")), 0)
    for other in (plain("Timed to 28.8 degrees ATDC."), plain(" " * 3 + "Timed to 23.5 degrees BTDC.")):
        assert not is_same(picture_of(paper(other), 0), before)
    assert is_same(picture_of(paper(plain("Timed to 23.5 degrees BTDC.")), 0), before)
    assert not is_same(Image.new("L", (20, 20), 255), before)


def test_that_a_failure_leaves_what_is_what_should_be_and_the_difference(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(page_pictures, "FAILED", tmp_path / "failed")
    actual, expected = Image.new("L", (30, 20), 0), Image.new("L", (20, 20), 255)
    folder = write_failure("page", actual, expected)
    assert sorted(file.name for file in folder.iterdir()) == [
        "page-actual.png",
        "page-difference.png",
        "page-expected.png",
    ]
    with Image.open(folder / "page-difference.png") as difference:
        assert difference.size == (30, 20)
