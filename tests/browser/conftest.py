"""A page served for real, and a browser to visit it: Debian's Chromium, where it is installed."""

import shutil
import socket
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
import uvicorn
from playwright.sync_api import Browser, sync_playwright

from nesting.engine import warm_up
from nesting.web import make_app

DEMO = Path(__file__).parents[2] / "demo"


@pytest.fixture(scope="session")
def address() -> Iterator[str]:
    """Return where the page with the invented demo patterns is served."""
    warm_up()
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    config = uvicorn.Config(make_app(DEMO), port=port, log_level="warning", ws="none")
    server = uvicorn.Server(config)
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    while not server.started:
        time.sleep(0.05)
    yield f"http://127.0.0.1:{port}"
    server.should_exit = True
    thread.join(10)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Return a browser, or skip where there is none."""
    program = shutil.which("chromium")
    if program is None:
        pytest.skip("Chromium is not installed (Debian: apt-get install chromium)")
    with sync_playwright() as playwright:
        launched = playwright.chromium.launch(executable_path=program, args=["--no-sandbox"])
        yield launched
        launched.close()
