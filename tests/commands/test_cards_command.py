"""``sparkwright cards``: the list, a shop's own folder, and what an own card that is wrong says."""

from pathlib import Path

from click.testing import CliRunner

from desktop.commands.cards_command import command
from desktop.core.errors import Refusal
from desktop.files.cards import builtin_cards
from desktop.files.jobs import builtin_jobs
from tests.files.test_shop_folder import CARD, JOBS


def _lines(*words: str) -> list[str]:
    ran = CliRunner().invoke(command, words)
    assert (ran.exit_code, ran.exception) == (0, None), ran.output
    return ran.output.splitlines()


def test_that_every_card_and_job_of_the_program_is_listed() -> None:
    lines = _lines()
    for card in builtin_cards():
        found = [line for line in lines if line.startswith(f"  {card.id}  ")]
        assert found == [f"  {card.id}  revision {card.revision}  {card.title}  up to {len(card.steps)} steps"]
    for job in builtin_jobs():
        found = [line for line in lines if line.startswith(f"  {job.id}  ")]
        assert found[0].endswith(f": {', '.join(job.cards)}")
        assert ("own release tag" in found[0]) is job.tag
        assert ("run-up as left due" in found[0]) is job.run_up_due


def test_that_a_folder_adds_its_cards_and_jobs(tmp_path: Path) -> None:
    (tmp_path / "wash.toml").write_text(CARD, "utf-8")
    one = CARD.partition("[[use]]")[0] + 'scheme = "WARNING: injury."\n[[step]]' + CARD.partition("[[step]]")[2]
    (tmp_path / "one.toml").write_text(one.replace("SHOP-1", "SHOP-2"), "utf-8")
    (tmp_path / "jobs.toml").write_text(JOBS, "utf-8")
    lines = _lines("--folder", str(tmp_path))
    assert "  SHOP-1  revision 3  Wash the engine  up to 7 steps" in lines
    assert "  SHOP-2  revision 3  Wash the engine  up to 1 step" in lines
    assert "  wash-and-look  Wash and look (on the aircraft): SHOP-1, S1" in lines


def test_that_an_own_card_that_is_wrong_is_refused_with_file_step_and_key(tmp_path: Path) -> None:
    (tmp_path / "wash.toml").write_text(CARD.replace('capture = "confirm"', 'capture = "photo"'), "utf-8")
    ran = CliRunner().invoke(command, ["--folder", str(tmp_path)])
    assert isinstance(ran.exception, Refusal)
    assert ran.exception.sentence.startswith("wash.toml: step 1 (wash): capture: ")
    assert ran.output == ""


def test_that_a_folder_that_is_not_there_is_refused(tmp_path: Path) -> None:
    ran = CliRunner().invoke(command, ["--folder", str(tmp_path / "none")])
    assert ran.exit_code == 2
