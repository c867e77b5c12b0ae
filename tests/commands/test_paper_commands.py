"""The commands that print: each kind by its name, nothing written over, refusals in one line."""

import shutil
from dataclasses import replace
from datetime import date
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from desktop import paper_assembly, shop_assembly
from desktop.core.errors import Refusal
from desktop.core.shop.people.people import Person
from desktop.storage.shop_store import ShopFile
from desktop.usecases.papers import kinds
from desktop.usecases.papers.asked import Asked
from desktop.usecases.papers.fitting import fitted
from desktop.usecases.papers.kinds import IN_THE_SHOP, KINDS, Of, PaperKind
from tests.commands.test_commands import Runner, run
from tests.usecases.papers.conftest import paper_shop
from tests.usecases.papers.paper_floor import PRINTED, REFUSED, SIGNED, TWIN
from tests.usecases.shop.fake_store import FakeStore

__all__ = ["paper_shop", "run"]

OF = {"drift": "7741", "sheet": "marrow-six", "declaration": "MECH"}


@pytest.fixture
def place(paper_shop: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    return Path(shutil.copy(paper_shop, tmp_path / "mill.shop"))


def text_of(place: Path) -> str:
    return " ".join(" ".join(page.extract_text().split()) for page in PdfReader(place).pages)


def test_that_papers_lists_every_kind_with_what_it_is_for(run: Runner) -> None:
    ran = run("papers")
    assert (ran.status, ran.err) == (0, "")
    lines = ran.out.splitlines()
    assert [line.split("  ")[0].strip() for line in lines] == [kind.name for kind in KINDS]
    assert all(line.endswith(kind.says) for line, kind in zip(lines, KINDS, strict=True))


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind is not kinds.RELEASE_TAG], ids=lambda kind: kind.name)
@pytest.mark.parametrize("size", ["letter", "a4"])
def test_that_every_kind_prints_in_both_sizes(run: Runner, place: Path, kind: PaperKind, size: str) -> None:
    order = "-" if kind.of in IN_THE_SHOP else f"W-{SIGNED if kind in (kinds.RECORD, kinds.ENTRY_LABELS) else TWIN:04d}"
    named = ("--of", OF[kind.name]) if kind.name in OF else ()
    card = ("--card", 5) if kind.of is Of.CARD else ()
    ran = run("paper", place, order, "--kind", kind.name, *named, *card, "--size", size, "-o", "out.pdf")
    assert (ran.status, ran.out, ran.err) == (0, "", "")
    reader = PdfReader(place.parent / "out.pdf")
    width = float(reader.pages[0].mediabox.width)
    assert width == pytest.approx(612 if size == "letter" else 595.28, abs=0.1)
    assert reader.metadata is not None
    assert reader.metadata.title
    for page in reader.pages:
        assert len(page.extract_text().split()) > 8


def test_that_a_release_tag_is_refused_for_a_magneto_that_stays_on_the_aircraft(run: Runner, place: Path) -> None:
    ran = run("paper", place, f"W-{TWIN:04d}", "--kind", "release-tag", "-o", "out.pdf")
    assert ran.status == 2
    assert "No job of this order ends with a release tag." in ran.err
    assert not (place.parent / "out.pdf").exists()


def test_that_without_a_kind_the_newest_card_is_printed_as_it_was_filled(run: Runner, place: Path) -> None:
    assert run("paper", place, "2", "-o", "card.pdf").status == 0
    text = text_of(place.parent / "card.pdf")
    assert "Task card T4: Time the magnetos to the engine" in text
    assert "Left magneto. Within: 23.5° BTDC" in text
    assert "Mill Shop order W-0002 card 9 (T4) rev 2 printed " in text


def test_that_a_second_print_of_the_same_card_says_so_and_keeps_its_code(run: Runner, place: Path) -> None:
    for name in ("one.pdf", "two.pdf"):
        assert run("paper", place, "W-0002", "--kind", "work-order", "-o", name).status == 0
    first, second = text_of(place.parent / "one.pdf"), text_of(place.parent / "two.pdf")
    assert "Reprint" not in first
    assert "Reprint" in second
    code = first.rsplit("check code of this print", 1)[1].split()[0]
    assert code in second
    assert run("paper", place, "W-0002", "--kind", "tools", "--reprint", "-o", "three.pdf").status == 0
    assert "Reprint" in text_of(place.parent / "three.pdf")


def test_that_nothing_is_written_over_without_being_asked(run: Runner, place: Path) -> None:
    out = place.parent / "card.pdf"
    out.write_text("a letter")
    ran = run("paper", place, "2", "-o", out)
    assert ran.status == 2
    assert "is there already and stays as it is" in ran.err
    assert out.read_text() == "a letter"
    assert run("paper", place, "2", "-o", out, "--replace").status == 0
    assert out.read_bytes().startswith(b"%PDF")
    before = place.read_bytes()
    ran = run("paper", place, "2", "-o", place, "--replace")
    assert "this is the shop file itself" in ran.err
    assert place.read_bytes() == before


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("2", "--kind", "invoice"), 'There is no kind of paper "invoice". Choose one of: work-order, '),
        (("-",), "A paper of this kind is about a card of an order. Name the order, such as W-0001."),
        (("W-x",), '"W-x" is no order number.'),
        (("99",), "There is no order 99."),
        (("2", "--card", "12"), "W-0002 has no card 12."),
        (("2", "--card", "3"), "Card 3 cannot be printed yet."),
        (("-", "--kind", "sheet"), "A paper of this kind is about a limits sheet, by its id. Name it with --of."),
        (("5", "--kind", "record"), "Nothing is signed yet about W-0005."),
        (("-", "--kind", "drift", "--of", "ZZ"), 'No magneto "ZZ" was on an order of this shop. Name it by'),
        (
            ("-", "--kind", "roster", "--of", "ZZ"),
            "about the shop, and nothing more is named. Leave --of out.",
        ),
        (("-", "--kind", "due", "--card", "1"), "due is about the shop and no single card. Leave --card out."),
        (("1", "--kind", "record", "--of", "5", "--card", "1"), "names the record by its number already. Leave --card"),
        (("2", "--kind", "record", "--of", "5"), "is about W-0001, and not about W-0002. Write W-0001 for ORDER"),
        (("2", "--kind", "record", "--of", "2"), 'is about no order, and not about W-0002. Write "-" for ORDER'),
        (("-", "--kind", "declaration", "--of", "Nobody"), 'Nobody called "Nobody" is on the roster.'),
        (("2", "--kind", "roster"), 'is about the shop, and W-0002 has no part in it. Write "-" for ORDER.'),
        (("2", "--kind", "sheet", "--of", "marrow-six"), 'W-0002 has no part in it. Write "-" for ORDER.'),
        (
            ("1", "--kind", "entry", "--start", "2"),
            "of the kind entry is no sheet of labels. Leave --start out.",
        ),
        (("1", "--label", "A4, 6 of 99.1 x 93.1 mm"), "card is no sheet of labels. Leave --label out."),
        (("1", "--kind", "entry-labels", "--start", "7"), "The first label is one of 1 to 6 on this sheet."),
        (("1", "--kind", "entry-labels", "--label", "A4, 21 of 63.5 x 38.1 mm"), "does not fit on labels of this size"),
    ],
)
def test_that_what_cannot_be_printed_is_refused_in_one_line_and_leaves_no_file(
    run: Runner, place: Path, words: tuple[str, ...], said: str
) -> None:
    ran = run("paper", place, *words, "-o", "out.pdf")
    assert (ran.status, ran.out) == (2, "")
    assert said in ran.err
    assert ran.err.count("\n") == 1
    assert not (place.parent / "out.pdf").exists()


@pytest.mark.parametrize("of", ["MECH", "mech", "Mel Chan", " mel  chan "])
def test_that_a_declaration_takes_the_initials_or_the_full_name(run: Runner, place: Path, of: str) -> None:
    assert run("paper", place, "-", "--kind", "declaration", "--of", of, "-o", "out.pdf").status == 0
    assert "Mel Chan (MECH)" in text_of(place.parent / "out.pdf")


def test_that_a_record_is_printed_for_its_own_order_or_for_none_named(run: Runner, place: Path) -> None:
    for order, name in (("1", "one.pdf"), ("-", "two.pdf")):
        assert run("paper", place, order, "--kind", "record", "--of", "5", "-o", name).status == 0
        assert "W-0001" in text_of(place.parent / name)


def test_that_two_people_of_one_name_are_told_apart_by_the_initials() -> None:
    twins = [Person(initials, "Mel Chan", (), date(2031, 1, 1)) for initials in ("MC", "MH")]
    with pytest.raises(Refusal, match=r'"Mel Chan" is the name of MC and of MH\. Name one of them by the initials\.'):
        fitted(Asked(kinds.DECLARATION, of="Mel Chan"), twins, ())


def test_that_a_folder_of_papers_has_stable_names_and_the_same_bytes_twice(place: Path) -> None:
    with shop_assembly.shop_at(place) as shop:
        first = dict(paper_assembly.papers_of(shop, TWIN, printed=PRINTED))
        assert dict(paper_assembly.papers_of(shop, TWIN, printed=PRINTED)) == first
        signed = list(dict(paper_assembly.papers_of(shop, SIGNED, printed=PRINTED, size="a4", invented=True)))
        refused = dict(paper_assembly.papers_of(shop, REFUSED, printed=PRINTED))
    assert list(first)[:4] == [
        "W-0002-work-order.pdf",
        "W-0002-card-01-R1.pdf",
        "W-0002-card-01-R1-blank.pdf",
        "W-0002-card-02-S1.pdf",
    ]
    # The steps of card 3 are not known yet: it is left out.
    assert "W-0002-card-03-T4.pdf" not in first
    assert {"W-0002-leads.pdf", "W-0002-removed-parts.pdf"} <= set(first)
    assert "W-0002-entry-labels.pdf" not in first
    assert signed[-4:] == [
        "W-0001-record-0005-card-submitted.pdf",
        "W-0001-record-0006-card-accepted.pdf",
        "W-0001-record-0007-approved-for-return-to-service.pdf",
        "W-0001-record-0008-correction.pdf",
    ]
    assert "W-0001-leads.pdf" not in signed
    assert "W-0004-entry-labels.pdf" in refused


def test_that_invented_papers_say_so_on_every_page(place: Path) -> None:
    with shop_assembly.shop_at(place) as shop:
        for name, data in paper_assembly.papers_of(shop, SIGNED, printed=PRINTED, invented=True):
            if not name.endswith("labels.pdf"):
                assert all("INVENTED DATA" in page.extract_text() for page in PdfReader(BytesIO(data)).pages), name


def test_that_an_order_without_cards_has_its_own_papers(place: Path) -> None:
    with shop_assembly.shop_at(place) as shop:
        names = [name for name, _ in paper_assembly.papers_of(shop, 5, printed=PRINTED)]
        with pytest.raises(Refusal, match="There is no order 99"):
            list(paper_assembly.papers_of(shop, 99, printed=PRINTED))
    assert names == [
        f"W-0005-{kind}.pdf" for kind in ("work-order", "entry", "discrepancies", "tools", "propeller-tag")
    ]


def test_that_papers_need_a_shop_file(place: Path) -> None:
    with shop_assembly.shop_at(place) as shop:
        with pytest.raises(TypeError):
            paper_assembly.paper_desk(replace(shop, store=FakeStore()))
        assert paper_assembly.printed_paper(shop, Asked(kinds.ROSTER), "letter", PRINTED).startswith(b"%PDF")


def test_that_a_shop_file_that_cannot_be_written_keeps_nobody_from_printing(
    place: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(_file: ShopFile) -> None:
        raise Refusal("The disk is full.")

    with shop_assembly.shop_at(place) as shop:
        monkeypatch.setattr(ShopFile, "changing", full)
        data = paper_assembly.printed_paper(shop, Asked(kinds.WORK_ORDER, TWIN), "letter", PRINTED)
    assert data.startswith(b"%PDF")


def test_that_a_card_without_timing_is_refused_with_those_that_have_it(run: Runner, place: Path) -> None:
    ran = run("card", place, "W-0002", "--card", "1")
    assert ran.status == 2
    assert ran.err == (
        "sparkwright: Card 1, Run-up as found, and ignition-switch check, has no timing to work out. "
        "Cards 3 and 9 have: name one, such as --card 9.\n"
    )
    assert run("card", place, "W-0002", "--card", "9").out.startswith("{")
    assert "W-0002 has no card 12." in run("card", place, "W-0002", "--card", "12").err


def test_that_a_print_that_is_not_written_is_not_remembered(run: Runner, place: Path) -> None:
    assert run("paper", place, "2", "--kind", "work-order", "-o", "no/such/folder/x.pdf").status == 2
    assert run("paper", place, "2", "--kind", "work-order", "-o", "one.pdf").status == 0
    assert "Reprint" not in text_of(place.parent / "one.pdf")
