"""The command line as its user meets it: what is printed where, and the exit status."""

import json
import sys
from pathlib import Path
from typing import NamedTuple

import pytest
from pypdf import PdfReader

from desktop.__main__ import main
from desktop.commands import NAMES
from desktop.commands.screen import could_show_window, has_screen

SAMPLE = Path(__file__).parents[1] / "samples" / "sound.toml"
DEMO = Path(__file__).parents[2] / "resources" / "demo"


class Ran(NamedTuple):
    """What one command gave."""

    status: int
    out: str
    err: str


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str], tmp_path: Path) -> "Runner":
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("DISPLAY", raising=False)
    monkeypatch.delenv("WAYLAND_DISPLAY", raising=False)
    return Runner(monkeypatch, capfd)


class Runner:
    """Runs the command in this process."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]) -> None:
        self._monkeypatch = monkeypatch
        self._capfd = capfd

    def __call__(self, *words: object) -> Ran:
        self._monkeypatch.setattr(sys, "argv", ["sparkwright", *map(str, words)])
        with pytest.raises(SystemExit) as end:
            main()
        out, err = self._capfd.readouterr()
        assert isinstance(end.value.code, int)
        return Ran(end.value.code, out, err)


def test_that_check_prints_json_where_there_is_no_terminal(run: Runner) -> None:
    ran = run("check", SAMPLE)
    assert (ran.status, ran.err) == (0, "")
    assert json.loads(ran.out)["left"]["verdict"] == "within"


def test_that_check_prints_a_few_lines_at_a_terminal(run: Runner, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True)
    ran = run("check", DEMO / "sound.toml")
    lines = ran.out.splitlines()
    assert lines[0].startswith("note: left.approach[1].light")
    assert "Left magneto: nominal 23° BTDC, target reading 337." in lines
    assert "Run-up drops: left 60 rpm, right 70 rpm: within." in lines
    assert "Torque, magneto clamp nut, with a 2 in crowfoot: set 95 in-lb for 95 in-lb." in lines


def test_that_json_can_be_asked_for_at_a_terminal(run: Runner, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True)
    assert json.loads(run("check", "--json", SAMPLE).out)["nothing_stops"] is True


def test_that_a_card_that_something_stops_ends_with_status_1(run: Runner, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True)
    ran = run("check", DEMO / "disc-moved.toml")
    assert ran.status == 1
    assert ran.out.startswith("STOPS: stop[2]")
    assert "Not to be approved while something stops." in ran.out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("check", "nowhere.toml"), "sparkwright: nowhere.toml: cannot be read: No such file or directory."),
        (("check",), "sparkwright: Missing argument 'FILE'."),
        (("open", "nowhere.toml", "more"), "sparkwright: Got unexpected extra argument (more)"),
        (("frobnicate",), "sparkwright: No such command 'frobnicate'."),
        ((), f"sparkwright: Name a command: {', '.join(NAMES)}. 'sparkwright --help' says"),
        (("print", SAMPLE), "sparkwright: Missing option '-o' / '--output'."),
        (("print", SAMPLE, "-o", "x.pdf", "--size", "a3"), "sparkwright: Invalid value for '--size'"),
    ],
)
def test_that_what_cannot_be_used_ends_with_status_2_and_one_line(
    run: Runner, words: tuple[object, ...], said: str
) -> None:
    ran = run(*words)
    assert (ran.status, ran.out) == (2, "")
    assert ran.err.startswith(said)
    assert ran.err.count("\n") == 1


def test_that_help_names_the_commands_and_what_governs(run: Runner) -> None:
    ran = run("--help")
    assert ran.status == 0
    for name in NAMES:
        assert f"\n  {name} " in ran.out
    assert "The data approved for the engine" in ran.out


@pytest.mark.parametrize("size", ["letter", "a4"])
@pytest.mark.parametrize("blank", [(), ("--blank",)])
def test_that_print_writes_the_card(run: Runner, tmp_path: Path, size: str, blank: tuple[str, ...]) -> None:
    ran = run("print", SAMPLE, "-o", "card.pdf", "--size", size, *blank)
    assert ran == (0, "", "")
    pages = PdfReader(tmp_path / "card.pdf").pages
    assert round(float(pages[0].mediabox.width)) == {"letter": 612, "a4": 595}[size]
    text = pages[0].extract_text()
    assert ("Blank" in text) is bool(blank)


def test_that_a_card_that_something_stops_is_printed_all_the_same(run: Runner, tmp_path: Path) -> None:
    assert run("print", DEMO / "disc-moved.toml", "-o", "card.pdf").status == 0
    text = "".join(page.extract_text() for page in PdfReader(tmp_path / "card.pdf").pages)
    assert "Not to be approved while something stops." in text


def test_that_print_names_a_sign_that_the_type_lacks(run: Runner, tmp_path: Path) -> None:
    place = tmp_path / "card.toml"
    place.write_text(SAMPLE.read_text("utf-8").replace("magneto flange nut", "Гайка"), "utf-8")
    ran = run("print", place, "-o", "card.pdf")
    assert ran.status == 2
    assert ran.err.startswith("sparkwright: torque[1].what: the paper's type has no sign for U+0413 (cyrillic capital")
    assert not (tmp_path / "card.pdf").exists()


@pytest.mark.parametrize("out", ["no/such/folder/card.pdf", "."])
def test_that_a_place_that_cannot_be_written_is_refused(run: Runner, tmp_path: Path, out: str) -> None:
    ran = run("print", SAMPLE, "-o", out)
    assert ran.status == 2
    assert ran.err.count("\n") == 1
    assert list(tmp_path.iterdir()) == []


def test_that_the_readings_file_itself_is_never_overwritten(run: Runner, tmp_path: Path) -> None:
    place = tmp_path / "card.toml"
    place.write_bytes(SAMPLE.read_bytes())
    ran = run("print", place, "-o", place)
    assert ran.status == 2
    assert place.read_bytes() == SAMPLE.read_bytes()


def test_that_the_demo_prints_three_cards_and_says_what_was_found(run: Runner, tmp_path: Path) -> None:
    ran = run("demo", "--paper", "a/b")
    assert (ran.status, ran.err) == (0, "")
    assert sorted(path.name for path in (tmp_path / "a" / "b").iterdir()) == [
        "against-rotation.pdf",
        "disc-moved.pdf",
        "sound.pdf",
    ]
    assert "  Left magneto. Within: 23.5° BTDC." in ran.out
    assert "against rotation; then backlash hides in the reading" in ran.out
    assert "the disc moved, and no reading counts" in ran.out
    for name in ("sound", "against-rotation", "disc-moved"):
        pages = PdfReader(tmp_path / "a" / "b" / f"{name}.pdf").pages
        assert all("INVENTED DATA: DEMONSTRATION ONLY" in page.extract_text() for page in pages)


def test_that_a_folder_that_cannot_be_made_is_refused(run: Runner, tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("a file")
    ran = run("demo", "--paper", "taken/papers")
    assert ran.status == 2
    assert ran.err.startswith("sparkwright: taken/papers: the folder cannot be made")


@pytest.mark.parametrize(
    ("environ", "platform", "screen"),
    [
        ({}, "linux", False),
        ({"DISPLAY": ":0"}, "linux", True),
        ({"WAYLAND_DISPLAY": "wayland-0"}, "linux", True),
        ({"DISPLAY": ":0", "QT_QPA_PLATFORM": "offscreen"}, "linux", False),
        ({"DISPLAY": ":0", "QT_QPA_PLATFORM": "minimal:enable_fonts"}, "linux", False),
        ({"DISPLAY": ":0", "QT_QPA_PLATFORM": "xcb"}, "linux", True),
        ({}, "win32", True),
    ],
)
def test_that_a_screen_is_known_by_its_display(environ: dict[str, str], platform: str, screen: bool) -> None:
    assert has_screen(environ, platform) is screen


def test_that_open_without_a_screen_is_refused_in_one_line(run: Runner, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("QT_QPA_PLATFORM", raising=False)
    ran = run("open", SAMPLE)
    assert (ran.status, ran.out) == (2, "")
    assert ran.err.startswith("sparkwright: There is no screen")
    assert could_show_window({"QT_QPA_PLATFORM": "offscreen"}, "linux")


def test_that_open_refuses_a_file_before_a_window_opens(run: Runner) -> None:
    ran = run("open", "nowhere.toml")
    assert ran.status == 2
    assert ran.err.startswith("sparkwright: nowhere.toml: cannot be read")


def test_that_a_full_disk_is_no_verdict(run: Runner, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("click.echo", full)
    ran = run("check", SAMPLE)
    assert (ran.status, ran.err) == (2, "sparkwright: the result cannot be written: No space left on device.\n")


def test_that_no_sign_of_a_file_steers_the_terminal(
    run: Runner, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    place = tmp_path / "card.toml"
    place.write_text(SAMPLE.read_text("utf-8").replace("magneto flange nut", "nut\\u001b[2J"), "utf-8")
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True)
    ran = run("check", place)
    assert "\x1b" not in ran.out
    assert "nut\\x1b[2J" in ran.out
