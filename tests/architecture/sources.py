"""The source files of the project, and what they import."""

import ast
from collections.abc import Iterator
from pathlib import Path

HOUSE = Path(__file__).parents[2]
PACKAGES = ("desktop", "reports", "resources")


def source_files(*folders: str) -> list[Path]:
    """Every Python file below the named folders of the project."""
    return sorted(place for folder in folders for place in (HOUSE / folder).rglob("*.py"))


def name_of(place: Path) -> str:
    """A file's name as written from the top of the project."""
    return place.relative_to(HOUSE).as_posix()


def tree_of(place: Path) -> ast.Module:
    """The syntax tree of a file."""
    return ast.parse(place.read_text("utf-8"), str(place))


def imports_of(place: Path) -> Iterator[str]:
    """Every module that a file imports anywhere, with the name taken from it where that may be a module too."""
    for node in ast.walk(tree_of(place)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            module = "." * node.level + (node.module or "")
            yield module
            yield from (f"{module}.{alias.name}" for alias in node.names)


def comes_from(imported: str, module: str) -> bool:
    """Whether an import is of a module or of something inside it."""
    return imported == module or imported.startswith(f"{module}.")
