"""A page in-process that offers one small pattern."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from nesting.web import make_app
from tests.nesting.cli.sheets import GOOD


@pytest.fixture(scope="module")
def client(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    """Return a visitor of a page that offers one small pattern, and one that cannot be read."""
    folder: Path = tmp_path_factory.mktemp("sheets")
    (folder / "tote.toml").write_text(GOOD, encoding="utf-8")
    (folder / "broken.toml").write_text("pieces, please", encoding="utf-8")
    with TestClient(make_app(folder), base_url="http://localhost") as client:
        yield client
