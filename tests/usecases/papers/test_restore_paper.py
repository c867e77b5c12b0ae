"""How the shop file is brought back, on paper: one page, with commands that there are."""

from dataclasses import replace

import pytest

from desktop.commands import NAMES as COMMANDS
from desktop.usecases.papers import kinds
from desktop.usecases.papers.asked import Asked, PaperDesk
from desktop.usecases.papers.frame import About, Printing, stamped
from desktop.usecases.papers.shop.restore_paper import restore_paper
from reports.document import PaperSize
from reports.document_text import NumberedList
from tests.usecases.papers.pages import code, inside, made, pages, words
from tests.usecases.papers.paper_floor import PRINTED, PaperFloor


def test_that_the_restore_paper_names_commands_that_there_are_and_the_file(desk: PaperDesk) -> None:
    paper = made(desk, kinds.RESTORE)
    text = words(paper)
    used = {line.split()[1] for line in text.splitlines() if line.startswith("sparkwright ")}
    assert used == {"verify", "open", "restore", "doctor"}
    assert used <= set(COMMANDS)
    assert "sparkwright restore COPY SHOP" in text
    assert desk.shop_id in text
    printing = desk.printing(PRINTED, Asked(kinds.RESTORE))
    assert printing.head[:16] in text
    assert len(pages(paper)) == len(pages(paper, "a4")) == 1


@pytest.mark.parametrize("size", ["letter", "a4"])
def test_that_the_restore_paper_is_one_page_with_every_step_also_for_long_names(size: PaperSize) -> None:
    name, place = (
        "Quarry Lane Aero Works and Sons, Magnetos and Ignition",
        "/media/keeper/disk of the safe/" + "copies/" * 22,
    )
    printing = Printing(PRINTED, "0f1e2d3c4b5a69788796a5b4c3d2e1f0", 123456, "a1" * 32)
    paper = stamped(restore_paper(About(name, invented=True), place, printing), printing)
    [page] = pages(paper, size)
    for words_of_it in ("sparkwright doctor SHOP", "Restore this copy", code(paper), "a1a1a1a1a1a1a1a1", "INVENTED"):
        assert words_of_it in page
    steps = [len(one.items) for one in inside(paper, NumberedList)]
    starts = [one.start for one in inside(paper, NumberedList)]
    assert starts == [1, *(1 + sum(steps[:number]) for number in range(1, len(steps)))]
    first, last = starts[1], starts[2] - 1
    assert f"instead of {first} to {last}" in page


def test_that_a_shop_without_records_prints_no_seal(own_floor: PaperFloor) -> None:
    class NoRecords:
        def stored(self, _start: int = 1) -> object:
            raise AssertionError("nothing is read where nothing is listed")

        def lines(self) -> tuple[()]:
            return ()

    bare = replace(own_floor.paper_desk(), records=NoRecords)  # type: ignore[arg-type]
    paper = made(bare, kinds.RESTORE)
    assert "none yet" in words(paper)
    assert dict(paper.foot.codes) == {"shop file": bare.shop_id[:16], "records": "0"}
