from __future__ import annotations

import pytest

from reports.document_text import PageBreak, plain
from reports.pages import pages_of
from reports.render import render
from tests.reports.reading_back import paper


@pytest.mark.parametrize("dots_per_inch", [36.0, 72.0])
def test_that_each_page_is_a_picture_of_its_size_in_black_on_white(dots_per_inch: float) -> None:
    pages = pages_of(render(paper(plain("one"), PageBreak(), plain("two")), "letter"), dots_per_inch)
    assert len(pages) == 2
    for page in pages:
        assert (page.width, page.height) == (round(8.5 * dots_per_inch), round(11 * dots_per_inch))
        assert len(page.pixels) == page.stride * page.height
        assert page.stride >= 3 * page.width
        assert max(page.pixels) == 255
        assert min(page.pixels) < 128


def test_that_pages_without_a_file_are_refused() -> None:
    with pytest.raises(Exception, match="Failed to load document"):
        pages_of(b"no paper", 72.0)
