"""The command ``check`` loads no window, no printer, no store and no keys."""

import json
import os
import subprocess
import sys

import pytest

from tests.architecture.sources import HOUSE

HEAVY = ("PySide6", "reportlab", "sqlite_utils", "cryptography")
PROBE = """
import contextlib, io, json, sys
sys.argv = ["sparkwright", *sys.argv[1:]]
status = None
with contextlib.redirect_stdout(io.TextIOWrapper(io.BytesIO())):
    try:
        from desktop.__main__ import main
        main()
    except SystemExit as ended:
        status = ended.code
print(json.dumps({"status": status, "modules": sorted(sys.modules)}))
"""


def loaded_by(*arguments: str) -> tuple[int, set[str]]:
    """Run one command in a fresh process; return its status and the top names of all modules then loaded."""
    done = subprocess.run(
        [sys.executable, "-c", PROBE, *arguments],
        cwd=HOUSE,
        capture_output=True,
        check=True,
        text=True,
        timeout=60,
        env=os.environ | {"QT_QPA_PLATFORM": "offscreen"},
    )
    told = json.loads(done.stdout.splitlines()[-1])
    return told["status"], {name.split(".")[0] for name in told["modules"]}


@pytest.mark.parametrize("arguments", [("check", "tests/samples/sound.toml"), ("check", "tests/samples/missing.toml")])
def test_that_check_loads_nothing_heavy(arguments: tuple[str, ...]) -> None:
    status, modules = loaded_by(*arguments)
    assert status == (0 if "sound" in arguments[1] else 2)
    assert {"desktop", "click"} <= modules
    assert modules.isdisjoint(HEAVY)


def test_that_the_probe_sees_what_a_command_loads() -> None:
    status, modules = loaded_by("print", "tests/samples/sound.toml", "-o", os.devnull)
    assert status in (0, 2)
    assert "reportlab" in modules
    assert modules.isdisjoint({"PySide6", "sqlite_utils", "cryptography"})
