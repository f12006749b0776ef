"""Photographs of paper pieces handed in on the page: read, shown, put right, refused, not kept."""

import io
import re
import struct
import zlib

import pytest
from PIL import Image
from starlette.testclient import TestClient

from nesting.web.guard import LARGEST_PHOTOS
from pieces.sheet.pattern_file import parse_pattern
from tests.pieces.photo.rendering import jpeg, render
from tests.pieces.photo.shots import small_shot

ORIGIN = {"origin": "http://localhost"}
ASKED = {"beside": "marks", "grain": "drawn", "name": "Knapsack pocket"}


@pytest.fixture(scope="module")
def photo() -> bytes:
    """Return a photograph of a pocket between two pages of marks."""
    return jpeg(render(small_shot()))


def hand_in(client: TestClient, *photos: tuple[str, bytes], **asked: str) -> tuple[int, str, str]:
    """Return status, address and text of the page after photographs were handed in."""
    files = [("photos", one) for one in photos]
    page = client.post("/paper", files=files, data={**ASKED, **asked}, headers=ORIGIN)
    return page.status_code, str(page.url), page.text


def test_a_photograph_becomes_pieces_that_can_be_put_right_and_laid(
    client: TestClient, photo: bytes
) -> None:
    """Shown with its accuracy and a picture, in the language of the page; kept when put right."""
    files = [("photos", ("pocket.jpg", photo))]
    page = client.post("/paper?lang=fr", files=files, data=ASKED, headers=ORIGIN)
    key = re.search(r"own-[\w-]+", str(page.url))

    assert key is not None
    assert "Les bords sont justes" in page.text
    assert "Knapsack pocket" in page.text
    drawn = client.get(f"/pieces/found.jpg?pattern={key[0]}")
    assert drawn.headers["content-type"] == "image/jpeg"
    with Image.open(io.BytesIO(drawn.content)) as picture:
        assert max(picture.size) >= 1000
        assert not picture.getexif()

    typed = {"pattern": key[0], "title": "Patch pocket", "angle": "90", "count-0": "2"}
    after = client.post("/pieces/0", data=typed, headers=ORIGIN)
    pattern = parse_pattern(client.get(f"/sheet.toml?pattern={key[0]}").text)
    assert "The edges are right within" in after.text
    assert pattern.pieces[0].title == "Patch pocket"
    assert pattern.pieces[0].cuts[0].count == 2
    assert client.get(f"/?pattern={key[0]}&width=100cm&plain=1").status_code == 200
    other = TestClient(client.app, base_url="http://localhost")
    assert other.get(f"/pieces/found.jpg?pattern={key[0]}").status_code == 404


def png(width: int, height: int, rows: bytes = b"") -> bytes:
    """Return a PNG that claims a size, with whatever rows."""

    def chunk(name: bytes, data: bytes) -> bytes:
        body = name + data
        return struct.pack(">I", len(data)) + body + struct.pack(">I", zlib.crc32(body))

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        (chunk(b"IHDR", head), chunk(b"IDAT", zlib.compress(rows)), chunk(b"IEND", b""))
    )


@pytest.mark.slow
@pytest.mark.parametrize(
    ("name", "data", "words"),
    [
        ("huge.png", png(100_000, 100_000), "51 million pixels"),
        ("bomb.png", png(8_000, 6_300, b"\0" * 20_000_000), "damaged"),
        ("cut.jpg", b"\xff\xd8\xff\xe0" + b"x" * 100, "no JPEG or PNG"),
        ("photo.heic", b"x", "must end in .jpg, .jpeg, .png"),
    ],
)
def test_hostile_photographs_are_refused_with_one_sentence(
    client: TestClient, name: str, data: bytes, words: str
) -> None:
    """Beside the field; tests/pieces/photo/test_reading.py has the other reasons."""
    status, _, text = hand_in(client, (name, data))

    assert status == 400
    told = re.search(r'id="photos-wrong"[^>]*>([^<]*)<', text)
    assert told is not None
    assert words in told[1]


def test_a_photograph_without_marks_says_what_to_lay_beside(client: TestClient) -> None:
    """What was chosen stays in the form."""
    plain = io.BytesIO()
    Image.new("RGB", (800, 800), "#405040").save(plain, "PNG")

    status, _, text = hand_in(client, ("floor.png", plain.getvalue()), grain="90")

    assert status == 400
    assert "no printed marks were found" in text
    assert '<option value="90" selected>' in text


@pytest.mark.parametrize(
    ("asked", "count", "words"),
    [
        ({"beside": "newspaper"}, 1, "is not to be chosen"),
        ({"grain": "nan"}, 1, "is not to be chosen"),
        ({}, 0, "Hand in 1 to 6 photographs, not 0"),
    ],
)
def test_a_form_that_is_not_ours_is_refused(
    client: TestClient, asked: dict[str, str], count: int, words: str
) -> None:
    """Before any process is started."""
    status, _, text = hand_in(client, *[("a.jpg", b"x")] * count, **asked)

    assert status == 400
    assert words in text


def test_photographs_may_be_larger_than_drawings_and_not_without_end(client: TestClient) -> None:
    """By what the request says of itself."""
    sent = {**ORIGIN, "content-type": "multipart/form-data; boundary=x"}
    most = {**sent, "content-length": str(LARGEST_PHOTOS + 1)}

    assert client.post("/paper", content=b"", headers=most).status_code == 413
    assert client.post("/patterns", content=b"x" * 9_000_000, headers=sent).status_code == 413


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_marks_are_printed(client: TestClient, paper: str) -> None:
    """Six pages, a PDF, in the language of the page."""
    page = client.get(f"/paper/marks-{paper}.pdf?lang=es")

    assert page.headers["content-type"] == "application/pdf"
    assert page.content.startswith(b"%PDF")
    assert client.get("/paper/marks-a0.pdf").status_code == 404


def test_without_opencv_the_page_says_how_to_get_it(
    client: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    """And offers no form that would fail."""
    monkeypatch.setattr("nesting.web.paper.has_opencv", lambda: False)
    text = client.get("/paper").text

    assert "pip install &#34;cloth-nesting[photo]&#34;" in text
    assert 'type="file"' not in text
