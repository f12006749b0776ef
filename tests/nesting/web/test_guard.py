"""Who may make the page work: nobody on another site, and nobody without end."""

from collections.abc import Iterator

import pytest
from starlette.testclient import TestClient

from nesting.web.guard import FORMS, LARGEST_BODY

ORIGIN = {"origin": "http://localhost"}
TOTE = "pattern=tote&width=45in"
WORK = (
    f"/?{TOTE}&plain=1",
    f"/live?{TOTE}",
    f"/what-if?{TOTE}&change=narrower",
    f"/compare?{TOTE}",
    f"/fits?{TOTE}&have=1m",
    f"/list?{TOTE}",
    "/teach/nobody",
    "/jobs/nobody/marker.svg",
    "/paper/marks-a4.pdf",
    "/pieces/0.svg?pattern=tote",
    "/sheet.toml?pattern=tote",
)


@pytest.mark.parametrize("path", WORK)
@pytest.mark.parametrize(
    "headers",
    [
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
        {"origin": "http://evil.example"},
        {"referer": "http://evil.example/page"},
        {"referer": "http://["},
    ],
    ids=["cross-site", "same-site", "origin", "referer", "broken referer"],
)
def test_no_other_site_starts_work(client: TestClient, path: str, headers: dict[str, str]) -> None:
    """A picture, a frame or a link elsewhere asks in vain, and nothing is taken in."""
    desk = client.app.state.desk  # type: ignore[attr-defined]
    before = len(desk._tasks)

    answer = client.get(path, headers=headers)

    assert answer.status_code == 403
    assert len(desk._tasks) == before


@pytest.mark.parametrize("path", sorted(FORMS))
def test_other_sites_may_link_to_a_page_on_which_nothing_is_asked(
    client: TestClient, path: str
) -> None:
    """Its form is shown, as it is to those who type the address."""
    desk = client.app.state.desk  # type: ignore[attr-defined]
    before = len(desk._tasks)

    assert client.get(path, headers={"sec-fetch-site": "cross-site"}).status_code == 200
    assert len(desk._tasks) == before


@pytest.mark.parametrize("site", ["same-origin", "none"])
def test_the_page_itself_and_its_visitors_are_served(client: TestClient, site: str) -> None:
    """With all that a browser sends along."""
    headers = {"sec-fetch-site": site, "referer": "http://localhost/", **ORIGIN}

    assert client.get(f"/?{TOTE}&plain=1", headers=headers).status_code == 200


@pytest.mark.parametrize(
    ("headers", "status"),
    [
        ({"host": "["}, 421),
        ({"host": "[::1"}, 421),
        ({"host": "localhost:["}, 421),
        ({"host": ""}, 421),
        ({"origin": "http://["}, 403),
        ({"origin": "https://localhost"}, 403),
        ({"origin": "localhost"}, 403),
        ({"origin": "http://localhost", "content-length": "9" * 5000}, 413),
        ({"origin": "http://localhost", "content-length": "-1"}, 413),
    ],
)
def test_odd_heads_are_answered_in_a_sentence(
    client: TestClient, headers: dict[str, str], status: int
) -> None:
    """No fault of ours, whatever they hold; and another scheme is another origin."""
    answer = client.post("/patterns", content=b"", headers=headers)

    assert answer.status_code == status
    assert answer.text.count("\n") == 0


def test_a_body_that_does_not_say_how_long_it_is_is_cut_off(client: TestClient) -> None:
    """In pieces, beyond the limit: told that it is too large."""

    def pieces() -> Iterator[bytes]:
        yield b'--x\r\nContent-Disposition: form-data; name="sheet"; filename="a.toml"\r\n\r\n'
        for _ in range(LARGEST_BODY // 1_000_000 + 1):
            yield b"x" * 1_000_000

    kind = {"content-type": "multipart/form-data; boundary=x"}
    answer = client.post("/patterns", content=pieces(), headers={**ORIGIN, **kind})

    assert answer.status_code == 413
    assert "8 MB" in answer.text
