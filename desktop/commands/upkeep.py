"""What the commands about copies and the doctor have in common: the machine they run on, and a line of progress."""

import sys
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from platform import python_version

import click

from desktop import assembly, shop_assembly
from desktop.core.errors import Refusal
from desktop.signing import Ed25519Verifier
from desktop.storage.copies.copy_desk import CopyDesk
from desktop.storage.copies.doctor import look_over
from desktop.storage.library import sqlite_version
from desktop.storage.places import Surroundings, this_machine
from desktop.usecases.records.checking.health import Line, Word

LIBRARIES = ("click", "cryptography", "msgspec", "platformdirs", "pypdfium2", "reportlab", "sqlite-utils", "tomli-w")
QT_BINDING = "PySide6-Essentials"
_WIDTH = 20


def surroundings() -> Surroundings:
    """Return this machine, with the user's folder."""
    return this_machine(shop_assembly._state_folder())  # noqa: SLF001 - the one place that knows the folder


def copy_desk() -> CopyDesk:
    """Return whatever makes copies and takes them out again."""
    return CopyDesk(surroundings(), Ed25519Verifier())


def doctor_page(shop: Path) -> tuple[Line, ...]:
    """Return the doctor's whole page; raise Refusal when the file cannot be read."""
    now = shop_assembly.SystemClock().now()
    return (*look_over(shop, surroundings(), now, Ed25519Verifier()), fonts_line(), *version_lines())


def fonts_line() -> Line:
    """Tell whether the shipped faces are there."""
    try:
        faces = assembly.font_faces()
    except OSError as trouble:
        return Line(Word.WRONG, "fonts", f"missing ({trouble}). Install Sparkwright again")
    if not all(faces):
        return Line(Word.WRONG, "fonts", "a face is empty. Install Sparkwright again")
    return Line(Word.OK, "fonts", f"{len(faces)} faces")


def version_lines(libraries: tuple[str, ...] = (QT_BINDING, *LIBRARIES)) -> tuple[Line, ...]:
    """Return the versions of Python, SQLite, the Qt binding and the libraries, and which of them are missing."""
    found = [f"Python {python_version()}", f"SQLite {sqlite_version()}"]
    missing = []
    for name in libraries:
        try:
            found.append(f"{name} {version(name)}")
        except PackageNotFoundError:
            missing.append(name)
    lines = [Line(Word.OK, "versions", ", ".join(found))]
    if missing:
        lines.append(Line(Word.WRONG, "libraries", f"missing: {', '.join(missing)}. Install Sparkwright again"))
    return tuple(lines)


class Progress:
    """One line on standard error that grows while it is looked at; nothing where nobody looks."""

    def __init__(self) -> None:
        self._shown = -1

    def __call__(self, done: int, of: int) -> bool:
        """Show how far it is. It is stopped with the keys that stop a program."""
        part = done * _WIDTH // of if of else self._shown
        if part != self._shown and sys.stderr.isatty():
            self._shown = part
            click.echo(f"\r[{'=' * part:<{_WIDTH}}]", err=True, nl=part == _WIDTH)
        return True


def hidden_secret() -> str:
    """Ask for a secret at the terminal without showing it; from a pipe, take its first line."""
    if sys.stdin.isatty():
        secret: str = click.prompt("Secret of the records keeper", hide_input=True, err=True)
        return secret
    line = sys.stdin.readline()
    if not line:
        raise Refusal("A restore asks for the secret of a records keeper, and none was given. Type it at a terminal.")
    return line.rstrip("\r\n")
