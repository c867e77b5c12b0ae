"""The guide's pages are read with the limits of the cards' texts, and name each other rightly."""

import re

import pytest

from desktop.core.errors import Refusal
from desktop.core.guide import Block, Mark
from desktop.files.guide import builtin_guide, pieces_of, read_page

HEAD = "title: T\nfor: mechanic\nplaces: Card; Order\n"


def test_that_a_page_is_read_line_by_line() -> None:
    page = read_page(
        "07-card-page.txt",
        f"{HEAD}\nPlain words.\n## Head\n- Press {{key: Ctrl+N}}.\n!! Warned.\n! Careful.\n> Noted.\n"
        "- Go to {page: x}.\n",
    )
    assert (page.id, page.title, page.written_for, page.places) == ("card-page", "T", ("mechanic",), ("Card", "Order"))
    assert [one.kind for one in page.paragraphs] == [
        Block.TEXT,
        Block.HEADING,
        Block.STEP,
        Block.WARNING,
        Block.CAUTION,
        Block.NOTE,
        Block.STEP,
    ]
    assert page.marked(Mark.KEY) == ("Ctrl+N",)
    assert page.marked(Mark.PAGE) == ("x",)
    assert page.paragraphs[2].words == "Press Ctrl+N."


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("title: T\n", 'p.txt, line 2: expected "for:"'),
        ("", 'p.txt, line 1: expected "title:"'),
        (f"{HEAD}- {'word ' * 20}word.", "p.txt, line 4: 21 words"),
        (f"{HEAD}\n- Do this. Do that.", "p.txt, line 5: more than one sentence."),
        (f"{HEAD}{'word ' * 26}.", "p.txt, line 4: a sentence of 26 words"),
        (f"{HEAD}One. Two. Three. Four. Five. Six. Seven.", "7 sentences"),
        (f"{HEAD}See {{lable: X}}.", "a mark that is none"),
        (f"{HEAD}## {'h' * 81}", "81 signs"),
    ],
)
def test_that_what_a_page_may_not_hold_is_refused_with_its_line(text: str, said: str) -> None:
    with pytest.raises(Refusal, match=re.escape(said)):
        read_page("p.txt", text)


def test_that_a_text_falls_into_its_pieces_and_together_again() -> None:
    pieces = pieces_of("Press {label: A} or {key: B}")
    assert [(one.mark, one.text) for one in pieces] == [
        (Mark.TEXT, "Press "),
        (Mark.LABEL, "A"),
        (Mark.TEXT, " or "),
        (Mark.KEY, "B"),
    ]
    assert pieces_of("") == ()


def test_that_every_shipped_page_has_an_id_of_its_own_and_every_page_it_names_exists() -> None:
    pages = builtin_guide()
    ids = [page.id for page in pages]
    assert len(set(ids)) == len(ids)
    places = [place for page in pages for place in page.places]
    assert len(set(places)) == len(places)
    assert {other for page in pages for other in page.marked(Mark.PAGE)} <= set(ids)
    assert {who for page in pages for who in page.written_for} == {
        "everybody",
        "front desk",
        "mechanic",
        "inspector",
        "authorised person",
        "records keeper",
    }


def test_that_the_guide_claims_for_no_authority_that_a_signature_is_accepted() -> None:
    [page] = [one for one in builtin_guide() if one.id == "authority"]
    said = " ".join(one.words for one in page.paragraphs)
    assert "between the shop and its authority. The program does not claim that it is." in said
    everything = " ".join(one.words for other in builtin_guide() for one in other.paragraphs).casefold()
    for claim in ("is accepted by", "approved by the faa", "faa-approved", "compliant", "meets the requirements"):
        assert claim not in everything


def test_that_the_demos_page_says_the_secrets_that_the_demo_has() -> None:
    from desktop.files.demo_shop import demo_shop  # noqa: PLC0415 - only here

    [page] = [one for one in builtin_guide() if one.id == "demo"]
    said = " ".join(one.words for one in page.paragraphs)
    demo = demo_shop()
    for person in demo.person:
        assert f"{person.name} ({person.id}): {demo.secrets[person.id]}" in said
