"""Cells laid by a real scheduler and its workers, all on this computer."""

import json
import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import AbstractContextManager, ExitStack, contextmanager
from pathlib import Path

import pytest

from nesting.answers.chart.cells import lay_cells
from nesting.answers.chart.cluster import cluster_executor
from nesting.cli.app import main
from nesting.errors import ClusterError
from tests.executors import Here
from tests.nesting.cli.sheets import GOOD
from tests.places import ROOT
from tests.small_patterns import TRIANGLE, box, piece, request

WITHIN_S = 60.0
ASKED = [
    request(piece("front", TRIANGLE, count=4), piece("panel", box(35, 70)), width_mm=100.0 + i)
    for i in range(8)
]

pytestmark = pytest.mark.skipif(os.name == "nt", reason="needs SIGKILL, which Windows has not")


@contextmanager
def process(
    *words: str, program: Path = ROOT, **settings: str
) -> Iterator["subprocess.Popen[bytes]"]:
    """Start a command of Dask that finds this program in a folder, and end it afterwards."""
    started = subprocess.Popen(
        (sys.executable, "-m", "dask", *words),
        cwd=program,
        env=os.environ | settings,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    try:
        yield started
    finally:
        started.kill()
        started.wait()


@contextmanager
def scheduler(folder: Path, **settings: str) -> Iterator[tuple[str, "subprocess.Popen[bytes]"]]:
    """Start a scheduler on a free port, and yield its address and process."""
    told = folder / "scheduler.json"
    words = ("--host", "127.0.0.1", "--port", "0", "--no-dashboard", "--no-jupyter")
    told_in = ("--scheduler-file", str(told))
    with process("scheduler", *words, *told_in, program=ROOT, **settings) as started:
        until = time.monotonic() + WITHIN_S
        while time.monotonic() < until:
            try:
                address = json.loads(told.read_text(encoding="utf-8"))["address"]
            except (FileNotFoundError, ValueError):
                time.sleep(0.1)
            else:
                yield address, started
                return
        pytest.fail("no scheduler within a minute")


def worker(
    address: str, folder: Path, program: Path = ROOT
) -> AbstractContextManager["subprocess.Popen[bytes]"]:
    """Start a worker of one thread."""
    words = ("--nthreads", "1", "--no-nanny", "--no-dashboard", "--local-directory", str(folder))
    return process("worker", address, *words, program=program)


@pytest.mark.slow
def test_a_worker_lost_and_one_that_joins_change_nothing(tmp_path: Path) -> None:
    """Rows equal to those laid here; one of two workers is killed; a rerun lays nothing."""
    kept = tmp_path / "kept"
    kept.mkdir()
    with ExitStack() as stack:
        address, _ = stack.enter_context(scheduler(tmp_path))
        first = stack.enter_context(worker(address, tmp_path))
        stack.enter_context(worker(address, tmp_path))

        def disturb(done: int, _: int) -> None:
            if done >= 1 and first.poll() is None:
                first.send_signal(signal.SIGKILL)
                first.wait()
                stack.enter_context(worker(address, tmp_path))

        with cluster_executor(address) as cluster:
            rows = lay_cells(ASKED, cluster, folder=kept, progress=disturb)
    here, nobody = Here(), Here()

    markers = [row.result.marker for row in rows if row.result is not None]
    alone = lay_cells(ASKED, here)
    assert first.returncode == -signal.SIGKILL
    assert markers == [row.result.marker for row in alone if row.result is not None]
    assert lay_cells(ASKED, nobody, folder=kept) == rows
    assert (here.ran, nobody.ran) == (8, 0)


@pytest.mark.slow
def test_a_lost_scheduler_is_told_of(tmp_path: Path) -> None:
    """One sentence, with the way out."""
    with scheduler(tmp_path) as (address, started):

        def end(_: int, __: int) -> None:
            started.kill()

        with (
            pytest.raises(ClusterError, match="was lost; start it and run the same command"),
            cluster_executor(address) as cluster,
        ):
            lay_cells(ASKED, cluster, progress=end)


@pytest.mark.slow
def test_a_cell_that_ends_workers_is_told_of(tmp_path: Path) -> None:
    """None has joined, which is said; then two join and are lost to one task: one sentence."""
    told: list[str] = []
    with ExitStack() as stack:
        settings = {"DASK_DISTRIBUTED__SCHEDULER__ALLOWED_FAILURES": "1"}
        address, _ = stack.enter_context(scheduler(tmp_path, **settings))

        def let_two_join(words: str) -> None:
            told.append(words)
            for _ in range(2):
                stack.enter_context(worker(address, tmp_path))

        with (
            pytest.raises(ClusterError, match=r"one cell ended several workers.*give them more"),
            cluster_executor(address, note=let_two_join) as cluster,
        ):
            cluster.submit(os._exit, 1).result(WITHIN_S)

    (words,) = told
    assert f"no worker has joined {address} yet" in words
    assert f"dask worker {address} --nthreads 1" in words


@pytest.mark.slow
def test_a_worker_of_another_version_is_refused(tmp_path: Path) -> None:
    """A remark more in one module, and it lays nothing; alone in the cluster, the command ends."""
    other = tmp_path / "other"
    for package in ("pieces", "nesting"):
        shutil.copytree(ROOT / package, other / package)
    with (other / "nesting" / "lay.py").open("a", encoding="utf-8") as module:
        module.write("# changed\n")
    with (
        scheduler(tmp_path) as (address, _),
        worker(address, tmp_path, program=other),
        pytest.raises(ClusterError, match=r"another version of this program.*install the same"),
        cluster_executor(address) as cluster,
    ):
        lay_cells(ASKED[:1], cluster)


@pytest.mark.slow
def test_the_command_gives_the_same_on_a_cluster(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Equal rows, seconds apart; and afterwards nothing is left to lay."""
    sheets = tmp_path / "sheets"
    sheets.mkdir()
    (sheets / "tote.toml").write_text(GOOD, encoding="utf-8")
    cells = ("--width", "50cm", "--width", "100cm", "--effort", "quick")
    here, there = tmp_path / "here.csv", tmp_path / "there.csv"
    call = ("catalogue", str(sheets), *cells, "--out")
    with scheduler(tmp_path) as (address, _), worker(address, tmp_path):
        assert main([*call, str(there), "--cluster", address]) == 0
        assert main([*call, str(there), "--cluster", address]) == 0
    assert main([*call, str(here), "--workers", "1"]) == 0

    assert there.read_bytes() == here.read_bytes()
    assert "laid 0 of 4 cells, 4 were there" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        (("--cluster", "banana"), '--cluster: "banana" is no address; give a name and a port'),
        (("--cluster", ""), '--cluster: "" is no address'),
        (("--cluster", "tcp://desk:0"), "is no address"),
        (("--cluster", "ftp://desk:8786"), "is no address"),
        pytest.param(
            ("--cluster", "tcp://127.0.0.1:1"),
            "no scheduler answers at tcp://127.0.0.1:1",
            marks=pytest.mark.slow,
        ),
        (("--cluster", "tcp://127.0.0.1:1", "--workers", "2"), "--workers: those of a cluster"),
    ],
)
def test_a_cluster_not_there_is_one_sentence(
    typed: tuple[str, ...], told: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Exit code 2."""
    sheet = tmp_path / "tote.toml"
    sheet.write_text(GOOD, encoding="utf-8")

    assert main(["chart", str(sheet), "--effort", "quick", *typed]) == 2
    err = capsys.readouterr().err
    assert told in err
    assert err.count("\n") <= 2
