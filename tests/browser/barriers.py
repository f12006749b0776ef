"""What shuts people out of a page, as axe finds it."""

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page


def barriers(page: Page) -> list[str]:
    """Return what axe finds that is more than minor."""
    found = Axe().run(page).response["violations"]
    return [f"{one['id']}: {one['help']}" for one in found if one["impact"] != "minor"]
