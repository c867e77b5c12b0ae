"""Paper that comes back signed, and the records in a folder, as their users meet them on the command line."""

import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest
from pypdf import PdfReader

from desktop import paper_assembly, shop_assembly
from desktop.core.errors import Refusal
from desktop.core.records.record import RecordKind
from desktop.core.records.sealed.check_code import is_code
from desktop.files.demo_jobs import demo_jobs
from desktop.usecases.papers.asked import Asked
from desktop.usecases.papers.kinds import CARD
from desktop.usecases.records.ink.ink import scan_kept
from desktop.usecases.records.keys.people import enrol_person
from desktop.usecases.records.keys.people_ports import FOR_DEMO
from desktop.usecases.records.signing.acts import Act
from desktop.usecases.records.signing.signed_acts import propose, sign_act
from desktop.usecases.shop.cards.write_remark import write_remark
from desktop.usecases.shop.lists.look_up import see_order
from desktop.usecases.shop.ports import Request
from tests.commands.test_commands import Runner, run
from tests.commands.test_shop_commands import order_with, place
from tests.files.scan_files import SOUND
from tests.storage.file_floor import sql

__all__ = ["place", "run"]
SECRET = "four plain words here"  # noqa: S105 - the shop is invented


def code_in(pdf: Path) -> str:
    """Return the check code that stands on a print."""
    text = "\n".join(page.extract_text() for page in PdfReader(pdf).pages)
    return next(word for word in text.split() if "-" in word and is_code(word))


@pytest.fixture
def printed(run: Runner, place: Path, tmp_path: Path) -> str:
    """Print the card of an order; return its code."""
    order_with(place, "XQ-TBK", demo_jobs()[0][1])
    assert run("paper", place, "1", "-o", tmp_path / "card.pdf").status == 0
    return code_in(tmp_path / "card.pdf")


def ink(run: Runner, place: Path, code: str, *more: object) -> tuple[int, str, str]:
    today = date.today().isoformat()  # noqa: DTZ011 - the day of this machine, as the shop's clock has it
    words = ("--card", "1", "--signer", "Mel Chan", "--date", today, "--code", code, "--by", "LO")
    return run("ink", place, "W-0001", *words, *more)


def test_that_a_print_comes_back_signed_with_its_scan(run: Runner, place: Path, tmp_path: Path, printed: str) -> None:
    scan = tmp_path / "scan.pdf"
    scan.write_bytes(SOUND["pdf"])
    status, out, err = ink(run, place, printed.lower(), "--scan", scan)
    assert (status, err) == (0, "")
    assert out.startswith(
        f'Recorded: the print {printed} of "card" of card 1 of W-0001, signed with ink by Mel Chan. '
        "Its scan is kept as "
    )
    with shop_assembly.shop_at(place) as shop:
        (signed,) = see_order(shop.store, 1).inks
        assert (signed.signer, signed.code, signed.by.person) == ("Mel Chan", printed, "LO")
        assert scan_kept(paper_assembly.ink_desk(shop), signed.scan).data == SOUND["pdf"]
    assert ink(run, place, printed)[0] == 2
    assert run("verify", place).status == 0


@pytest.mark.parametrize(
    ("statement", "said"),
    [
        (
            "UPDATE scan SET bytes = x'00'",
            'Card 1 of order 1, the paper "card" signed with ink by Mel Chan: its scan is not as it was kept.',
        ),
        (
            "UPDATE scan SET kind = 'exe'",
            'Card 1 of order 1, the paper "card" signed with ink by Mel Chan: its scan is not as it was kept.',
        ),
        (
            "DELETE FROM scan",
            'Card 1 of order 1, the paper "card" signed with ink by Mel Chan: its scan is gone.',
        ),
        (
            "INSERT INTO scan (digest, kind, bytes) VALUES (printf ('%064d', 0), 'pdf', x'00')",
            "The scan 0000000000000000 belongs to no card and no order: ",
        ),
    ],
    ids=["changed", "another kind", "gone", "nobody's"],
)
def test_that_verify_holds_scans_against_the_papers(
    run: Runner, place: Path, tmp_path: Path, printed: str, statement: str, said: str
) -> None:
    scan = tmp_path / "scan.pdf"
    scan.write_bytes(SOUND["pdf"])
    assert ink(run, place, printed, "--scan", scan)[0] == 0
    assert run("verify", place).status == 0
    guards = sql(place, "SELECT name, sql FROM sqlite_master WHERE type = 'trigger' AND tbl_name = 'scan'")
    sql(place, *(f"DROP TRIGGER {name}" for name, _ in guards), statement, *(text for _, text in guards))
    ran = run("verify", place)
    assert (ran.status, ran.err) == (1, "")
    assert [line for line in ran.out.splitlines() if line.startswith(said)] == ran.out.splitlines()[:1]
    assert ran.out.endswith(": not sound, 1 problem.\n")


def test_that_an_outdated_print_is_refused_with_what_was_changed(run: Runner, place: Path, printed: str) -> None:
    with shop_assembly.shop_at(place) as shop:
        version = see_order(shop.store, 1).version
        write_remark(shop, Request("r", "LO", version), 1, 1, "The lead was chafed.")
    status, out, err = ink(run, place, printed)
    assert (status, out, err.count("\n")) == (2, "", 1)
    assert "Changed since: card 1: in work; card 1: remark 1 added. Print it again" in err
    status, out, err = ink(run, place, "2222-2222")
    assert (status, out, "No print with the code 2222-2222 is known." in err) == (2, "", True)


@pytest.mark.parametrize(
    ("more", "said"),
    [
        (("--scan", "none.pdf"), "cannot be read"),
        (("--by", "XX"), '"XX" is not on the roster'),
        (("--date", "4.3.2031"), "does not match the format"),
        (("--paper", "napkin"), "is not one of"),
        (("--card", "7"), "W-0001 has no card 7"),
    ],
)
def test_that_what_cannot_be_recorded_is_said_in_one_line(
    more: tuple[str, str], said: str, run: Runner, place: Path, printed: str
) -> None:
    status, out, err = ink(run, place, printed, *more)
    assert (status, out, err.count("\n")) == (2, "", 1)
    assert said in err


def test_that_a_shop_file_that_cannot_be_written_keeps_nobody_from_printing(
    place: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    order_with(place, "XQ-TBK", demo_jobs()[0][1])

    def full(*_words: object) -> None:
        raise Refusal("The disk is full.")

    monkeypatch.setattr(paper_assembly, "note_print", full)
    with shop_assembly.shop_at(place) as shop:
        assert paper_assembly.printed_paper(shop, Asked(CARD, 1, 1), "letter", "now").startswith(b"%PDF")
    assert sql(place, "SELECT count(*) FROM printed") == [(0,)]


def test_that_each_print_is_remembered_with_its_version(run: Runner, place: Path, printed: str, tmp_path: Path) -> None:
    assert run("paper", place, "1", "--reprint", "-o", tmp_path / "again.pdf").status == 0
    assert run("paper", place, "1", "--kind", "entry", "-o", tmp_path / "entry.pdf").status == 0
    assert run("paper", place, "-", "--kind", "roster", "-o", tmp_path / "roster.pdf").status == 0
    entry = code_in(tmp_path / "entry.pdf")
    assert sorted(sql(place, "SELECT * FROM printed")) == sorted(
        [(printed, 1, 1, "card", 2), (entry, 1, 0, "entry", 2)]
    )


@pytest.fixture
def signed(place: Path) -> Path:
    """A shop in which two orders were voided, each with a signature."""
    with shop_assembly.shop_at(place) as shop:
        desk = shop_assembly.signing_desk(shop, FOR_DEMO)
        enrol_person(desk, Request("e", "LO"), "LO", SECRET)
    for number in (1, 2):
        order_with(place, "XQ-TBK", None)
        with shop_assembly.shop_at(place) as shop:
            desk = shop_assembly.signing_desk(shop, FOR_DEMO)
            act = Act(RecordKind.VOID, number, reason="It was opened twice by mistake.")
            sign_act(desk, desk.shop.store, f"s{number}", propose(desk, desk.shop.store, "LO", act), SECRET)  # type: ignore[arg-type]
    return place


def checked(folder: Path) -> tuple[int, str]:
    program = folder / "verify_records.py"
    ran = subprocess.run([sys.executable, "-I", program], capture_output=True, text=True, check=False, timeout=60)
    assert ran.stderr == ""
    return ran.returncode, ran.stdout


def content(folder: Path) -> dict[str, bytes]:
    return {one.relative_to(folder).as_posix(): one.read_bytes() for one in folder.rglob("*") if one.is_file()}


def test_that_records_are_taken_out_twice_with_the_same_bytes(run: Runner, signed: Path, tmp_path: Path) -> None:
    before = signed.read_bytes()
    for name in ("one", "two"):
        ran = run("export", signed, tmp_path / name)
        assert (ran.status, ran.err) == (0, "")
        assert ran.out.startswith(f"{tmp_path / name} holds 3 records in 11 files. Check it with: python -I ")
        assert checked(tmp_path / name) == (0, "3 record(s): sound.\n")
    found = content(tmp_path / "one")
    assert content(tmp_path / "two") == found
    assert len(PdfReader(tmp_path / "one" / "papers" / "record-0002-void.pdf").pages) >= 1
    assert signed.read_bytes() == before
    assert run("export", signed, tmp_path / "one").status == 2
    assert content(tmp_path / "one") == found


def test_that_a_part_is_one_order_and_the_people(run: Runner, signed: Path, tmp_path: Path) -> None:
    assert run("export", signed, tmp_path / "part", "--order", "W-0002", "--size", "a4").status == 0
    status, said = checked(tmp_path / "part")
    assert status == 0
    assert "follows record 2, which is not here: " in said
    papers = sorted(place.name for place in (tmp_path / "part" / "papers").iterdir())
    assert papers == ["record-0001-person-enrolled.pdf", "record-0003-void.pdf"]
    for order, words in (
        ("W-0009", "No record is about W-0009"),
        ("W-0", "is no order number"),
        ("x", "no order number"),
    ):
        ran = run("export", signed, tmp_path / "none", "--order", order)
        assert (ran.status, ran.out, words in ran.err, ran.err.count("\n")) == (2, "", True, 1)
    assert not (tmp_path / "none").exists()


def test_that_a_shop_that_was_changed_is_taken_out_and_both_say_so(run: Runner, signed: Path, tmp_path: Path) -> None:
    guards = sql(signed, "SELECT name, sql FROM sqlite_master WHERE name = 'envelope_stays'")
    sql(
        signed,
        "DROP TRIGGER envelope_stays",
        "UPDATE envelope SET content = CAST (replace (CAST (content AS TEXT), 'twice', 'thric') AS BLOB) "
        "WHERE number = 2",
        guards[0][1],
    )
    ran = run("export", signed, tmp_path / "out")
    assert ran.status == 1
    assert ran.out.startswith("Record 2, ")
    assert "are taken out as they stand, without prints" in ran.out
    status, said = checked(tmp_path / "out")
    assert (status, said.splitlines()[-1]) == (1, "3 record(s): not sound.")
    assert said.startswith("Record 2")


def test_that_a_place_that_is_no_shop_is_refused(run: Runner, tmp_path: Path) -> None:
    ran = run("export", tmp_path / "none.shop", tmp_path / "out")
    assert (ran.status, ran.out, ran.err.count("\n")) == (2, "", 1)
    assert list(tmp_path.iterdir()) == []
