"""The one visit with a real browser that every run of the tests makes."""

from pathlib import Path

from playwright.sync_api import Browser, expect

FIRST_ANSWER_MS = 120_000


def test_from_the_pattern_to_a_file(browser: Browser, address: str, tmp_path: Path) -> None:
    """Pick the waistcoat, say how wide the bolt is, lay it, and take the PDF home."""
    page = browser.new_page(viewport={"width": 1920, "height": 1080})
    page.goto(address)
    page.get_by_label("Pattern", exact=True).select_option(label="Waistcoat of the village stage")
    page.wait_for_url("**/?pattern=waistcoat")
    page.get_by_label("Size", exact=True).select_option("M")
    page.get_by_role("button", name="45in").click()
    page.get_by_role("button", name="Lay it").click()

    expect(page.locator(".ask strong")).to_contain_text("yd", timeout=FIRST_ANSWER_MS)
    assert "width=45in" in page.url
    with page.expect_download() as download:
        page.get_by_role("link", name="picture to print, PDF").click()
    download.value.save_as(tmp_path / "marker.pdf")
    assert (tmp_path / "marker.pdf").read_bytes().startswith(b"%PDF")
    page.close()
