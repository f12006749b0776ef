"""Compiled code on disk: damaged, with no room, or with no folder at all."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from nesting.engine import warm_up
from tests.nesting.cli.sheets import GOOD
from tests.places import ROOT

# The tote takes 60 cm of cloth 1 m wide: see tests/nesting/cli/test_lay_command.py.
LAY = """
from nesting.cli.app import main
raise SystemExit(main("lay tote.toml --width 1m --effort quick --workers 1".split()))
"""
FULL = """
import resource, signal
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
resource.setrlimit(resource.RLIMIT_FSIZE, (200, 200))
"""
PROBLEM = """
import nesting.engine.kernels.fill
from nesting.engine.kernels.jit import cache_problem
print(cache_problem())
"""


@pytest.fixture
def copied(tmp_path: Path) -> Path:
    """Return the folder of compiled code of a copy of the program, which lies in ``tmp_path``."""
    warm_up()
    for package in ("pieces", "nesting"):
        shutil.copytree(ROOT / package, tmp_path / package)  # with its times, or it is stale
    (tmp_path / "tote.toml").write_text(GOOD, encoding="utf-8")
    code = tmp_path / "nesting" / "engine" / "kernels" / "__pycache__"
    if not list(code.glob("*.nbi")):
        pytest.skip("compiled code is not kept beside the kernels, but where NUMBA_CACHE_DIR says")
    return code


def newest(folder: Path, pattern: str) -> Path:
    """Return the newest file of a kernel that Python itself calls; older sources left others."""
    return max(folder.glob(pattern), key=lambda path: path.stat().st_mtime)


def ran(code: str, folder: Path, **environment: str) -> "subprocess.CompletedProcess[str]":
    """Run Python code in a folder, whose packages come first."""
    told = {name: value for name, value in os.environ.items() if name != "NUMBA_CACHE_DIR"}
    return subprocess.run(
        [sys.executable, "-c", code],
        cwd=folder,
        env=told | {"PYTHONPATH": str(folder)} | environment,
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.mark.slow
def test_damaged_code_is_compiled_anew(copied: Path, tmp_path: Path) -> None:
    """Garbage in an index, half an index, an empty file of code: the marker is what it was."""
    index = newest(copied, "convolution.closed_walks-*.nbi")
    half = newest(copied, "convolution.convolution_segments-*.nbi")
    empty = newest(copied, "convolution.inset-*.nbc")
    index.write_bytes(b"no code at all")
    half.write_bytes(half.read_bytes()[:-9])
    empty.write_bytes(b"")

    answer = ran(LAY, tmp_path)

    assert answer.returncode == 0, answer.stderr
    assert "60 cm" in answer.stdout
    assert "Traceback" not in answer.stderr
    assert index.stat().st_size > 100
    assert half.stat().st_size > 100
    assert empty.stat().st_size > 100


@pytest.mark.slow
def test_code_that_finds_no_room(copied: Path, tmp_path: Path) -> None:
    """One kernel is to be compiled on a full disk: a sentence with the way out."""
    newest(copied, "convolution.closed_walks-*.nbi").unlink()

    answer = ran(FULL + LAY, tmp_path)

    assert answer.returncode == 2
    last = answer.stderr.splitlines()[-1]
    assert f"compiled code cannot be kept in {copied}: File too large" in last
    assert "NUMBA_CACHE_DIR" in last
    assert "Traceback" not in answer.stderr
    assert not list(copied.glob("*.tmp.*"))


def test_no_folder_for_code_is_told_of(copied: Path, tmp_path: Path) -> None:
    """Where files stand in the place of all folders, nobody can write; not even root."""
    shutil.rmtree(copied)
    copied.write_text("a file", encoding="utf-8")
    nowhere = str(copied / "below")

    answer = ran(
        PROBLEM, tmp_path, HOME=nowhere, XDG_CACHE_HOME=nowhere, NUMBA_CACHE_DIR=nowhere,
        PYTHONDONTWRITEBYTECODE="1",
    )  # fmt: skip

    assert answer.returncode == 0, answer.stderr
    assert "every run compiles anew; set NUMBA_CACHE_DIR" in answer.stdout
