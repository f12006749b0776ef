"""Patterns handed in: read in a process of their own, shown, put right, taken away, forgotten."""

import re
import time
from dataclasses import replace
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from nesting.web import library
from nesting.web.isolated_reader import READERS
from nesting.web.library import OWN, HandedIn, Library, Origin
from nesting.web.problems import FieldError
from nesting.web.uploads import read_handed_in
from pieces.sheet.pattern_file import parse_pattern
from tests.nesting.cli.sheets import GOOD
from tests.places import DATA

ORIGIN = {"origin": "http://localhost"}
BOMB = (
    b'<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa">'
    b'<!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;">'
    b'<!ENTITY c "&b;&b;&b;&b;&b;&b;&b;&b;&b;&b;">]>'
    b'<svg xmlns="http://www.w3.org/2000/svg"><text>&c;</text></svg>'
)


def hand_in(client: TestClient, name: str, data: bytes | str) -> tuple[str, str]:
    """Return the key of a pattern that was handed in, and the page that shows it."""
    page = client.post("/patterns", files={"sheet": (name, data)}, headers=ORIGIN)
    found = re.search(r"own-[\w-]+", str(page.url))
    return ("" if found is None else found[0]), page.text


def test_a_drawing_becomes_pieces_that_can_be_laid(client: TestClient) -> None:
    """An SVG drawing is shown with what was assumed, drawn, and laid."""
    key, page = hand_in(client, "apron.svg", (DATA / "apron_by_inkscape.svg").read_bytes())

    assert key.startswith(OWN)
    assert page.count("<h2>") >= 2
    picture = client.get(f"/pieces/0.svg?pattern={key}")
    assert picture.headers["content-type"].startswith("image/svg+xml")
    assert "<path" in picture.text
    assert client.get(f"/?pattern={key}&width=150cm&plain=1").status_code == 200


def test_a_dxf_of_our_own_comes_back(client: TestClient) -> None:
    """The tote written as DXF is read again with its pieces."""
    from pieces.drawing.drawing_file import format_drawing
    from pieces.drawing.pattern_facts import drawing_of

    text = format_drawing(drawing_of(parse_pattern(GOOD)), ".dxf")
    key, page = hand_in(client, "tote.dxf", text)

    assert key
    assert len(re.findall(r'<li id="piece-', page)) == 2


def test_title_grain_flag_and_count_are_put_right(client: TestClient) -> None:
    """Its name, the arrow level, one-way, four of them: so it stands in the sheet taken away."""
    key, _ = hand_in(client, "tote.toml", GOOD)
    before = parse_pattern(GOOD)
    cloth = before.cloths[0].name

    after = client.post(
        "/pieces/0",
        data={
            "pattern": key,
            "title": "Body of the tote",
            "angle": "0",
            "one_way": "yes",
            "count-0": "4",
            **({"pair-0": "yes"} if before.pieces[0].cuts[0].pair else {}),
        },
        headers=ORIGIN,
    )
    sheet = client.get(f"/sheet.toml?pattern={key}")
    piece = parse_pattern(sheet.text).pieces[0]

    assert after.status_code == 200
    assert key in str(after.url)
    assert piece.shape(before.sizes[0]).grainline.angle_deg == pytest.approx(0.0, abs=1e-6)
    assert piece.one_way
    assert piece.title == "Body of the tote"
    cut = piece.cut_for(cloth)
    assert cut is not None
    assert cut.count == 4


def test_a_sheet_of_the_folder_is_copied_before_it_is_put_right(client: TestClient) -> None:
    """What everybody sees stays as it was."""
    before = client.get("/sheet.toml?pattern=tote").text
    page = client.post(
        "/pieces/0",
        data={"pattern": "tote", "angle": "90", "one_way": "yes", "count-0": "2"},
        headers=ORIGIN,
    )

    assert OWN in str(page.url)
    assert client.get("/sheet.toml?pattern=tote").text == before


@pytest.mark.parametrize(
    ("field", "value", "words"),
    [
        ("angle", "upwards", "is no angle"),
        ("angle", "nan", "from -360 to 360"),
        ("angle", "1e9", "from -360 to 360"),
        ("count-0", "1000", "is not a number from 0 to 99"),
        ("count-0", "-1", "is not a number from 0 to 99"),
        ("count-0", "0", "cut from no cloth"),
        ("title", "x" * 81, "letters are too many"),
    ],
)
def test_what_cannot_be_so_is_refused(
    client: TestClient, field: str, value: str, words: str
) -> None:
    """With a sentence above the pieces, and nothing changed."""
    typed = {"pattern": "tote", "angle": "90", "count-0": "2"} | {field: value}

    page = client.post("/pieces/0", data=typed, headers=ORIGIN)

    assert page.status_code == 400
    assert words in page.text


def test_another_visitor_is_told_that_the_pattern_is_not_theirs(client: TestClient) -> None:
    """A link with a key alone does not open it; its title is not on the list either."""
    key, _ = hand_in(client, "bag.toml", GOOD.replace("Tote", "Secret bag"))
    other = TestClient(client.app, base_url="http://localhost")

    mine, theirs = client.get(f"/?pattern={key}"), other.get(f"/?pattern={key}")

    assert mine.status_code == 200
    assert "Secret bag" in mine.text
    assert theirs.status_code == 400
    assert "not kept any more" in theirs.text
    assert "Secret bag" not in theirs.text
    assert other.get(f"/sheet.toml?pattern={key}").status_code == 404
    assert other.get(f"/pieces/0.svg?pattern={key}").status_code == 404


def test_the_cookie_cannot_be_read_by_scripts(client: TestClient) -> None:
    """And is not sent along from other sites' forms."""
    visitor = TestClient(client.app, base_url="http://localhost", follow_redirects=False)
    answer = visitor.post("/patterns", files={"sheet": ("t.toml", GOOD)}, headers=ORIGIN)

    cookie = answer.headers["set-cookie"].lower()
    assert "httponly" in cookie
    assert "samesite=lax" in cookie


def test_what_is_kept_is_bounded_in_number_and_age() -> None:
    """The oldest of a visitor goes first, then the oldest of all, and what is too old."""
    shelves = Library(Path())
    pattern = parse_pattern(GOOD)
    mine = shelves.shelf("m" * 20)
    keys = [mine.hand_in(pattern) for _ in range(library.MOST_EACH + 2)]

    assert list(shelves.handed_in("m" * 20)) == keys[2:]
    for number in range(library.MOST_HANDED_IN):
        shelves.shelf(f"visitor-{number:016}").hand_in(pattern)
    assert shelves.handed_in("m" * 20) == {}
    old = HandedIn("m" * 20, pattern, Origin(), time.monotonic() - library.OLDEST_S - 1.0)
    shelves.keep("own-old", old)
    assert shelves.handed_in("m" * 20) == {}
    shelves.keep("own-new", replace(old, since=time.monotonic()))
    assert list(shelves.handed_in("m" * 20)) == ["own-new"]


@pytest.mark.slow
@pytest.mark.parametrize(
    ("name", "data", "words"),
    [
        ("bomb.svg", BOMB, "entit"),
        ("x.svg", b"<svg", "svg"),
        ("x.dxf", b"0\nSECTION\n\x00\xff", "DXF"),
        ("x.exe", b"MZ", "must end in"),
        ("noending", b"", "must end in"),
        ("photo.JPG", b"", "hand it in on the page"),
        ("deep.toml", b"a = " + b"[" * 50_000, "brackets"),
        ("x.toml", b"\xff\xfe", "UTF-8"),
    ],
)
def test_hostile_files_are_refused_with_a_sentence(
    client: TestClient, name: str, data: bytes, words: str
) -> None:
    """Beside the field, and with no path of ours in it."""
    page = client.post("/patterns", files={"sheet": (name, data)}, headers=ORIGIN)

    assert page.status_code == 400
    told = re.search(r'id="sheet-wrong"[^>]*>([^<]*)<', page.text)
    assert told is not None
    assert words.lower() in told[1].lower()
    assert "/" not in told[1].replace("and/or", "")


def test_a_file_that_takes_too_long_is_given_up(monkeypatch: pytest.MonkeyPatch) -> None:
    """The process that reads it is ended."""
    monkeypatch.setattr("nesting.web.uploads.PATIENCE_S", 0.01)

    with pytest.raises(FieldError, match="simplify the drawing"):
        read_handed_in("x.svg", b"<svg/>")


def test_the_process_that_reads_can_write_no_file(tmp_path: Path) -> None:
    """Its limits are set before a stranger's file is touched."""
    import subprocess
    import sys

    code = (
        "from nesting.web.isolated_reader import _bound; _bound(); import pathlib, signal, sys; "
        "assert not {'numba', 'starlette'} & set(sys.modules), 'slow to start'; "
        "signal.signal(signal.SIGXFSZ, signal.SIG_IGN); "
        f"pathlib.Path({str(tmp_path / 'x')!r}).write_text('x')"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, check=False)

    assert done.returncode != 0
    assert b"File too large" in done.stderr


def test_readers_are_a_table_to_add_to() -> None:
    """Sheets and both drawings, told in the form as well."""
    assert list(READERS) == [".toml", ".svg", ".dxf"]
