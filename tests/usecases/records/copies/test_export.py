"""Taking records out: what stands in the folder, of which records, and what is said of it."""

import csv
import io
import json
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from pathlib import Path

import pytest

from desktop.core.errors import Refusal
from desktop.core.records.record import RecordKind, Row
from desktop.core.records.sealed.stored import StoredRow
from desktop.core.records.subjects import order_subject
from desktop.files.export_folder import write_export
from desktop.files.export_text import ExportJson
from desktop.usecases.papers.records.verified import VerifiedRecord, verified_records
from desktop.usecases.records.copies.export import RECORD_COLUMNS, Exported, export_shop, exported_words
from desktop.usecases.records.copies.export_papers import record_papers
from desktop.usecases.records.copies.export_ports import ExportDesk, ExportFile
from tests.core.records.pens import KEEP, RealVerifier, SignedShop
from tests.usecases.records.shop_to_check import FakeFile

PLACE = Path("taken-out")
FIXED = (ExportFile("format.txt", (b"how to read it\n",)),)


class Folder:
    """A folder in memory."""

    def __init__(self) -> None:
        self.files: dict[str, bytes] = {}
        self.desk = ExportDesk(ExportJson(), FIXED, self.papers, self.write)

    def write(self, place: Path, exported: Iterable[ExportFile]) -> int:
        assert place == PLACE
        self.files = {one.name: b"".join(one.parts) for one in exported}
        return len(self.files)

    def papers(self, records: Sequence[VerifiedRecord]) -> Iterator[tuple[str, bytes]]:
        return ((f"{name}.txt", document.title.encode()) for name, document in record_papers(records))

    def numbers(self) -> list[int]:
        return [json.loads(line)["number"] for line in self.files["records.jsonl"].splitlines()]

    def rows(self, name: str) -> list[list[str]]:
        return list(csv.reader(io.StringIO(self.files[name].decode(), newline="")))


class OddFile(FakeFile):
    """A file in which a row was changed."""

    def stored_rows(self) -> Iterator[StoredRow]:
        rows = self.signed.rows
        rows[4] = replace(rows[4], content=rows[4].content.replace(b"24.5", b"24.6"))
        rows[5] = replace(rows[5], signatures=b"nobody")
        rows[6] = replace(rows[6], content=b"nothing")
        return iter(rows)


def taken(file: FakeFile, order: int = 0) -> tuple[Folder, Exported]:
    folder = Folder()
    return folder, export_shop(file, RealVerifier(), folder.desk, PLACE, order)


def test_that_everything_is_taken_out_and_the_same_shop_gives_the_same_bytes() -> None:
    file = FakeFile()
    folder, exported = taken(file)
    assert (exported.records, exported.files, exported.verified.is_sound) == (14, 20, True)
    assert list(folder.files)[:6] == [
        *("shop.json", "records.jsonl", "records.csv", "readings.csv", "public-keys.txt", "format.txt")
    ]
    assert folder.numbers() == list(range(1, 15))
    assert json.loads(folder.files["shop.json"]) == {
        "count": 14,
        "form": 1,
        "head": file.signed.envelopes[-1].digest,
        "order": 0,
        "shop_id": file.shop_id,
    }
    assert taken(file)[0].files == folder.files
    words = exported_words(PLACE, exported)
    assert words == f"taken-out holds 14 records in 20 files. Check it with: python -I {PLACE / 'verify_records.py'}"


def test_that_tables_say_what_the_records_say_and_nothing_in_them_computes() -> None:
    file = FakeFile()
    file.signed.submit(2, 1, Row("=A1", "+1"), Row("Remark", 'says "so", and so'))
    folder, _ = taken(file)
    rows = folder.rows("records.csv")
    assert rows[0][:4] == ["number", "kind", "subject", "order"]
    assert rows[6][:9] == [
        *("6", "card accepted", "order 1 card 1", "1", "1", "INSP", "Ines Spohr", "2031-03-04T09:42:00+01:00", "5")
    ]
    assert rows[6][9:] == [file.signed.envelopes[5].digest, file.signed.envelopes[4].digest]
    assert len(rows) == 16
    readings = folder.rows("readings.csv")
    assert readings[-2:] == [["15", "Readings", "'=A1", "'+1"], ["15", "Readings", "Remark", 'says "so", and so']]


def test_that_the_keys_are_listed_with_the_records_between_which_they_counted() -> None:
    folder, _ = taken(FakeFile())
    lines = folder.files["public-keys.txt"].decode().splitlines()
    assert lines[2].endswith("  KEEP, Kit Eeper: from record 1, in use")
    assert lines[3].endswith("  MECH, Mel Chan: from record 2, ended by record 9")
    assert len(lines) == 7


def test_that_a_part_holds_an_order_what_is_about_it_and_the_people() -> None:
    file = FakeFile()
    tool = file.signed.sign(RecordKind.TOOL_RECORD, "tool W-3", "KEEP", about=(5,))
    file.signed.submit(2, 2)
    folder, exported = taken(file, 1)
    # 1 to 4, 9 and 12 are about people; the tool record names a record of the order.
    assert folder.numbers() == [1, 2, 3, 4, 5, 6, 7, 8, 9, 12, tool.number]
    assert (exported.records, json.loads(folder.files["shop.json"])["order"]) == (11, 1)
    assert "holds 11 records of W-0001 and of people in" in exported_words(PLACE, exported)
    with pytest.raises(Refusal, match="No record is about W-0077"):
        taken(file, 77)


def test_that_records_that_were_changed_are_taken_out_as_they_stand_and_without_prints() -> None:
    file = OddFile()
    folder, exported = taken(file)
    assert not exported.verified.is_sound
    assert not any(name.startswith("papers/") for name in folder.files)
    lines = [json.loads(line) for line in folder.files["records.jsonl"].splitlines()]
    assert lines[4]["record"]["sections"][0]["rows"][0]["text"] == "24.6° BTDC"
    assert [line["signatures"] is None for line in lines[4:7]] == [False, True, False]
    assert [line["record"] is None for line in lines[4:7]] == [False, False, True]
    assert [row[0] for row in folder.rows("records.csv")][5:7] == ["5", "8"]
    assert "as they stand, without prints" in exported_words(PLACE, exported)
    assert 7 not in taken(file, 1)[0].numbers()


def test_that_one_record_is_said_as_one() -> None:
    file = FakeFile()
    file.signed = SignedShop()
    file.signed.enrol(KEEP, "KEEP")
    file.kept, file.roster, file.seen_numbers = {}, file.roster[:1], ()
    _, exported = taken(file)
    assert exported_words(PLACE, exported).startswith("taken-out holds 1 record in 7 files.")


def test_that_a_print_says_nothing_of_its_time_and_that_its_order_s_data_are_invented() -> None:
    file = FakeFile()
    file.signed.submit(7, 1, Row("Limits sheet", "MS-7, revision 2. Invented data"))
    file.signed.sign(RecordKind.VOID, order_subject(7), "AUTH")
    names = dict(record_papers(verified_records(file.stored_rows(), file.shop_id, RealVerifier(), {})))
    assert list(names)[4] == "record-0005-card-submitted"
    assert {document.foot.printed for document in names.values()} == {""}
    assert [bool(document.head.banner) for document in names.values()] == [False] * 14 + [True, True]


def test_that_an_empty_shop_is_taken_out() -> None:
    file = FakeFile()
    file.signed, file.kept, file.roster = SignedShop(), {}, ()
    folder, exported = taken(file)
    assert (exported.records, folder.files["records.jsonl"]) == (0, b"")
    assert folder.rows("records.csv") == [list(RECORD_COLUMNS)]
    assert folder.files["readings.csv"] == b'"number","section","label","text"\r\n'


def test_that_a_column_that_is_no_text_is_left_open() -> None:
    [row] = SignedShop().with_people().rows[:1]
    line = json.loads(ExportJson().record(replace(row, kind=b"\xff", previous=b"\x00")))
    assert (line["kind"], line["previous"], line["digest"]) == (None, "\0", row.digest.decode())


def test_that_an_export_says_how_far_it_is_and_comes_to_its_end() -> None:
    told: list[tuple[int, int]] = []
    folder = Folder()

    def pace(done: int, of: int) -> bool:
        told.append((done, of))
        return True

    export_shop(FakeFile(), RealVerifier(), folder.desk, PLACE, 0, pace)
    assert told == sorted(told)
    assert told[0] == (0, 14 + 2 + 14)
    assert told[-1] == (30, 30)
    assert len(told) > 14


@pytest.mark.parametrize("steps", [0, 1, 7])
def test_that_an_export_that_is_stopped_leaves_nothing(tmp_path: Path, steps: int) -> None:
    folder, left = Folder(), iter([True] * steps)
    desk = replace(folder.desk, write=write_export)
    with pytest.raises(Refusal, match=r"Stopped\. Nothing was taken out\."):
        export_shop(FakeFile(), RealVerifier(), desk, tmp_path / "out", 0, lambda _done, _of: next(left, False))
    assert list(tmp_path.iterdir()) == []
    # The control: left alone, it comes to its end there.
    export_shop(FakeFile(), RealVerifier(), desk, tmp_path / "out")
    assert len(list((tmp_path / "out").iterdir())) > 5
