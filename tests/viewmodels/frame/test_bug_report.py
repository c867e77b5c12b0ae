"""The report of a bug says where, and nothing of anybody."""

import sys
from types import TracebackType

import pytest

from desktop.viewmodels.frame.bug_report import bug_report, short_path

NAME, SECRET, TYPED = "Lena Ode", "seven herons over slate", "XQ-TBK 336.5"


class Strange(Exception):  # noqa: N818 - a stranger's name
    """Something that nobody expected."""


def _fails(secret: str) -> None:
    typed = TYPED
    raise Strange(f"{NAME} signed {typed} with {secret}")


def caught(again: bool = False) -> tuple[type[BaseException], BaseException, TracebackType | None]:
    try:
        try:
            _fails(SECRET)
        except Strange as trouble:
            if again:
                raise KeyError(NAME) from trouble
            raise
    except (Strange, KeyError) as trouble:
        return type(trouble), trouble, trouble.__traceback__
    raise AssertionError


@pytest.mark.parametrize("again", [False, True])
def test_that_a_report_holds_no_name_no_typed_text_and_no_secret(again: bool) -> None:
    report = bug_report(*caught(again))
    for private in (NAME, SECRET, TYPED, "signed"):
        assert private not in report
    assert "tests/viewmodels/frame/test_bug_report.py" in report
    assert " in _fails" in report
    assert report.endswith("Strange")
    assert ("which came after" in report) is again
    assert ("builtins.KeyError" in report) is again


def test_that_a_report_names_the_versions() -> None:
    report = bug_report(*caught())
    assert f"Python {sys.version.split()[0]}" in report
    assert "PySide6-Essentials 6." in report


def test_that_a_path_loses_the_folders_of_the_person() -> None:
    assert short_path("/home/lena/apps/desktop/windows/look.py") == "desktop/windows/look.py"
    assert short_path("/home/lena/x/site-packages/click/core.py") == "click/core.py"
    assert short_path("C:\\Users\\lena\\thing.py") == "thing.py"
    assert short_path("<string>") == "<string>"


def test_that_a_long_way_is_cut_at_its_beginning() -> None:
    def deeper(left: int) -> None:
        if left == 0:
            raise Strange(SECRET)
        deeper(left - 1)

    try:
        deeper(90)
    except Strange as trouble:
        report = bug_report(type(trouble), trouble, trouble.__traceback__)
    assert "calls before these)" in report
    assert report.count(" in deeper") == 40
