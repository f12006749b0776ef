"""Visitors who stop in the middle, and the end of the page whatever they do."""

import logging
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path

import httpx2
import pytest

from nesting.engine import warm_up
from nesting.web import guard, make_app, server
from tests import serving
from tests.nesting.cli.sheets import GOOD
from tests.places import DEMO, ROOT

HEAD = (
    b"POST /patterns HTTP/1.1\r\nHost: %s\r\nOrigin: http://%s\r\n"
    b"Content-Type: multipart/form-data; boundary=x\r\nContent-Length: 1000\r\n\r\n"
)
CLOAK = "pattern=cloak&view=A&size=M&cloth=shell&width=45in"
WITHIN_S = 30.0


def connected(address: str) -> socket.socket:
    """Return a connection to a page."""
    host, port = address.removeprefix("http://").split(":")
    return socket.create_connection((host, int(port)), timeout=WITHIN_S)


def half_an_upload(address: str) -> bytes:
    """Return a request that promises more than it brings."""
    name = address.removeprefix("http://").encode()
    return HEAD % (name, name) + b"--x\r\n"


@pytest.fixture
def address(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[str]:
    """Serve a page that waits a moment and no longer."""
    monkeypatch.setattr(guard, "STALLED_S", 0.3)
    monkeypatch.setattr(server, "HEAD_S", 0.3)
    (tmp_path / "tote.toml").write_text(GOOD, encoding="utf-8")
    with serving.served(make_app(tmp_path)) as address:
        yield address


@pytest.mark.parametrize("sent", [b"", b"G", b"GET / HTTP/1.1\r\nHost: x"])
def test_half_a_head_is_not_waited_for(address: str, sent: bytes) -> None:
    """The connection is closed without an answer."""
    with connected(address) as half:
        half.sendall(sent)
        assert half.recv(100) == b""


def test_half_a_head_behind_an_answer_is_not_waited_for_either(address: str) -> None:
    """On a connection that is kept open."""
    with connected(address) as kept:
        kept.sendall(f"GET /static/page.js HTTP/1.1\r\nHost: {address[7:]}\r\n\r\nGET".encode())
        assert kept.recv(15) == b"HTTP/1.1 200 OK"
        while kept.recv(10_000):
            pass


def test_half_a_body_is_answered_and_its_connection_closed(address: str) -> None:
    """408, and the way out."""
    with connected(address) as half:
        half.sendall(half_an_upload(address))
        told = b""
        while got := half.recv(10_000):
            told += got

    assert told.startswith(b"HTTP/1.1 408")
    assert told.endswith(b"hand it in again")


def test_a_body_that_is_refused_is_not_waited_for(address: str) -> None:
    """Too long by its own account: answered at once, closed a moment later."""
    with connected(address) as half:
        head = half_an_upload(address).replace(b"Length: 1000", b"Length: 100000000")
        half.sendall(head)
        told = b""
        while got := half.recv(10_000):
            told += got

    assert told.startswith(b"HTTP/1.1 413")


def test_a_visitor_who_hangs_up_leaves_no_trace(
    address: str, caplog: pytest.LogCaptureFixture
) -> None:
    """Neither in the log nor at the desk; and the page goes on."""
    with caplog.at_level(logging.WARNING):
        for _ in range(3):
            with connected(address) as gone:
                gone.sendall(half_an_upload(address))
        assert httpx2.get(address, timeout=WITHIN_S).status_code == 200

    assert [record.getMessage() for record in caplog.records] == []


@contextmanager
def page_of_its_own(folder: Path) -> Iterator[tuple["subprocess.Popen[bytes]", str]]:
    """Start ``nesting serve`` as a process, and yield it with its address."""
    warm_up()
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    command = [sys.executable, "-m", "nesting", "serve", "--patterns", str(folder)]
    pipe = subprocess.PIPE
    started = subprocess.Popen(
        [*command, "--port", str(port)], cwd=ROOT, stdout=pipe, stderr=pipe, start_new_session=True
    )
    address = f"http://127.0.0.1:{port}"
    try:
        until(lambda: _answers(address))
        yield started, address
    finally:
        started.kill()
        started.communicate()


def until(holds: Callable[[], bool]) -> None:
    """Wait until something holds, and fail if it never does."""
    deadline = time.monotonic() + 60.0
    while not holds():
        assert time.monotonic() < deadline
        time.sleep(0.05)


def _answers(address: str) -> bool:
    try:
        return httpx2.get(f"{address}/static/page.js", timeout=5).status_code == 200
    except httpx2.TransportError:
        return False


@pytest.mark.slow
@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_the_page_ends_soon_whatever_visitors_do(number: int) -> None:
    """One has stalled an upload, one half a head, two watch markers, others wait for theirs."""
    with page_of_its_own(DEMO) as (process, address), ExitStack() as visitors:
        stalled, half, *watching = (visitors.enter_context(connected(address)) for _ in range(7))
        stalled.sendall(half_an_upload(address))
        half.sendall(b"GET")
        watch = f"GET /live?{CLOAK}&long=1 HTTP/1.1\r\nHost: {address[7:]}\r\n\r\n"
        for one in watching:
            one.sendall(watch.encode())
        assert watching[0].recv(15) == b"HTTP/1.1 200 OK"
        process.send_signal(number)
        _, told = process.communicate(timeout=server.END_S + 1.0)

    assert b"Traceback" not in told


@pytest.mark.slow
@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="needs /proc to see processes")
@pytest.mark.parametrize("number", [signal.SIGKILL, signal.SIGINT])
def test_no_reader_outlives_the_page(tmp_path: Path, number: int) -> None:
    """Killed while a slow drawing is read: the reader is gone a moment later."""
    squares = "".join(
        f'<path d="M{i} 0 C{i} 90 90 {i} 0 {i} S 5 5 {i} 9 Z"/>' for i in range(15_000)
    )
    slow = f'<svg xmlns="http://www.w3.org/2000/svg" width="1m" height="1m">{squares}</svg>'
    with page_of_its_own(tmp_path) as (process, address):
        body = (
            b'--x\r\nContent-Disposition: form-data; name="sheet"; filename="a.svg"\r\n\r\n'
            + slow.encode()
            + b"\r\n--x--\r\n"
        )
        head = half_an_upload(address).removesuffix(b"--x\r\n")
        with connected(address) as visitor:
            visitor.sendall(head.replace(b"Length: 1000", b"Length: %d" % len(body)) + body)
            until(lambda: len(readers_of(process.pid)) == 1)
            (reader,) = readers_of(process.pid)
            process.send_signal(number)
            process.wait(WITHIN_S)
            until(lambda: not is_running(reader))


def readers_of(parent: int) -> list[int]:
    """Return the numbers of the processes that a page has begun to read files with."""
    found = []
    for path in Path("/proc").glob("[0-9]*"):
        try:
            told = (path / "stat").read_text().rpartition(")")[2].split()
            words = (path / "cmdline").read_bytes()
        except OSError:
            continue
        if int(told[1]) == parent and b"isolated_reader" in words:
            found.append(int(path.name))
    return found


def is_running(process: int) -> bool:
    """Tell whether a process runs: neither gone nor waiting to be buried."""
    try:
        state = Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()[0]
    except OSError:
        return False
    return state not in ("Z", "X")
