"""``nesting serve``: what it refuses before it listens, and what it warns of."""

from pathlib import Path

import pytest
import uvicorn

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


@pytest.mark.parametrize(("host", "warned"), [("127.0.0.1", False), ("0.0.0.0", True)])
def test_listening_to_other_computers_is_warned_of(
    nesting: Nesting, folder: Path, monkeypatch: pytest.MonkeyPatch, host: str, warned: bool
) -> None:
    """Only an address beyond this computer brings the warning; both say where to open."""
    listened: list[str] = []
    monkeypatch.setattr(uvicorn, "run", lambda _app, host, **_more: listened.append(host))

    answer = nesting("serve", "--patterns", str(folder), "--host", host)

    assert answer.code == 0
    assert listened == [host]
    assert f"Open http://{host}:8123/" in answer.out
    assert ("other computers" in answer.err) is warned
