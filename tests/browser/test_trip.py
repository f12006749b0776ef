"""More visits with a real browser: by keyboard, without JavaScript, on a phone, and by axe."""

import pytest
from playwright.sync_api import Browser, Page, Route, expect

from tests.browser.barriers import barriers

pytestmark = pytest.mark.slow

PHONE, DESK = {"width": 360, "height": 740}, {"width": 1920, "height": 1080}
FIRST_ANSWER_MS = 120_000
QUERIES = [
    "/?pattern=waistcoat&view=A&size=M&cloth=shell&width=45in",
    "/compare?pattern=waistcoat&width=45in&with=60in",
    "/fits?pattern=waistcoat&view=A&size=M&cloth=shell&have=1+1%2F2+yd+x+45in",
    "/list?pattern=waistcoat&view=A&size=M&width-0=45in&width-1=60in&width-2=36in&price-0=9/yd",
    "/pieces?pattern=waistcoat&size=M",
    "/order?pattern=waistcoat",
    "/what-if?pattern=knapsack&width=150cm&price=9/m&change=nap&lang=fr",
]
WAISTCOAT = QUERIES[0]


def laid(page: Page, address: str, query: str = WAISTCOAT) -> None:
    """Go to a choice and wait for its first marker."""
    page.goto(address + query)
    expect(page.locator(".ask strong")).to_be_visible(timeout=FIRST_ANSWER_MS)


def test_a_link_restores_the_whole_choice_in_metric(browser: Browser, address: str) -> None:
    """A width in centimetres is answered in centimetres, and fields are filled in again."""
    page = browser.new_page()
    laid(page, address, "/?pattern=knapsack&width=150cm&nap=yes&spread=lengthwise")

    expect(page.locator(".ask strong")).to_contain_text("m")
    expect(page.get_by_label("Width", exact=True)).to_have_value("150cm")
    expect(page.get_by_label("With nap, or one-way print")).to_be_checked()
    page.close()


def test_searching_can_be_stopped_and_gone_on_with(browser: Browser, address: str) -> None:
    """Stop ends the stream and keeps the marker; keep searching begins again."""
    page = browser.new_page()
    laid(page, address)
    page.get_by_role("button", name="Keep searching").click()
    page.get_by_role("button", name="Stop here").click()

    expect(page.locator("#state")).to_contain_text("Searched for", timeout=FIRST_ANSWER_MS)
    expect(page.locator(".ask strong")).to_be_visible()
    page.close()


def test_by_keyboard_alone(browser: Browser, address: str) -> None:
    """Tab from the top reaches the width; Enter lays."""
    page = browser.new_page()
    page.goto(f"{address}/?pattern=waistcoat")
    for _ in range(30):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.id") == "width":
            break
    page.keyboard.type("60in")
    page.keyboard.press("Enter")

    expect(page.locator(".ask strong")).to_be_visible(timeout=FIRST_ANSWER_MS)
    page.close()


def test_without_javascript(browser: Browser, address: str) -> None:
    """The same form brings the marker with the page, and its files."""
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{address}/?pattern=waistcoat")
    page.get_by_label("Width", exact=True).fill("45in")
    page.get_by_role("button", name="Lay it").click(timeout=FIRST_ANSWER_MS)

    expect(page.locator(".ask strong")).to_be_visible(timeout=FIRST_ANSWER_MS)
    context.close()


def test_two_visitors_at_once(browser: Browser, address: str) -> None:
    """Each sees the marker of their own pattern."""
    one, other = browser.new_page(), browser.new_page()
    one.goto(address + WAISTCOAT)
    other.goto(f"{address}/?pattern=cloak&width=60in")

    for page in (one, other):
        expect(page.locator(".ask strong")).to_be_visible(timeout=FIRST_ANSWER_MS)
        expect(page.locator(".view .drawn")).to_be_visible(timeout=FIRST_ANSWER_MS)
    assert one.locator(".drawn").get_attribute("viewBox") != other.locator(".drawn").get_attribute(
        "viewBox"
    )
    one.close()
    other.close()


def test_a_wrong_width_is_told_in_a_sentence(browser: Browser, address: str) -> None:
    """The state line says what is wrong, and nothing else happens."""
    page = browser.new_page()
    page.goto(f"{address}/?pattern=waistcoat")
    page.get_by_label("Width", exact=True).fill("45")
    page.get_by_role("button", name="Lay it").click()

    expect(page.locator("#state")).to_contain_text("no unit")
    page.close()


@pytest.mark.parametrize("viewport", [PHONE, DESK], ids=["phone", "desk"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("query", QUERIES)
def test_axe_finds_nothing_serious_and_nothing_runs_off_the_side(
    browser: Browser, address: str, viewport: dict[str, int], scheme: str, query: str
) -> None:
    """On a phone and on a desk, in dark and in light, with a marker or a comparison shown."""
    context = browser.new_context(viewport=viewport, color_scheme=scheme)  # type: ignore[arg-type]
    page = context.new_page()
    page.goto(address + query, timeout=FIRST_ANSWER_MS)
    expect(
        page.locator(".ask strong, meter, .box, .step, .cards, .rows, .what").first
    ).to_be_visible(timeout=FIRST_ANSWER_MS)

    assert barriers(page) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= viewport["width"]
    context.close()


def test_a_marker_is_shown_step_by_step(browser: Browser, address: str) -> None:
    """From the marker to its first piece, on to the second, and axe is content with it."""
    page = browser.new_page(viewport=DESK)
    laid(page, address)
    page.get_by_role("link", name="Show it step by step").click()
    page.get_by_role("link", name="Next piece").click()

    expect(page.get_by_role("heading")).to_contain_text("2 of 8")
    assert barriers(page) == []
    page.close()


def test_the_search_is_not_called_over_before_its_last_marker_is_shown(
    browser: Browser, address: str
) -> None:
    """With pictures that come late, the figure shown when the search ends is the last one."""
    page = browser.new_page()

    def late(route: Route) -> None:
        page.wait_for_timeout(800)
        route.continue_()

    page.route("**/marker.svg*", late)
    laid(page, address)
    expect(page.locator("#state")).to_contain_text("Searched for", timeout=FIRST_ANSWER_MS)
    figure = page.locator(".ask strong").inner_text()
    page.wait_for_timeout(2_000)

    assert page.locator(".ask strong").inner_text() == figure
    page.close()
