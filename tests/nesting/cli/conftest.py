"""A folder with a small pattern sheet, and the command run in it."""

import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from nesting.cli.app import main
from nesting.engine import warm_up
from tests.nesting.cli.sheets import GOOD


@dataclass(frozen=True)
class Answer:
    """What a command answered."""

    code: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        """The one JSON value on standard output."""
        return json.loads(self.out)


Nesting = Callable[..., Answer]


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return the current folder, which holds nothing but ``tote.toml``."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "120")
    (tmp_path / "tote.toml").write_text(GOOD, encoding="utf-8")
    return tmp_path


@pytest.fixture
def nesting(folder: Path, capsys: pytest.CaptureFixture[str]) -> Nesting:
    """Return a function that runs the command in ``folder``."""
    assert folder.is_dir()

    def run(*arguments: str) -> Answer:
        code = main(arguments)
        told = capsys.readouterr()
        return Answer(code, told.out, told.err)

    return run


QUICK = ("--effort", "quick", "--workers", "1")


@pytest.fixture(scope="session", autouse=True)
def compiled_kernels() -> None:
    """Compile the kernels first, so that no command tells of it in the middle of a test."""
    warm_up()
