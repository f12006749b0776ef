"""What came to the page later, with a real browser: languages, switches, zoom, orders, uploads."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.barriers import barriers
from tests.places import DATA, DEMO

PHONE, DESK = {"width": 360, "height": 740}, {"width": 1280, "height": 900}
pytestmark = pytest.mark.slow

WAIT_MS = 120_000
KNAPSACK = "/?pattern=knapsack&width=150cm&price=9/m"
APRON = DATA / "apron_by_inkscape.svg"


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    """Return a window of a desk."""
    opened = browser.new_page(viewport=DESK)  # type: ignore[arg-type]
    yield opened
    opened.close()


def laid(page: Page, address: str, query: str = KNAPSACK) -> None:
    """Go to a choice and wait until its search is over and its picture drawn."""
    page.goto(address + query)
    page.get_by_role("button", name="Stop here").click(timeout=WAIT_MS)
    expect(page.locator("#state")).to_contain_text("Searched for", timeout=WAIT_MS)
    expect(page.locator(".view .drawn")).to_be_visible(timeout=WAIT_MS)


def test_the_language_switch_keeps_what_was_typed(page: Page, address: str) -> None:
    """After a choice was laid by script, the switch leads to the same choice in French."""
    page.goto(f"{address}/?pattern=knapsack")
    page.get_by_label("Width", exact=True).fill("150cm")
    page.get_by_role("button", name="Lay it").click()
    expect(page.locator(".ask strong")).to_be_visible(timeout=WAIT_MS)
    page.get_by_role("link", name="Français").click()

    expect(page.locator("html")).to_have_attribute("lang", "fr")
    expect(page.get_by_label("Largeur", exact=True)).to_have_value("150cm")
    expect(page.locator(".ask")).to_contain_text("Demandez", timeout=WAIT_MS)


def test_a_switch_tells_the_difference_in_place(page: Page, address: str) -> None:
    """By mouse and by the space bar; the marker stays."""
    laid(page, address)
    page.get_by_role("button", name="What does nap cost me?").click()
    expect(page.locator("#what-if .what")).to_contain_text("With nap", timeout=WAIT_MS)
    page.get_by_role("button", name="narrower").focus()
    page.keyboard.press("Space")

    expect(page.locator("#what-if .what")).to_contain_text("narrower", timeout=WAIT_MS)
    expect(page.locator(".view .drawn")).to_be_visible()


def test_the_marker_is_enlarged_moved_and_read_by_keyboard(page: Page, address: str) -> None:
    """Plus and minus in the picture, arrows from piece to piece, each told in a line."""
    laid(page, address)
    view, drawn = page.locator(".view"), page.locator(".view .drawn")

    def width() -> float:
        box = drawn.bounding_box()
        assert box is not None
        return float(box["width"])

    before = width()
    view.focus()
    page.keyboard.press("+")
    assert width() > 1.3 * before
    page.keyboard.press("ArrowRight")
    page.keyboard.press("0")
    assert width() == pytest.approx(before, abs=1.0)
    page.keyboard.press("Tab")
    first = page.locator(".piece-line").inner_text()
    page.keyboard.press("ArrowRight")
    second = page.locator(".piece-line").inner_text()
    assert first
    assert second
    assert first != second
    assert "top" in second
    page.keyboard.press("Tab")
    assert page.locator(".piece:focus").count() == 0


def test_the_marker_is_enlarged_by_buttons_and_wheel(page: Page, address: str) -> None:
    """And dragged by the mouse once it is larger than its frame."""
    laid(page, address)
    view = page.locator(".view")
    for _ in range(3):
        page.get_by_role("button", name="Larger").click()
    view.hover()
    page.keyboard.down("Control")
    page.mouse.wheel(0, -200)
    page.keyboard.up("Control")
    expect(view).to_have_attribute("data-times", re.compile(r"3\.84"))
    before = view.evaluate("(one) => one.scrollLeft")
    page.mouse.down()
    page.mouse.move(400, 500)
    page.mouse.move(700, 500)
    page.mouse.up()

    assert view.evaluate("(one) => one.scrollLeft") != before
    page.get_by_role("button", name="All of it").click()
    expect(view).to_have_attribute("data-times", "1")


def test_a_class_is_ordered_by_keyboard_alone(page: Page, address: str) -> None:
    """From the width to the last count with the tab key, then Enter."""
    page.goto(f"{address}/order?pattern=knapsack")
    page.get_by_label("Width", exact=True).focus()
    page.keyboard.type("150cm")
    typed = 0
    for _ in range(40):
        page.keyboard.press("Tab")
        label = page.evaluate("document.activeElement.getAttribute('aria-label') || ''")
        if label in ("Name, row 1", "Name, row 2"):
            page.keyboard.type("Ada" if label.endswith("1") else "Ben")
        if label in ("Count, row 1", "Count, row 2"):
            page.keyboard.type("1")
            typed += 1
        if typed == 2:
            break
    page.keyboard.press("Enter")

    expect(page.locator(".ask strong")).to_be_visible(timeout=WAIT_MS)
    expect(page.get_by_role("rowheader", name="Ben")).to_be_visible()
    expect(page.locator(".view .drawn")).to_be_visible(timeout=WAIT_MS)
    assert barriers(page) == []


def test_a_drawing_is_handed_in_put_right_and_laid(page: Page, address: str) -> None:
    """The browser's own form passes the guard; what is put right stays in the sheet."""
    page.goto(address)
    page.get_by_label("A pattern of your own").set_input_files(APRON)
    page.get_by_role("button", name="Use it").click(timeout=WAIT_MS)
    expect(page.get_by_role("heading", level=1)).to_contain_text("The pieces of")
    page.locator("summary").first.click()
    page.get_by_label("One-way").first.check()
    page.get_by_role("button", name="Put right").first.click()

    expect(page.locator("#piece-0 > p")).to_contain_text("one-way")
    with page.expect_download() as download:
        page.get_by_role("link", name="Download the pattern sheet").click()
    assert "one_way = true" in Path(download.value.path()).read_text(encoding="utf-8")
    page.get_by_role("link", name="Lay this pattern").click()
    page.get_by_label("Width", exact=True).fill("150cm")
    page.get_by_role("button", name="Lay it").click()
    expect(page.locator(".ask strong")).to_be_visible(timeout=WAIT_MS)


def test_a_photograph_is_handed_in_by_a_phone_and_named(browser: Browser, address: str) -> None:
    """Found by its link, shown with what was found, put right; nothing runs off the side."""
    page = browser.new_page(viewport=PHONE)  # type: ignore[arg-type]
    page.goto(address)
    page.get_by_role("link", name="Photograph paper pieces").click()
    assert barriers(page) == []
    page.get_by_label("Photographs (.jpg, .png)").set_input_files(DEMO / "paper_pieces.jpg")
    page.get_by_role("button", name="Find the pieces").click(timeout=WAIT_MS)

    picture = page.locator("img.photo")
    expect(picture).to_be_visible(timeout=WAIT_MS)
    assert picture.evaluate("(one) => one.decode().then(() => one.naturalWidth)") > 1000
    expect(page.locator(".what")).to_contain_text("The edges are right within")
    page.locator("summary").first.click()
    page.get_by_label("Name").first.fill("Front")
    page.get_by_role("button", name="Put right").first.click()
    expect(page.locator("#piece-0 h2")).to_have_text("Front")
    expect(picture).to_be_visible()
    assert barriers(page) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    page.close()


def test_a_pattern_that_is_gone_is_told_of(page: Page, address: str) -> None:
    """In a sentence, with the list to choose from."""
    page.goto(f"{address}/?pattern=own-notkept&width=45in")

    expect(page.get_by_role("alert")).to_contain_text("not kept any more")


@pytest.mark.parametrize("viewport", [PHONE, DESK], ids=["phone", "desk"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_is_content_with_a_drawn_marker(
    browser: Browser, address: str, viewport: dict[str, int], scheme: str
) -> None:
    """With the picture in the page, a change told, and nothing off the side."""
    context = browser.new_context(viewport=viewport, color_scheme=scheme)  # type: ignore[arg-type]
    page = context.new_page()
    laid(page, address)
    page.get_by_role("button", name="What does nap cost me?").click()
    expect(page.locator("#what-if .what")).to_be_visible(timeout=WAIT_MS)

    assert barriers(page) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= viewport["width"]
    context.close()
