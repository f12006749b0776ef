"""A page served for real, and a browser to visit it: Debian's Chromium, where it is installed."""

import shutil
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, sync_playwright

from nesting.web import make_app
from tests.places import DEMO
from tests.serving import served


@pytest.fixture(scope="session")
def address() -> Iterator[str]:
    """Return where the page with the invented demo patterns is served."""
    with served(make_app(DEMO)) as address:
        yield address


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
