"""The report of a mistake of the program: versions, and the way through the code. No value, no text, no name.

What an exception says is left out, and so is the text of every line: either may hold what somebody typed. Of a file's
path only the part that belongs to the program or a library stays: the rest names folders of the person.
"""

import platform
import sys
import traceback
from importlib.metadata import PackageNotFoundError, version
from pathlib import PurePath
from types import TracebackType

from PySide6.QtCore import qVersion

OURS = ("desktop", "reports", "resources", "tests")
LIBRARIES = ("sparkwright", "PySide6-Essentials", "cryptography", "msgspec", "reportlab", "sqlite-utils")
MOST_FRAMES = 40
MOST_CAUSES = 5
_FOLDERS = ("site-packages", "dist-packages")


def bug_report(kind: type[BaseException], trouble: BaseException, trace: TracebackType | None) -> str:
    """Return the report of an exception that nobody expected, as text to copy."""
    lines = ["A fault of Sparkwright", *version_lines(), "", *_one(kind, trace)]
    cause = trouble.__cause__ or (None if trouble.__suppress_context__ else trouble.__context__)
    for _ in range(MOST_CAUSES):
        if cause is None:
            break
        lines += ["", "which came after", *_one(type(cause), cause.__traceback__)]
        cause = cause.__cause__ or (None if cause.__suppress_context__ else cause.__context__)
    return "\n".join(lines)


def version_lines() -> list[str]:
    """Return the versions of the program, of Python, of Qt and of the libraries, and the kind of system."""
    found = []
    for name in LIBRARIES:
        try:
            found.append(f"{name} {version(name)}")
        except PackageNotFoundError:
            found.append(f"{name} not found")
    return [f"Python {platform.python_version()}, Qt {qVersion()}, {sys.platform}", ", ".join(found)]


def _one(kind: type[BaseException], trace: TracebackType | None) -> list[str]:
    frames = [(frame.f_code.co_filename, line, frame.f_code.co_name) for frame, line in traceback.walk_tb(trace)]
    left_out = len(frames) - MOST_FRAMES
    said = [f"{short_path(file)}:{line} in {name}" for file, line, name in frames[-MOST_FRAMES:]]
    head = [f"({left_out} calls before these)"] if left_out > 0 else []
    return [*head, *said, f"{kind.__module__}.{kind.__qualname__}"]


def short_path(file: str) -> str:
    """Return the part of a file's path from the program's own folder or a library's; else only its name."""
    parts = PurePath(file.replace("\\", "/")).parts
    for place, part in enumerate(parts):
        if part in _FOLDERS and parts[place + 1 :]:
            return "/".join(parts[place + 1 :])
    ours = [place for place, part in enumerate(parts[:-1]) if part in OURS]
    return "/".join(parts[ours[-1] :]) if ours else parts[-1] if parts else "?"
