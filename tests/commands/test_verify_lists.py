"""``sparkwright verify`` on what is kept besides orders and people: limits sheets, their pins, tools, the name."""

from hashlib import sha256
from pathlib import Path

import pytest

from desktop.usecases.records.checking import verify
from desktop.usecases.records.checking.signed_lists import SignedLists
from tests.commands.listed_shop import listed_shop
from tests.commands.test_commands import Runner, run
from tests.storage.file_floor import copied, sql

__all__ = ["run"]

SHEET = "imits sheet marrow-six, revision 1, is not as it was compared."
REVISION = "UPDATE sheet_revision SET {} WHERE id = 'marrow-six'"
VALUE = """text = replace (text, '"left_btdc":"23"', '"left_btdc":"25"')"""
LIFE = f"UPDATE sheet SET version = version + 1, {VALUE} WHERE id = 'marrow-six'"  # noqa: S608 - what an insider writes
OTHER = "digest = 'f' || substr (digest, 2)"
EDITS = {
    "a compared text": ((REVISION.format(VALUE),), SHEET, (SignedLists, "sheet_problems")),
    "a digest": ((REVISION.format(OTHER),), SHEET, (SignedLists, "sheet_problems")),
    "the sheet that is worked on": (
        (LIFE,),
        SHEET,
        (SignedLists, "sheet_problems"),
    ),
    "a compared text that is not there": (
        ("DELETE FROM sheet_revision WHERE id = 'marrow-six'",),
        SHEET,
        (SignedLists, "sheet_problems"),
    ),
    "a pin on a card": (
        (
            """UPDATE work_order SET text = replace (text, '"sheet":"marrow-six","revision":1,"digest":"',
        '"sheet":"marrow-six","revision":1,"digest":"0')""",
        ),
        f"Card 1 of order 1: L{SHEET}",
        (verify, "pin_problems"),
    ),
    "a text with its digest made again": (
        (
            REVISION.format(VALUE),
            LIFE,
            "made again",
        ),
        ", and limits sheet marrow-six, revision 1, is not kept as it was signed.",
        (SignedLists, "sheet_problems"),
    ),
    "a due date": (
        ("UPDATE tool SET text = replace (text, '2032-01-31', '2039-01-31') WHERE id = 'L-7'",),
        "tool record, tool L-7, signed Kit Eeper, and tool L-7 is not on the list as it was signed.",
        (SignedLists, "tool_problems"),
    ),
    "a tool taken away": (
        ("DELETE FROM tool WHERE id = 'L-7'",),
        "and tool L-7 is not on the list as it was signed.",
        (SignedLists, "tool_problems"),
    ),
    "the shop's name": (
        ("UPDATE shop SET name = 'Hill Shop'",),
        'names the shop "Mill Shop", and it is kept as "Hill Shop".',
        (SignedLists, "name_problems"),
    ),
}


@pytest.fixture(scope="module")
def listed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A closed shop file."""
    place = tmp_path_factory.mktemp("listed") / "mill.shop"
    listed_shop(place)
    return place


@pytest.fixture
def place(listed: Path, tmp_path: Path) -> Path:
    """A copy of it that an insider has."""
    return copied(listed, tmp_path)


def edit(place: Path, statements: tuple[str, ...]) -> None:
    """Do what the triggers would stop, and put them back as they were."""
    kept = sql(place, "SELECT name, sql FROM sqlite_master WHERE type = 'trigger'")
    made = [_made_again(place) if one == "made again" else one for one in statements]
    sql(place, "BEGIN", *(f"DROP TRIGGER {name}" for name, _ in kept), *made, *(text for _, text in kept), "COMMIT")


def _made_again(place: Path) -> str:
    [(text,)] = sql(place, "SELECT text FROM sheet_revision WHERE id = 'marrow-six'")
    changed = text.replace('"left_btdc":"23"', '"left_btdc":"25"')
    assert changed != text
    return REVISION.format(f"digest = '{sha256(changed.encode()).hexdigest()}'")


def test_that_a_shop_whose_lists_nobody_touched_is_sound(run: Runner, place: Path) -> None:
    ran = run("verify", place)
    assert (ran.status, ran.err) == (0, "")
    assert [line.split(",")[0] for line in ran.out.splitlines()[:-1]] == ["Not signed"]
    assert ran.out.endswith(": sound.\n")


@pytest.mark.parametrize(("statements", "words", "out"), EDITS.values(), ids=EDITS)
def test_that_an_edit_of_a_list_is_named(
    run: Runner,
    place: Path,
    monkeypatch: pytest.MonkeyPatch,
    statements: tuple[str, ...],
    words: str,
    out: tuple[object, str],
) -> None:
    edit(place, statements)
    ran = run("verify", place)
    assert ran.status == 1
    assert words in ran.out
    monkeypatch.setattr(*out, lambda *_: iter(()))
    pins = "Card 1 of order 1: "
    without = [line for line in run("verify", place).out.splitlines() if words.startswith(pins) or "Card " not in line]
    assert not any(line.endswith(words) for line in without)


def test_that_a_tool_that_was_changed_without_a_signature_is_noted(run: Runner, place: Path) -> None:
    edit(place, ("""UPDATE tool SET text = replace (text, '2032-01-31"', '2039-01-31","version":2')""",))
    ran = run("verify", place)
    assert ran.status == 0, ran.out
    assert "It was changed without a signature." in ran.out
