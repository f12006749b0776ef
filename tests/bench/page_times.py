"""How long a visitor waits: ``python tests/bench/page_times.py``, where Chromium is installed.

For each demo pattern (invented): from the click to the first marker on the screen, and to the last
one. Then fifty visitors at once while two markers are laid: half of them wait no longer than the
median, all no longer than the longest.
"""

import shutil
import statistics
import sys
import threading
import time
from pathlib import Path
from urllib.request import urlopen

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

import httpx2
from playwright.sync_api import Page, expect, sync_playwright

from docs.make_screens import serve
from nesting.engine import warm_up

CHOICES = (
    ("waistcoat", "M", "45in"),
    ("smock_shirt", "M", "60in"),
    ("cloak", "M", "60in"),
    ("knapsack", "M", "45in"),
)
VISITORS = 50
WAIT_MS = 120_000


def seconds_of(page: Page, address: str, pattern: str, size: str, width: str) -> tuple[float, ...]:
    """Return seconds from the click to the first marker, and to the end of the search."""
    page.goto(f"{address}/?pattern={pattern}")
    if size:
        page.get_by_label("Size", exact=True).select_option(size)
    page.get_by_label("Width", exact=True).fill(width)
    began = time.perf_counter()
    page.get_by_role("button", name="Lay it").click()
    expect(page.locator(".ask strong")).to_be_visible(timeout=WAIT_MS)
    first = time.perf_counter() - began
    expect(page.locator("#state")).to_contain_text("Searched for", timeout=WAIT_MS)
    return first, time.perf_counter() - began


def waits(address: str) -> list[float]:
    """Return how long each of fifty visitors waits for the page while two markers are laid."""
    found: list[float] = []

    def visit() -> None:
        began = time.perf_counter()
        with urlopen(f"{address}/?pattern=cloak", timeout=90) as answer:
            answer.read()
        found.append(time.perf_counter() - began)

    query = "pattern=cloak&view=A&size=M&cloth=shell&width=45in&long=1"
    with (
        httpx2.stream("GET", f"{address}/live?{query}", timeout=90),
        httpx2.stream("GET", f"{address}/live?{query}&nap=yes", timeout=90),
    ):
        time.sleep(1.0)  # both are laying by now
        visitors = [threading.Thread(target=visit) for _ in range(VISITORS)]
        for visitor in visitors:
            visitor.start()
        for visitor in visitors:
            visitor.join()
    return found


def main() -> None:
    """Print both tables."""
    warm_up()
    address = serve()
    print("| Pattern | First marker | End of the search |\n|---|---|---|")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=shutil.which("chromium"), args=["--no-sandbox"]
        )
        for pattern, size, width in CHOICES:
            page = browser.new_page()
            first, last = seconds_of(page, address, pattern, size, width)
            print(f"| {pattern}, {width} | {first:.1f} s | {last:.1f} s |", flush=True)
            page.close()
        browser.close()
    found = waits(address)
    print(f"\n{VISITORS} visitors at once, two markers being laid: ", end="")
    print(f"median {statistics.median(found):.2f} s, longest {max(found):.2f} s")


if __name__ == "__main__":
    main()
