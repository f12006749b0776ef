"""The application as a whole: help, version, faults of our own, interruption, quickness."""

import signal
import subprocess
import sys
from typing import Any

import pytest
import typer

from nesting.cli.app import app
from nesting.cli.progress import watching
from nesting.cloth.bolt import Bolt
from nesting.lay import LayProgress
from nesting.version import __version__
from tests.nesting.cli.conftest import QUICK, Nesting

LAY = ("lay", "tote.toml", "--width", "1m", *QUICK)
COMMANDS: dict[str, Any] = typer.main.get_command(app).commands  # type: ignore[attr-defined]


def test_version(nesting: Nesting) -> None:
    """The version of the package, and nothing else."""
    answer = nesting("--version")

    assert (answer.code, answer.out, answer.err) == (0, f"nesting {__version__}\n", "")


@pytest.mark.parametrize("typed", [[], ["--help"]])
def test_help_lists_every_command(nesting: Nesting, typed: list[str]) -> None:
    """Also without any word."""
    answer = nesting(*typed)

    assert answer.code == 0
    for command in COMMANDS:
        assert f" {command} " in answer.out


@pytest.mark.parametrize("command", COMMANDS)
def test_each_command_has_help(nesting: Nesting, command: str) -> None:
    """Help answers 0 for each."""
    answer = nesting(command, "--help")

    assert answer.code == 0
    assert f"nesting {command}" in answer.out


def test_a_fault_of_ours_asks_for_a_report(
    nesting: Nesting, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Exit 3 and one line with the command; the traceback only for who asks."""
    monkeypatch.setattr("nesting.lay.any_spread.cut_list", lambda *_: 1 // 0)
    monkeypatch.delenv("NESTING_DEBUG", raising=False)

    answer = nesting(*LAY)
    monkeypatch.setenv("NESTING_DEBUG", "1")
    debugged = nesting(*LAY)

    assert answer.code == debugged.code == 3
    assert answer.err.count("\n") == 1
    assert "our fault" in answer.err
    assert "nesting lay tote.toml" in answer.err
    assert "Traceback" not in answer.err
    assert "Traceback" in debugged.err


def test_ctrl_c_keeps_the_best_marker(nesting: Nesting, monkeypatch: pytest.MonkeyPatch) -> None:
    """The first Ctrl-C stops the search; the marker is printed, and the person is told."""
    real = watching

    class Stopped:
        """A watch whose person pressed Ctrl-C at the first report."""

        def __init__(self, bolts: tuple[Bolt, ...], **told: bool) -> None:
            self.context = real(bolts, **told)

        def __enter__(self) -> object:
            watch = self.context.__enter__()
            signal.raise_signal(signal.SIGINT)
            return watch

        def __exit__(self, *problem: object) -> None:
            self.context.__exit__(None, None, None)

    monkeypatch.setattr("nesting.cli.progress.watching", Stopped)

    answer = nesting("lay", "tote.toml", "--width", "90cm", *QUICK)

    assert answer.code == 0
    assert "stopped at your request; this is the best marker found so far" in answer.out
    assert "Ask for" in answer.out


def test_a_second_ctrl_c_gives_up_at_once() -> None:
    """The handler raises when it is asked again, and the old one is back afterwards."""
    before = signal.getsignal(signal.SIGINT)
    with watching((Bolt(width_mm=900.0),), quiet=True, only_fills=True) as watch:
        assert watch.lay(LayProgress(1.0, 0.5)) is False
        signal.raise_signal(signal.SIGINT)
        assert watch.lay(LayProgress(1.0, 0.6)) is True
        with pytest.raises(KeyboardInterrupt):
            signal.raise_signal(signal.SIGINT)

    assert signal.getsignal(signal.SIGINT) is before


def test_an_interruption_before_any_marker_says_so(
    nesting: Nesting, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Exit 130, as shells expect of Ctrl-C."""

    def interrupted(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("nesting.lay.any_spread.cut_list", interrupted)

    answer = nesting(*LAY)

    assert answer.code == 130
    assert "nothing was written" in answer.err


def test_the_first_run_says_why_it_is_slow(
    nesting: Nesting, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The sentence about preparing code stands on standard error, once."""
    monkeypatch.setattr("nesting.engine.kernels_are_ready", lambda **_: False)
    monkeypatch.setattr("nesting.engine.cache_problem", lambda: "no folder, so slow")

    answer = nesting(*LAY, "--json")

    assert answer.json["placed"] == 4
    assert answer.err.count("Preparing fast code for this computer, once") == 1
    assert "note: no folder, so slow" in answer.err


@pytest.mark.parametrize("command", COMMANDS)
def test_every_option_has_help(command: str) -> None:
    """No option of any command is left without words."""
    assert [one.name for one in COMMANDS[command].params if not one.help] == []


def test_help_needs_no_heavy_library() -> None:
    """Help answers without numba, shapely, matplotlib or numpy."""
    code = (
        "import sys; from nesting.cli.app import main; main(['--help']);"
        "heavy = {'numba', 'shapely', 'matplotlib', 'numpy', 'pyclipper'} & set(sys.modules);"
        "sys.exit(', '.join(sorted(heavy)) or 0)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)

    assert done.stderr == ""
    assert done.returncode == 0


def test_python_m_nesting_is_the_same_command() -> None:
    """Both ways in print the same version."""
    done = subprocess.run(
        [sys.executable, "-m", "nesting", "--version"], capture_output=True, text=True, check=False
    )

    assert done.stdout == f"nesting {__version__}\n"
