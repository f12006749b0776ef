"""Make the pictures of the page: ``python docs/make_screens.py``, where Chromium is installed.

The page is served with the invented demo patterns, visited at phone and desktop width, and
photographed into docs/pictures/. Names behind the command make these pictures alone.
"""

import shutil
import socket
import sys
import threading
import time
from collections.abc import Callable, Mapping
from functools import partial
from pathlib import Path

import uvicorn
from playwright.sync_api import Browser, Page, expect, sync_playwright

from nesting.engine import warm_up
from nesting.web import make_app, uploads
from nesting.web import page as web_page

ROOT = Path(__file__).resolve().parents[1]
PICTURES = ROOT / "docs" / "pictures"
PAPER = ROOT / "demo" / "paper_pieces.jpg"
WAIT_MS = 600_000
DESK, PHONE = 1280, 360
WAISTCOAT = "pattern=waistcoat&view=A&size=M"
CLASS = (("Ada", "S", "1"), ("Ben", "M", "2"), ("Cleo", "L", "1"))
# Every picture of a piece is fetched, also those far below the fold of the screen.
SCROLL = """async () => {
  for (let y = 0; y < document.body.scrollHeight; y += 300) {
    window.scrollTo(0, y);
    await new Promise((done) => setTimeout(done, 60));
  }
  window.scrollTo(0, 0);
  await Promise.all([...document.images].map((one) => one.decode().catch(() => null)));
}"""

Visit = Callable[[Page, str], None]


def serve() -> str:
    """Serve the page from a thread of its own and return its address."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    server = uvicorn.Server(
        uvicorn.Config(make_app(ROOT / "demo"), port=port, log_level="warning", ws="none")
    )
    threading.Thread(target=server.run, daemon=True).start()
    while not server.started:
        time.sleep(0.05)
    return f"http://127.0.0.1:{port}"


def photograph(page: Page, path: Path) -> None:
    """Wait for the search to end, and write the whole page as PNG."""
    state = page.locator("#state")
    if state.count():
        expect(state).to_contain_text("Searched for")
        expect(page.locator(".view .drawn")).to_be_visible()
    page.wait_for_load_state("networkidle")
    page.evaluate(SCROLL)
    page.screenshot(path=path, full_page=True)


def go(query: str, page: Page, address: str) -> None:
    """Go to a page."""
    page.goto(address + query)


def teach(page: Page, address: str) -> None:
    """Lay the waistcoat, and go to the fourth step of it."""
    page.goto(f"{address}/?{WAISTCOAT}&cloth=shell&width=45in")
    expect(page.locator("#state")).to_contain_text("Searched for")
    page.get_by_role("link", name="Show it step by step").click()
    page.goto(f"{page.url}&step=4")


def order(page: Page, address: str) -> None:
    """Order the waistcoat for an invented class."""
    page.goto(f"{address}/order?pattern=waistcoat")
    for row, (name, size, count) in enumerate(CLASS, 1):
        page.get_by_label(f"Name, row {row}").fill(name)
        page.get_by_label(f"Size, row {row}").select_option(size)
        page.get_by_label(f"Count, row {row}").fill(count)
    page.get_by_label("Width", exact=True).fill("60in")
    page.get_by_label("Price").fill("12/yd")
    page.get_by_role("button", name="Lay them together").click()
    expect(page.locator(".view .drawn")).to_be_visible()


def photo(page: Page, address: str) -> None:
    """Hand in the rendered photograph of paper pieces."""
    page.goto(f"{address}/paper")
    page.get_by_label("Photographs (.jpg, .png)").set_input_files(PAPER)
    page.get_by_label("Name of the pattern").fill("Parts of a waistcoat")
    page.get_by_role("button", name="Find the pieces").click()
    expect(page.get_by_role("heading", name="What the photograph shows")).to_be_visible()


LIST = f"/list?{WAISTCOAT}&width-0=45in&price-0=12.50/yd&width-1=60in&width-2=36in"
FRENCH = (
    "/compare?pattern=knapsack&width=140cm&with=150cm&price=9/m&change=narrower&change=nap&lang=fr"
)
SCREENS: Mapping[str, tuple[int, str, Visit]] = {
    "page-bolt": (
        DESK,
        "light",
        partial(go, f"/?{WAISTCOAT}&cloth=shell&width=45in&price=12.50/yd"),
    ),
    "page-phone": (PHONE, "dark", partial(go, f"/?{WAISTCOAT}&cloth=shell&width=45in")),
    "page-compare": (
        DESK,
        "light",
        partial(go, f"/compare?{WAISTCOAT}&width=45in&with=60in&price=12/yd"),
    ),
    "page-fits": (DESK, "light", partial(go, f"/fits?{WAISTCOAT}&cloth=shell&have=0.9+yd+x+45in")),
    "page-list": (DESK, "light", partial(go, LIST)),
    "page-pieces": (DESK, "light", partial(go, "/pieces?pattern=waistcoat&size=M")),
    "page-pieces-phone": (PHONE, "dark", partial(go, "/pieces?pattern=knapsack&size=M")),
    "page-french": (DESK, "light", partial(go, FRENCH)),
    "page-teach": (DESK, "light", teach),
    "page-order": (DESK, "light", order),
    "page-order-phone": (PHONE, "light", order),
    "page-paper": (DESK, "light", partial(go, "/paper")),
    "page-photo": (DESK, "light", photo),
}
"""Width, colours and way of each picture."""


def take(browser: Browser, address: str, name: str, folder: Path = PICTURES) -> None:
    """Make one picture."""
    width, scheme, visit = SCREENS[name]
    context = browser.new_context(
        viewport={"width": width, "height": 800},
        color_scheme="dark" if scheme == "dark" else "light",
    )
    context.set_default_timeout(WAIT_MS)
    expect.set_options(timeout=WAIT_MS)
    page = context.new_page()
    visit(page, address)
    photograph(page, folder / f"{name}.png")
    context.close()


def main(names: list[str]) -> None:
    """Visit every screen, or those named."""
    warm_up()
    # A busy computer makes the same pictures, only later.
    web_page.WAIT_S = uploads.PATIENCE_S = WAIT_MS / 1000.0
    address = serve()
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=shutil.which("chromium"), args=["--no-sandbox"]
        )
        for name in names or SCREENS:
            take(browser, address, name)
        browser.close()


if __name__ == "__main__":
    main(sys.argv[1:])
