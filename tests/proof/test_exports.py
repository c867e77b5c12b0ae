"""The stand-alone verifier and the program agree on sound exports and on damaged ones."""

import random
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from desktop.core.records.record import Row
from desktop.core.records.subjects import place_of
from tests.core.records.pens import SignedShop
from tests.proof.counts import Tally, times
from tests.proof.exports import (
    DAMAGES,
    damaged_files,
    damaged_rows,
    drawn_shop,
    exported,
    hashed_again,
    part_exported,
    read_back,
    told,
)

SMALL, LARGE = 25, 500


@pytest.fixture
def folder(memory_folder: Path) -> Path:
    return memory_folder / "export"


def numbers_in(said: str) -> set[int]:
    """Return the records that the verifier finds something wrong with."""
    return {int(number) for number in re.findall(r"^Record (\d+)", said, re.MULTILINE)}


def test_that_sound_exports_are_sound_to_both(folder: Path, tally: Tally) -> None:
    count, records = times(SMALL, LARGE), 0
    for seed in range(count):
        walk = exported(drawn_shop(random.Random(seed)).rows, folder)  # noqa: S311 - the same each time
        assert (walk.problems, told(folder)) == ([], (0, f"{walk.count} record(s): sound.\n")), seed
        back = read_back(folder)
        assert back is not None
        assert (back.problems, back.head) == ([], walk.head)
        records += walk.count
        shutil.rmtree(folder)
    tally.tell("sound exports, the verifier and the program agree", exports=count, records=records)


def test_that_damaged_shops_are_damaged_to_both_and_in_the_same_records(folder: Path, tally: Tally) -> None:
    count, kinds = times(SMALL, LARGE), set()
    for seed in range(count):
        chance = random.Random(10_000 + seed)  # noqa: S311 - the same
        name, rows = damaged_rows(drawn_shop(chance), chance)
        walk = exported(rows, folder)
        status, said = told(folder)
        expected = {problem.number for problem in walk.problems}
        assert walk.problems, (seed, name)
        assert status == 1, (seed, name)
        # Records that are missing are named by the program; the verifier says it of the record after them.
        there = {row.number for row in rows}
        assert numbers_in(said) - expected <= {min((n for n in there if n > gone), default=0) for gone in expected}, (
            seed,
            name,
            said,
            walk.problems,
        )
        assert expected & there <= numbers_in(said), (seed, name, said, walk.problems)
        kinds.add(name)
        shutil.rmtree(folder)
    assert kinds == set(DAMAGES)
    tally.tell("damaged shops, the verifier and the program agree", exports=count, kinds=len(kinds))


def test_that_damaged_files_are_damaged_to_both(folder: Path, tally: Tally) -> None:
    count, kinds = times(SMALL, LARGE), set()
    for seed in range(count):
        chance = random.Random(20_000 + seed)  # noqa: S311 - the same
        exported(drawn_shop(chance).rows, folder)
        what = damaged_files(folder, chance)
        back = read_back(folder)
        by_program = back is None or bool(back.problems) or what in ("gone", "shop", "space")
        assert by_program, (seed, what)
        assert told(folder)[0] == 1, (seed, what)
        kinds.add(what)
        shutil.rmtree(folder)
    tally.tell("damaged exports, the verifier and the program agree", exports=count, kinds=len(kinds))


def test_that_a_part_is_sound_until_one_of_its_records_is_changed(folder: Path, tally: Tally) -> None:
    parts = 0
    for seed in range(times(SMALL, LARGE)):
        chance = random.Random(30_000 + seed)  # noqa: S311 - the same
        shop = drawn_shop(chance)
        orders = {place_of(record.subject).order for record in shop.records} - {0}
        if not orders:
            continue
        order, parts = chance.choice(sorted(orders)), parts + 1
        numbers = part_exported(shop.rows, folder, order)
        assert len(numbers) >= 5, seed
        status, said = told(folder)
        lines = said.splitlines()
        assert (status, {line.startswith("Note: Record ") for line in lines[:-1]} <= {True}) == (0, True), (seed, said)
        place = folder / "records.jsonl"
        changed = bytearray(place.read_bytes())
        changed[chance.randrange(len(changed))] ^= 1
        place.write_bytes(changed)
        hashed_again(folder)
        assert told(folder)[0] == 1, seed
        shutil.rmtree(folder)
    tally.tell("parts, sound and then changed", exports=2 * parts)


@pytest.mark.parametrize(
    "name", ["records.csv", "shop.json", "records.jsonl", "verify_records.py", "papers/record-0001.pdf"]
)
def test_that_a_file_that_was_changed_or_is_gone_does_not_fit_the_list(name: str, folder: Path) -> None:
    exported(SignedShop().with_people().rows, folder)
    place = folder / name
    before = place.read_bytes()
    place.write_bytes(before + b"\n")
    status, said = told(folder)
    assert (status, f"{name!r} is not as it was exported" in said) == (1, True)
    place.write_bytes(before)
    assert told(folder)[0] == 0
    place.unlink()
    assert told(folder)[0] == (2 if name in ("shop.json", "records.jsonl") else 1)


def test_that_a_file_that_is_no_part_is_said_and_one_with_a_dot_is_not(folder: Path) -> None:
    exported(SignedShop().with_people().rows, folder)
    (folder / ".of-the-system").write_text("x")
    assert told(folder)[0] == 0
    (folder / "papers" / "record-0009.pdf").write_text("x")
    assert told(folder) == (
        1,
        "'papers/record-0009.pdf' is not as it was exported, or no part of the export.\n4 record(s): not sound.\n",
    )


def test_that_a_paper_s_seal_belongs_to_the_records_or_not(folder: Path) -> None:
    shop = SignedShop().with_people()
    exported(shop.rows, folder)
    assert told(folder, shop.envelopes[1].digest[:16])[0] == 0
    assert told(folder, "0123456789abcdef") == (
        1,
        "The record seal 0123456789abcdef of the paper belongs to no record here.\n4 record(s): not sound.\n",
    )


def test_that_a_shop_that_was_cut_at_its_end_does_not_fit_its_count(folder: Path) -> None:
    shop = SignedShop().with_people()
    exported(shop.rows, folder)
    lines = (folder / "records.jsonl").read_bytes().splitlines(keepends=True)
    (folder / "records.jsonl").write_bytes(b"".join(lines[:-1]))
    hashed_again(folder)
    assert told(folder) == (1, "The shop holds 4 records, and here are 3, or others.\n3 record(s): not sound.\n")


def test_that_the_verifier_runs_alone_and_at_most_250_lines_long(folder: Path, tmp_path: Path) -> None:
    exported(SignedShop().with_people().with_work().rows, folder)
    program = folder / "verify_records.py"
    assert len(program.read_text("utf-8").splitlines()) <= 250
    for words in ([program], [program, folder]):
        ran = subprocess.run(
            [sys.executable, "-I", *words],
            cwd=tmp_path,
            env={},
            capture_output=True,
            text=True,
            check=False,
            timeout=60,
        )
        assert (ran.returncode, ran.stdout, ran.stderr) == (0, "14 record(s): sound.\n", "")
    command = [sys.executable, "-I", str(program), str(tmp_path)]
    ran = subprocess.run(command, capture_output=True, text=True, check=False, timeout=60)
    assert (ran.returncode, ran.stderr) == (2, "")
    assert ran.stdout.startswith("Nothing was checked: ")


def test_that_an_empty_shop_is_exported_and_sound(folder: Path) -> None:
    exported((), folder)
    assert told(folder) == (0, "0 record(s): sound.\n")


def test_that_a_record_of_the_greatest_size_is_read(folder: Path) -> None:
    shop = SignedShop().with_people()
    shop.submit(1, 1, *(Row("Remark, continued", "ü" * 7_900) for _ in range(62)))
    size = len(shop.envelopes[-1].content)
    assert 980_000 < size <= 1_000_000
    exported(shop.rows, folder)
    assert told(folder)[0] == 0
