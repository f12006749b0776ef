"""``nesting serve``: what it refuses before it listens, and what it warns of."""

import socket
from pathlib import Path

import pytest

from nesting.web import server
from tests.nesting.cli.conftest import Nesting


def test_a_folder_that_is_not_there_is_refused(nesting: Nesting) -> None:
    """Exit code 2 and one sentence."""
    answer = nesting("serve", "--patterns", "nowhere")

    assert answer.code == 2
    assert "nowhere is not a folder" in answer.err


@pytest.mark.parametrize("port", ["0", "70000", "http"])
def test_a_port_that_cannot_be_is_refused(nesting: Nesting, port: str) -> None:
    """The range is told."""
    answer = nesting("serve", "--port", port)

    assert answer.code == 2
    assert "--port" in answer.err


@pytest.mark.parametrize(
    ("host", "shown", "warned"),
    [("127.0.0.1", "127.0.0.1", False), ("127.0.0.2", "127.0.0.2", True), ("::1", "[::1]", False)],
)
def test_listening_to_other_computers_is_warned_of(
    nesting: Nesting, monkeypatch: pytest.MonkeyPatch, host: str, shown: str, warned: bool
) -> None:
    """Only an address that is not this computer's own brings the warning; all say what to open."""
    listened: list[str] = []
    monkeypatch.setattr(server, "serve", lambda _app, host, _port: listened.append(host))
    monkeypatch.setattr("nesting.cli.serve_command._refuse_taken_port", lambda _typed: None)

    answer = nesting("serve", "--patterns", ".", "--host", host)

    assert answer.code == 0, answer.err
    assert listened == [host]
    assert f"Open http://{shown}:8123/" in answer.out
    assert ("other computers" in answer.err) is warned


@pytest.mark.parametrize(
    "host", ["0.0.0.0", "::", "", "0", "0x0", "00.0.0.0", "0:0:0:0:0:0:0:0", "::ffff:0.0.0.0"]
)
def test_an_address_for_all_is_refused_with_the_way_out(
    nesting: Nesting, folder: Path, host: str
) -> None:
    """The page would answer to no name that others could call it by."""
    answer = nesting("serve", "--patterns", str(folder), "--host", host)

    assert answer.code == 2
    assert "the address by which others call this computer" in answer.err


def test_a_port_that_is_taken_is_refused(nesting: Nesting, folder: Path) -> None:
    """One sentence, before anything is started."""
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = str(taken.getsockname()[1])
        answer = nesting("serve", "--patterns", str(folder), "--port", port)

    assert answer.code == 2
    assert "cannot listen at 127.0.0.1" in answer.err
