"""The page in-process: what it offers, what it answers, what it refuses."""

import json
import re
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from nesting.web.files import FILES
from nesting.web.guard import LARGEST_BODY
from nesting.web.jobs import AT_ONCE, MOST_WAITING
from nesting.web.problems import BusyError
from tests.nesting.cli.sheets import GOOD

TOTE = "pattern=tote&width=1m"


def job_of(html: str) -> str:
    """Return the job whose marker a page shows."""
    found = re.search(r'data-job="([^"]+)"', html)
    assert found is not None
    return found[1]


def test_the_front_page_offers_the_patterns_that_can_be_read(client: TestClient) -> None:
    """The broken sheet is left out; names are shown as words and not as mark-up."""
    page = client.get("/")

    assert page.status_code == 200
    assert "Tote of the [bold]prompter" in page.text
    assert "broken" not in page.text


def test_without_javascript_the_marker_comes_with_the_page(client: TestClient) -> None:
    """Two bodies of 40 x 50 cm and two straps of 10 x 60 on 1 m: they lie in 60 cm."""
    page = client.get(f"/?{TOTE}&plain=1")

    assert page.status_code == 200
    assert "Ask for <strong>60 cm</strong>" in page.text
    assert page.text.count('<th scope="row">') == 4


def test_every_file_of_a_marker_can_be_taken_along(client: TestClient) -> None:
    """Each has its kind, its name, and begins as its kind begins."""
    job = job_of(client.get(f"/?{TOTE}&plain=1").text)
    begins = {".svg": b"<", ".png": b"\x89PNG", ".pdf": b"%PDF", ".csv": b"piece", ".json": b"{"}
    begins[".dxf"] = b"  0"

    for name, kind in FILES.items():
        file = client.get(f"/jobs/{job}/{name}")
        assert file.status_code == 200
        assert file.headers["content-type"] == kind.kind
        assert file.content.startswith(begins[Path(name).suffix])


def events(client: TestClient, query: str) -> list[dict[str, object]]:
    """Return what a stream tells until it ends."""
    with client.stream("GET", f"/live?{query}") as stream:
        return [json.loads(line[6:]) for line in stream.iter_lines() if line.startswith("data: ")]


def test_the_stream_tells_better_markers_and_its_end(client: TestClient) -> None:
    """The first answer comes before the end; shares only rise."""
    told = events(client, TOTE)

    assert told[-1]["state"] == "done"
    assert any("Ask for <strong>" in str(event.get("answer")) for event in told)
    shares = [event["share"] for event in told]
    assert shares == sorted(shares)  # type: ignore[type-var]


@pytest.mark.parametrize(
    ("query", "words"),
    [
        ("pattern=tote&width=1", "no unit"),
        ("pattern=tote&width=1m&garments=0", "not a number from 1 to 30"),
        ("pattern=tote&width=1m&spread=rolled", "not a way to spread"),
        ("pattern=tote&width=1m&selvage=60cm", "selvages"),
        ("pattern=tote&width=20cm", "needs"),
        ("pattern=../../etc/passwd&width=1m", "that pattern is not here"),
        ("pattern=broken&width=1m", "TOML"),
        ("pattern=tote&width=1m&size=XXL", "XXL"),
        (f"pattern=tote&width={'9' * 90}m", "too many"),
    ],
)
def test_what_cannot_be_laid_is_told_in_a_sentence(
    client: TestClient, query: str, words: str
) -> None:
    """On the page with its own status, and in the stream as an event of its own."""
    page = client.get(f"/?{query}&plain=1")

    assert page.status_code == 400
    assert words in page.text.replace("&#34;", '"').replace("&#39;", "'")
    assert "Traceback" not in page.text
    assert words in str(events(client, query)[-1]["sentence"])


def test_a_sheet_of_ones_own_is_taken_in(client: TestClient) -> None:
    """It is offered under its name, to be laid like any other."""
    sheet = GOOD.replace("Tote of the [bold]prompter", "Bag <of> mine")

    page = client.post(
        "/patterns",
        files={"sheet": ("../../bag.toml", sheet)},
        headers={"origin": "http://localhost"},
    )

    assert page.status_code == 200
    assert "Bag &lt;of&gt; mine" in page.text
    own = re.search(r"own-[\w-]+", str(page.url))
    assert own is not None
    assert client.get(f"/?pattern={own[0]}&width=1m&plain=1").status_code == 200


@pytest.mark.parametrize("data", [b"", b"\xff\xfe", b"pieces, please"])
def test_a_sheet_that_cannot_be_used_is_refused(client: TestClient, data: bytes) -> None:
    """With a sentence beside the field."""
    page = client.post(
        "/patterns",
        files={"sheet": ("x.toml", data)},
        headers={"origin": "http://localhost"},
    )

    assert page.status_code == 400
    assert 'id="sheet-wrong"' in page.text


def test_bolts_are_compared_side_by_side(client: TestClient) -> None:
    """Two widths with nap and without are four rows, and the advice names the narrower need."""
    page = client.get(f"/compare?{TOTE}&with=150cm&price=10/m")

    assert page.status_code == 200
    assert page.text.count('<th scope="row">') == 4
    assert "60 cm" in page.text


def test_every_answer_carries_the_headers_of_safety(client: TestClient) -> None:
    """No inline script, no frame, no guessing of kinds; also where the answer is no."""
    for path in ("/", "/static/page.js", "/nowhere"):
        headers = client.get(path).headers
        assert "script-src 'self'" in headers["content-security-policy"]
        assert "unsafe-inline" not in headers["content-security-policy"]
        assert headers["x-content-type-options"] == "nosniff"


def test_pages_have_no_inline_script_or_style(client: TestClient) -> None:
    """What the policy forbids is not there either."""
    for path in ("/", f"/?{TOTE}&plain=1", f"/compare?{TOTE}"):
        page = client.get(path).text
        assert "<script>" not in page
        assert not re.search(r'\son\w+=|style="', page)


@pytest.mark.parametrize(
    ("method", "path", "headers", "status"),
    [
        ("GET", "/", {"host": "evil.example"}, 421),
        ("GET", "/", {"host": "127.0.0.1.evil.example"}, 421),
        ("POST", "/patterns", {}, 403),
        ("POST", "/patterns", {"origin": "http://evil.example"}, 403),
        ("POST", "/patterns", {"origin": "null"}, 403),
        ("POST", "/jobs/x/stop", {"origin": "http://localhost:9999"}, 403),
        ("GET", "/jobs/nobody/marker.svg", {}, 404),
        ("GET", "/jobs/%2e%2e/%2e%2e%2fpasswd", {}, 404),
        ("GET", "/static/%2e%2e/app.py", {}, 404),
        ("GET", "/?" + "x" * 5000, {}, 414),
        ("DELETE", "/", {"origin": "http://localhost"}, 405),
    ],
)
def test_hostile_requests_are_refused(
    client: TestClient, method: str, path: str, headers: dict[str, str], status: int
) -> None:
    """Other hosts, other origins, paths that climb, addresses without end."""
    assert client.request(method, path, headers=headers).status_code == status


def test_too_large_a_file_is_refused(client: TestClient) -> None:
    """By the length it tells, before it is read."""
    page = client.post(
        "/patterns",
        content=b"x" * (LARGEST_BODY + 1),
        headers={"origin": "http://localhost"},
    )

    assert page.status_code == 413


def test_jobs_are_bounded(client: TestClient) -> None:
    """With all places taken the next one is told to wait, and places come free again."""
    desk = client.app.state.desk  # type: ignore[attr-defined]
    job = desk.find(job_of(client.get(f"/?{TOTE}&plain=1").text))
    long = ("thorough",) * 50
    held = [desk.take_in(job.request, long) for _ in range(AT_ONCE + MOST_WAITING)]
    try:
        assert client.get(f"/?{TOTE}&plain=1").status_code == 503
    finally:
        for one in held:
            one.stop.set()
        for one in held:
            assert one.ended.wait(30)
    assert client.get(f"/?{TOTE}&plain=1").status_code == 200


def test_stopping_a_job_keeps_its_marker(client: TestClient) -> None:
    """The answer to stop is empty; the marker found so far stays."""
    job = job_of(client.get(f"/?{TOTE}&plain=1").text)

    stopped = client.post(f"/jobs/{job}/stop", headers={"origin": "http://localhost"})

    assert stopped.status_code == 204
    assert client.get(f"/jobs/{job}/marker.svg").status_code == 200


def test_whether_it_fits_is_told_with_what_is_left_or_missing(client: TestClient) -> None:
    """The tote takes 60 cm of 1 m: of 65 cm 5 are left, of 55 cm 5 are missing."""
    yes = client.get("/fits?pattern=tote&have=65cm+x+1m").text
    no = client.get("/fits?pattern=tote&have=55cm+x+1m").text

    assert "Yes, it fits. 5 cm (1.97 in) is left." in yes
    assert "No, it does not fit: 5 cm (1.97 in) is missing." in no
    assert "What would help, each tried" in no


@pytest.mark.parametrize("have", ["65cm", "1m x 20cm x 3", "-1m x 1m"])
def test_cloth_that_cannot_be_read_is_told(client: TestClient, have: str) -> None:
    """A sentence, not a marker."""
    page = client.get("/fits", params={"pattern": "tote", "have": have})

    assert page.status_code == 400
    assert 'role="alert"' in page.text


def test_the_list_has_every_cloth_and_its_price(client: TestClient) -> None:
    """60 cm at 10 the metre are 6.00."""
    page = client.get("/list?pattern=tote&view=A&size=one&width-0=1m&price-0=10/m").text

    assert "60 cm" in page
    assert "6.00" in page


def test_a_marker_is_taught_piece_by_piece(client: TestClient) -> None:
    """Four pieces are four steps; each picture has one piece more, and a link leads back."""
    job = job_of(client.get(f"/?{TOTE}&plain=1").text)

    pages = [client.get(f"/teach/{job}?{TOTE}&step={step}").text for step in (1, 2, 4, 99)]
    assert 'href="/?pattern=tote&amp;' in pages[0]
    assert client.get(f"/teach/{job}?pattern={'x' * 99}").status_code == 200
    assert "1 of 4:" in pages[0]
    assert "Next piece" in pages[0]
    assert "4 of 4:" in pages[2]
    assert "4 of 4:" in pages[3]
    assert "The grainline lies along the cloth" in pages[1]
    pictures = [client.get(f"/teach/{job}/{step}.svg").text for step in (1, 2, 3, 4)]
    assert [picture.count('<g class="piece">') for picture in pictures] == [1, 2, 3, 4]


@pytest.mark.slow
@pytest.mark.parametrize("change", ["nap", "narrower"])
def test_a_change_is_told_as_a_page_and_as_a_part_of_one(client: TestClient, change: str) -> None:
    """With a script in place, without one as a page of its own; both in the same words."""
    page = client.get(f"/what-if?{TOTE}&price=10/m&change={change}")
    part = client.get(f"/what-if?{TOTE}&price=10/m&change={change}&part=1")

    sentence = re.search(r'<p class="what">([^<]+)</p>', part.text)
    assert sentence is not None
    assert sentence[1] in page.text
    assert "<html" not in part.text
    assert "<html" in page.text


@pytest.mark.slow
def test_a_comparison_tells_what_changes_come_to(client: TestClient) -> None:
    """One sentence for each bolt and change that was ticked."""
    page = client.get(f"/compare?{TOTE}&price=10/m&change=nap&change=narrower").text

    assert page.count("If the bolt is 2.5 cm narrower") == 1
    assert page.count("With nap, on a bolt") == 1


def test_the_list_can_be_taken_along(client: TestClient) -> None:
    """As a page to print, and for a spreadsheet."""
    page = client.get("/list?pattern=tote&view=A&size=one&width-0=1m&price-0=10/m").text
    found = re.search(r"/jobs/([\w-]+)/list\.csv", page)
    assert found is not None

    assert client.get(f"/jobs/{found[1]}/list.csv").text.count("\n") > 1
    assert client.get(f"/jobs/{found[1]}/list.pdf").content.startswith(b"%PDF")
    assert client.get(f"/jobs/{found[1]}/marker.svg").status_code == 404


def test_a_thousand_jobs_asked_at_once_are_bounded(client: TestClient) -> None:
    """A few are taken in, all others are told to come back; the page still answers."""
    desk = client.app.state.desk  # type: ignore[attr-defined]
    job = desk.find(job_of(client.get(f"/?{TOTE}&plain=1").text))
    taken, refused = [], 0
    for _ in range(1000):
        try:
            taken.append(desk.take_in(job.request, ("thorough",) * 50))
        except BusyError:
            refused += 1
    try:
        assert len(taken) == AT_ONCE + MOST_WAITING
        assert refused == 1000 - len(taken)
        for path in (f"/compare?{TOTE}", f"/what-if?{TOTE}&change=nap"):
            answer = client.get(path)
            assert answer.status_code == 503
            assert "try again in a minute" in answer.text
        assert client.get("/").status_code == 200
    finally:
        for one in taken:
            one.stop.set()
        for one in taken:
            assert one.ended.wait(60)
