"""What is said of copies: in the list, on the doctor's page, and of the one that is to be restored."""

from dataclasses import replace
from pathlib import Path

import pytest
from pytestqt.modeltest import ModelTester

from desktop.core.errors import Refusal
from desktop.usecases.records.checking.health import Line, Word, page
from desktop.usecases.records.copies.copy_ports import BadCopy, Sabotage
from desktop.viewmodels.pieces.card_words import Progress
from desktop.viewmodels.pieces.lines_model import LinesModel
from desktop.viewmodels.shop.copies_found import (
    COPY_COLUMNS,
    NOT_THERE,
    STOPPED,
    FoundCopy,
    KnownLine,
    RestoreOrder,
    counted,
    doctor_lines,
    found_verdict,
    found_words,
    in_window,
    made_words,
    ring_of,
    said_in_window,
    verdict_of,
)

COPY = Path("/media/safe/Quarry Lane 2031-03-01 170211.shop-copy")
SEAL, TYPED = "0f1e2d3c4b5a6978", "seven herons"
KNOWN = KnownLine(COPY, "2031-03-01T17:02:11+01:00", 212, 640, SEAL * 4)
FOUND = FoundCopy(
    COPY,
    Path("/home/shop/quarry.shop"),
    "Quarry Lane",
    KNOWN.made_at,
    212,
    640,
    KNOWN.seal,
    "is older than the present file: it lacks 2 orders, 9 records",
    is_older=True,
    has_present=True,
    present_records=649,
    keepers=(("LO", "Lena Ode"),),
    missing=("W-0213 (XQ-TBK)", "W-0214 (XQ-ABD)"),
    changed=("W-0198 (XQ-OOM)",),
)
LINES = (
    Line(Word.OK, "journal mode", "delete"),
    Line(Word.LOOK, "newest copy", "none"),
    Line(Word.WRONG, "fonts", "a face is empty"),
)


def says(line: KnownLine) -> list[str]:
    return [column.words(line) for column in COPY_COLUMNS]


@pytest.mark.usefixtures("qtbot")
def test_that_the_list_keeps_its_promises_to_views(qtmodeltester: ModelTester) -> None:
    model = LinesModel(COPY_COLUMNS, lambda line: line.place)
    model.show_lines((KNOWN, replace(KNOWN, place=COPY.with_name("b"), trouble="cut short")))
    qtmodeltester.check(model)  # type: ignore[no-untyped-call]  # the tester has no types; it stays and watches
    model.show_lines((KNOWN,))
    model.show_lines(())


def test_that_a_copy_in_the_list_says_where_when_how_much_its_seal_and_how_it_is() -> None:
    assert says(KNOWN) == [
        COPY.name,
        "/media/safe",
        "1 Mar 2031 17:02",
        "640 records",
        "0f1e2d3c4b5a6978",
        "sound, read whole",
    ]
    assert says(KnownLine(COPY, trouble="cut short")) == [COPY.name, "/media/safe", "", "", "", "cut short"]
    assert made_words("yesterday") == "not known"
    assert [column.ring is not None for column in COPY_COLUMNS] == [False] * 5 + [True]


@pytest.mark.parametrize(
    ("trouble", "ring"),
    [("", Progress.DONE), ("cut short", Progress.STOPS), (NOT_THERE, Progress.OPEN), ("empty", Progress.STOPS)],
)
def test_that_how_a_copy_is_has_a_shape(trouble: str, ring: Progress) -> None:
    assert ring_of(replace(KNOWN, trouble=trouble)) is ring


def test_that_an_invisible_sign_in_a_name_is_seen() -> None:
    assert says(replace(KNOWN, place=Path("/a/b\u202e.shop-copy")))[0] == "b[U+202E].shop-copy"


def test_that_the_doctors_lines_say_what_the_command_line_says_with_a_shape() -> None:
    lines = doctor_lines(LINES)
    assert [(one.word, one.progress) for one in lines] == [
        ("ok", Progress.DONE),
        ("look", Progress.OPEN),
        ("wrong", Progress.STOPS),
    ]
    for line, printed in zip(lines, page(LINES), strict=True):
        assert printed.split() == f"{line.word} {line.what} {line.says}".split()


@pytest.mark.parametrize(
    ("lines", "words", "progress"),
    [
        (LINES, "Wrong: 1 thing to mend", Progress.STOPS),
        (LINES[:2] * 2, "Look: 2 things to look at", Progress.OPEN),
        (LINES[:1], "Ok: nothing to mend, nothing to look at", Progress.DONE),
    ],
)
def test_that_the_verdict_is_that_of_the_worst_line(lines: tuple[Line, ...], words: str, progress: Progress) -> None:
    assert verdict_of(lines) == (words, progress)


def test_that_an_older_copy_says_what_would_be_missing_and_where_the_present_file_goes() -> None:
    verdict = found_verdict(FOUND)
    assert (verdict.words, verdict.progress) == ("This copy is sound, but it lacks something.", Progress.OPEN)
    assert verdict.lines == (
        f"It is the shop of Quarry Lane: 640 records and 212 orders, made 1 Mar 2031 17:02, record seal {SEAL}.",
        "The copy is older than the present file: it lacks 2 orders, 9 records.",
        "Restored, the shop goes back by 9 records: they stay in the file that is kept aside.",
        "Missing would be: W-0213 (XQ-TBK), W-0214 (XQ-ABD).",
        "As they were before would be: W-0198 (XQ-OOM).",
        'The present file is kept aside as "quarry kept aside", with day and time, in /home/shop. Nothing is erased.',
    )


def test_that_a_copy_that_lacks_nothing_and_one_without_a_present_file_say_so() -> None:
    same = replace(FOUND, lacks="lacks nothing that the present file holds", is_older=False, missing=(), changed=())
    same = replace(same, present_records=640)
    assert found_verdict(same).words == "This copy is sound, and lacks nothing."
    assert found_verdict(same).progress is Progress.DONE
    assert len(found_words(same)) == 3
    alone = replace(same, has_present=False, present_records=None)
    assert found_verdict(alone).words == "This copy is sound."
    assert found_words(alone)[1:] == ("No shop file is there now, so nothing is replaced.",)


def test_that_of_many_orders_the_first_are_named_and_the_others_counted() -> None:
    many = replace(FOUND, missing=tuple(f"W-{number:04d}" for number in range(1, 13)))
    [said] = [one for one in found_words(many) if one.startswith("Missing")]
    assert said.endswith("W-0008, and 4 more.")
    assert counted(1, "order") == "1 order"


def test_that_no_refusal_in_a_window_names_an_option_of_the_command_line() -> None:
    older = BadCopy(Sabotage.OLDER, "C is older: it lacks 1 order. Say --older to take it all the same.")
    assert in_window(older, COPY) == "C is older: it lacks 1 order. Choose it once more, and read what it lacks."
    unsealed = in_window(BadCopy(Sabotage.UNSEALED, "C bears no seal. --unsealed takes it."), COPY)
    assert unsealed.startswith(f"{COPY} bears no seal of a copy")
    assert unsealed.endswith("sparkwright restore COPY SHOP --unsealed.")
    cut = BadCopy(Sabotage.CUT, "C is cut short. Take another copy.")
    assert in_window(cut, COPY) == cut.sentence


def test_that_whoever_stops_says_nothing_against_the_copy() -> None:
    def refuse(_pace: object) -> object:
        raise BadCopy(Sabotage.CHANGED, "C cannot be taken. Stopped.")

    work = said_in_window(refuse, COPY)
    with pytest.raises(Refusal) as stopped:
        work(lambda _done, _of: False)
    assert stopped.value.sentence == STOPPED
    with pytest.raises(Refusal, match=r"C cannot be taken\."):
        work(lambda _done, _of: True)
    assert said_in_window(lambda _pace: 7, COPY)(lambda _done, _of: True) == 7


def test_that_the_secret_of_a_restore_is_in_no_report() -> None:
    assert TYPED not in repr(RestoreOrder(FOUND, FOUND.shop, "LO", takes_older=True, secret=TYPED))
