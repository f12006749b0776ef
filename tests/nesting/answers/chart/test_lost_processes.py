"""Processes ended from outside: a lost worker costs time alone, and a lost parent leaves nobody."""

import multiprocessing
import os
import signal
from pathlib import Path
from typing import Any

import pytest

from nesting.answers.chart.cells import cell_pool, lay_cells
from nesting.checks import check_marker
from nesting.engine import Packing, Progress, Strip, StripItem, pack
from nesting.engine.prepared import prepare
from nesting.engine.workers import MOST_TRIES, team_of
from nesting.errors import LayStoppedError, StripError
from nesting.marker.marker_file import read_marker
from pieces.finding import Severity
from tests.processes import command, of_session, soon
from tests.small_patterns import TRIANGLE, box, piece, request

WEDGE = StripItem(name="wedge", outline=TRIANGLE.outline_mm, quantity=9, turns_deg=(0.0, 180.0))
STRIP = Strip(width=150.0, items=(WEDGE,))

needs_signals = pytest.mark.skipif(os.name == "nt", reason="needs SIGKILL, which Windows has not")


def children() -> list[Any]:
    """Return the worker processes of this one."""
    return multiprocessing.active_children()


def packed(killing_at: int | None) -> Packing:
    """Return a packing by two workers, one of them killed at the report of that number."""
    reports = 0

    def report(_: Progress) -> None:
        nonlocal reports
        reports += 1
        if reports == killing_at and children():
            os.kill(children()[0].pid, signal.SIGKILL)

    return pack(STRIP, effort="standard", workers=2, progress=report)


@pytest.mark.slow
@needs_signals
def test_a_lost_worker_changes_nothing() -> None:
    """The round is run again by new workers, so the packing is the same to the last place."""
    undisturbed = packed(None)

    disturbed = packed(25)

    assert disturbed.placements == undisturbed.placements
    assert disturbed.moves == undisturbed.moves


def _leave(*_: Any, **__: Any) -> None:
    os._exit(1)


@pytest.mark.slow
@needs_signals
def test_workers_that_are_always_lost_are_told_of() -> None:
    """Three tries, then a sentence with the way out."""
    context, team = team_of(prepare(STRIP), 2)
    with context, pytest.raises(StripError, match=f"{MOST_TRIES} times.*ask for one worker"):
        team(_leave, [None, None], [{}, {}])


@pytest.mark.slow
@needs_signals
def test_a_lost_cell_is_told_of_and_what_was_done_is_kept(tmp_path: Path) -> None:
    """The run ends with a sentence; run again, it lays only what is not there."""
    asked = [request(piece("panel", box(35, 70)), width_mm=100.0 + i) for i in range(40)]

    def kill_one(done: int, _: int) -> None:
        if done >= 1:
            for child in children():
                os.kill(child.pid, signal.SIGKILL)

    with (
        cell_pool(1) as pool,
        pytest.raises(LayStoppedError, match="run the same command again"),
    ):
        lay_cells(asked, pool, folder=tmp_path, progress=kill_one)
    kept = {path: path.stat().st_mtime_ns for path in tmp_path.iterdir()}
    with cell_pool(1) as pool:
        rows = lay_cells(asked, pool, folder=tmp_path)

    assert len(rows) == 40
    assert 1 <= len(kept) < 40
    assert all(path.stat().st_mtime_ns == when for path, when in kept.items())


SEARCH = ("lay", "demo/waistcoat.toml", "--view", "A", "--cloth", "shell", "--width", "45in",
          "--size", "M", "--seconds", "60", "--workers", "2", "--out")  # fmt: skip


@pytest.mark.slow
@needs_signals
def test_a_killed_command_leaves_no_process(tmp_path: Path) -> None:
    """A search by two workers, killed in the middle: within seconds all of them are gone."""
    out = tmp_path / "marker.json"
    with command(*SEARCH, str(out)) as search:
        assert soon(lambda: len(of_session(search.pid)) >= 3, 120.0)
        os.kill(search.pid, signal.SIGKILL)
        search.wait()

        assert soon(lambda: of_session(search.pid) == [], 30.0)
        assert not out.exists()


@pytest.mark.slow
@needs_signals
def test_ctrl_c_keeps_the_marker_and_leaves_no_process(tmp_path: Path) -> None:
    """Told to the whole group, as a terminal does: the best so far is written, and it is sound."""
    out = tmp_path / "marker.json"
    with command(*SEARCH, str(out)) as search:
        assert soon(lambda: len(of_session(search.pid)) >= 3, 120.0)
        os.killpg(search.pid, signal.SIGINT)
        told, complaints = search.communicate(timeout=60.0)

        assert soon(lambda: of_session(search.pid) == [], 30.0)
    errors = [one for one in check_marker(read_marker(out)) if one.severity is Severity.ERROR]
    assert search.returncode == 0, complaints
    assert "stopped at your request; this is the best marker found so far" in " ".join(told.split())
    assert complaints == ""
    assert errors == []
    assert [path.name for path in tmp_path.iterdir()] == ["marker.json"]
