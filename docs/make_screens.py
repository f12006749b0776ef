"""Make the pictures of the page: ``python docs/make_screens.py``, where Chromium is installed.

The page is served with the invented demo patterns, visited at phone and desktop width, and
photographed into docs/pictures/.
"""

import shutil
import socket
import threading
import time
from pathlib import Path

import uvicorn
from playwright.sync_api import Page, expect, sync_playwright

from nesting.engine import warm_up
from nesting.web import make_app

ROOT = Path(__file__).resolve().parents[1]
PICTURES = ROOT / "docs" / "pictures"
WAISTCOAT = "pattern=waistcoat&view=A&size=M"
SCREENS = (
    ("page-bolt", 1280, "light", f"/?{WAISTCOAT}&cloth=shell&width=45in&price=12.50/yd"),
    ("page-phone", 360, "dark", f"/?{WAISTCOAT}&cloth=shell&width=45in"),
    ("page-compare", 1280, "light", f"/compare?{WAISTCOAT}&width=45in&with=60in&price=12/yd"),
    ("page-fits", 1280, "light", f"/fits?{WAISTCOAT}&cloth=shell&have=0.9+yd+x+45in"),
    (
        "page-list",
        1280,
        "light",
        f"/list?{WAISTCOAT}&width-0=45in&price-0=12.50/yd&width-1=60in&width-2=36in",
    ),
    ("page-pieces", 1280, "light", "/pieces?pattern=waistcoat&size=M"),
    ("page-pieces-phone", 360, "dark", "/pieces?pattern=knapsack&size=M"),
    (
        "page-french",
        1280,
        "light",
        "/compare?pattern=knapsack&width=140cm&with=150cm&price=9/m"
        "&change=narrower&change=nap&lang=fr",
    ),
)
CLASS = (("Ada", "S", "1"), ("Ben", "M", "2"), ("Cleo", "L", "1"))


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


def photograph(page: Page, name: str) -> None:
    """Wait for the search to end, and write the whole page as PNG."""
    state = page.locator("#state")
    if state.count():
        expect(state).to_contain_text("Searched for", timeout=60_000)
        expect(page.locator(".view .drawn")).to_be_visible()
    page.wait_for_load_state("networkidle")
    page.screenshot(path=PICTURES / f"{name}.png", full_page=True)


def order(page: Page, address: str) -> None:
    """Order the waistcoat for an invented class."""
    page.goto(f"{address}/order?pattern=waistcoat")
    for row, (name, size, count) in enumerate(CLASS, 1):
        page.get_by_label(f"Name, row {row}").fill(name)
        page.get_by_label(f"Size, row {row}").select_option(size)
        page.get_by_label(f"Count, row {row}").fill(count)
    page.get_by_label("Width", exact=True).fill("60in")
    page.get_by_label("Price").fill("12/yd")
    page.get_by_role("button", name="Lay them together").click(timeout=90_000)
    expect(page.locator(".view .drawn")).to_be_visible(timeout=90_000)


def main() -> None:
    """Visit every screen."""
    warm_up()
    address = serve()
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=shutil.which("chromium"), args=["--no-sandbox"]
        )
        for name, width, scheme, query in SCREENS:
            context = browser.new_context(
                viewport={"width": width, "height": 800},
                color_scheme="dark" if scheme == "dark" else "light",
            )
            page = context.new_page()
            page.goto(address + query, timeout=90_000)
            photograph(page, name)
            if name == "page-bolt":
                page.get_by_role("link", name="Show it step by step").click()
                page.goto(f"{page.url}?step=4")
                photograph(page, "page-teach")
            context.close()
        for name, width in (("page-order", 1280), ("page-order-phone", 360)):
            page = browser.new_page(viewport={"width": width, "height": 800})
            order(page, address)
            photograph(page, name)
            page.close()
        browser.close()


if __name__ == "__main__":
    main()
