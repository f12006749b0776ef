"""``nesting check`` and ``nesting draw``: what becomes of a marker file."""

import json
from pathlib import Path

import pytest

from tests.nesting.cli.conftest import QUICK, Nesting


@pytest.fixture
def marker(nesting: Nesting, folder: Path) -> Path:
    """Return a marker of the tote on 100 cm, just laid."""
    assert nesting("lay", "tote.toml", "--width", "1m", "--out", "m.json", *QUICK).code == 0
    return folder / "m.json"


def _edit(marker: Path, x_mm: float) -> None:
    """Move every placement by ``x_mm`` along the cloth."""
    raw = json.loads(marker.read_text(encoding="utf-8"))
    for placement in raw["placements"]:
        placement["x_mm"] += x_mm
    marker.write_text(json.dumps(raw), encoding="utf-8")


def test_a_clean_marker_can_be_cut(nesting: Nesting, marker: Path) -> None:
    """Exit 0, and it is said in words."""
    answer = nesting("check", marker.name)

    assert answer.code == 0
    assert "Nothing found: this marker can be cut." in answer.out
    assert nesting("check", marker.name, "--json").json == {
        "marker": "m.json",
        "clean": True,
        "findings": [],
        "doubts": [],
    }


def test_a_marker_pushed_off_the_cloth_has_findings(nesting: Nesting, marker: Path) -> None:
    """Exit 1, each finding with its code, severity and sentence."""
    _edit(marker, -10.0)

    answer = nesting("check", marker.name)
    findings = nesting("check", marker.name, "--json").json["findings"]

    assert answer.code == 1
    assert "error outside-cloth: Body one no. 1 reaches" in answer.out
    assert {finding["code"] for finding in findings} == {"outside-cloth", "wrong-length"}
    assert all(finding["severity"] == "error" for finding in findings)


def test_a_marker_is_compared_with_the_sheet_and_the_bolt(nesting: Nesting, marker: Path) -> None:
    """Nothing is found for what was laid, and each fact that is another has its code."""
    asked = ("check", marker.name, "--pattern", "tote.toml", "--width", "1m")
    assert nesting(*asked, "--nap", "without", "--spread", "open", "--selvage", "0mm").code == 0
    assert nesting("check", marker.name, "--step", "10cm", "--garments", "1").code == 0

    for typed, code in (
        (("--width", "1.1m"), "other-bolt"),
        (("--nap", "with"), "other-bolt"),
        (("--step", "1/8yd"), "other-bolt"),
        (("--repeat-along", "10cm"), "other-bolt"),
        (("--flaw", "20in,12in,1in,2in"), "other-bolt"),
        (("--shrink-along", "3%"), "other-bolt"),
        (("--length-left", "3yd"), "other-bolt"),
        (("--spread", "double"), "other-rules"),
        (("--gap", "2mm"), "other-rules"),
        (("--tilt", "2"), "other-rules"),
        (("--garments", "2"), "other-garments"),
        (("--cloth", "felt"), "other-garments"),
    ):
        answer = nesting("check", marker.name, "--json", *typed)
        assert answer.code == 1, typed
        assert {one["code"] for one in answer.json["findings"]} == {code}, typed


def test_a_count_that_is_not_the_sheets_is_told(nesting: Nesting, marker: Path) -> None:
    """A sheet changed after the lay: the marker by itself is sound, and not what it says."""
    sheet = marker.parent / "tote.toml"
    text = sheet.read_text(encoding="utf-8")
    changed = text.replace("cut.shell = 2", "cut.shell = 4", 1)
    assert changed != text
    sheet.write_text(changed, encoding="utf-8")

    assert nesting("check", marker.name).code == 0
    answer = nesting("check", marker.name, "--pattern", "tote.toml")
    assert answer.code == 1
    assert "error other-cut-list" in answer.out


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        (("--pattern", "none.toml"), "does not exist"),
        (("--width", "1 fathom"), "--width"),
        (("--uneven",), "--uneven"),
        (("--gap", "wide"), "--gap"),
        (("--garments", "0"), "--garments"),
        (("--selvage", "60cm"), "selvages"),
    ],
)
def test_what_cannot_be_compared_is_refused(
    nesting: Nesting, marker: Path, typed: tuple[str, ...], words: str
) -> None:
    """Exit code 2 and one line."""
    answer = nesting("check", marker.name, *typed)

    assert (answer.code, answer.err.count("\n")) == (2, 1)
    assert words in answer.err


@pytest.mark.parametrize(
    "text", ["", "[]", "{}", '{"kind": "marker"}', '{"kind": "marker", "version": 99}', "\x00"]
)
def test_an_unreadable_marker_is_bad_input(nesting: Nesting, marker: Path, text: str) -> None:
    """Exit 2 and one message that names the file."""
    marker.write_text(text, encoding="utf-8")

    answer = nesting("check", marker.name)

    assert answer.code == 2
    assert answer.err.count("\n") == 1
    assert "m.json" in answer.err


@pytest.mark.parametrize(
    ("name", "begins"), [("m.png", b"\x89PNG"), ("m.svg", b"<"), ("m.PDF", b"%PDF")]
)
def test_the_ending_picks_the_kind_of_picture(
    nesting: Nesting, marker: Path, name: str, begins: bytes
) -> None:
    """The file begins as its kind begins."""
    answer = nesting("draw", marker.name, "--out", name)

    assert answer.code == 0
    assert f"Written: {name}" in answer.out
    assert (marker.parent / name).read_bytes().startswith(begins)


def test_drawing_a_wrong_marker_warns(nesting: Nesting, marker: Path) -> None:
    """The picture is drawn, and a note sends the person to the check."""
    _edit(marker, -10.0)

    answer = nesting("draw", marker.name, "--out", "m.svg")

    assert answer.code == 0
    assert "nesting check" in answer.err


@pytest.mark.parametrize("command", [("check", "m.json"), ("draw", "m.json", "--out", "m.svg")])
def test_a_measure_beyond_all_sense_is_refused(
    nesting: Nesting, marker: Path, command: tuple[str, ...]
) -> None:
    """A marker longer than the way to the moon is a slip, and no reason to fill the memory."""
    _edit(marker, 1e12)

    answer = nesting(*command)

    assert answer.code == 2
    assert answer.err.count("\n") == 1
    assert not (marker.parent / "m.svg").exists()


def test_a_piece_the_cut_list_does_not_have_cannot_be_drawn(nesting: Nesting, marker: Path) -> None:
    """The check tells it as a finding; the picture is refused."""
    text = marker.read_text(encoding="utf-8")
    marker.write_text(text.replace('"key": "body one"', '"key": "other"'), encoding="utf-8")

    assert nesting("check", "m.json").code == 1
    assert nesting("draw", "m.json", "--out", "m.svg").code == 2


def test_true_size_pages_and_the_table_are_written_together(nesting: Nesting, marker: Path) -> None:
    """A PDF of several pages, and a CSV with a line for each piece under its header."""
    wanted = ("--out", "pages.pdf", "--true-size", "--paper", "a3", "--by-tape", "table.csv")

    answer = nesting("draw", marker.name, *wanted)

    assert answer.code == 0, answer.err
    assert (marker.parent / "pages.pdf").read_bytes().count(b"/MediaBox") >= 2
    header = (marker.parent / "table.csv").read_text().splitlines()[0]
    assert "grainline tail, from the cut end" in header


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        (("--out", "true.png", "--true-size"), "must end in .pdf"),
        (("--out", "true.pdf", "--true-size", "--paper", "a9"), '--paper: "a9" is not known'),
        (("--out", "true.pdf", "--by-tape", "table.txt"), "must end in .csv"),
    ],
)
def test_true_size_refuses_what_it_cannot_write(
    nesting: Nesting, marker: Path, typed: tuple[str, ...], words: str
) -> None:
    """Exit code 2, one line that says what to give, and no file."""
    before = set(marker.parent.iterdir())

    answer = nesting("draw", marker.name, *typed)

    assert answer.code == 2
    assert words in answer.err
    assert set(marker.parent.iterdir()) == before


@pytest.mark.parametrize(
    ("language", "words"), [("en", "Ask for"), ("fr", "Demandez"), ("es", "Pida")]
)
def test_a_picture_is_written_in_a_language(
    nesting: Nesting, marker: Path, language: str, words: str
) -> None:
    """The words of the picture change, the names of the pattern stay."""
    assert nesting("draw", marker.name, "--out", "m.svg", "--language", language).code == 0

    picture = (marker.parent / "m.svg").read_text(encoding="utf-8")
    assert words in picture
    assert "Tote of the [bold]prompter" in picture


def test_a_language_that_cannot_be_had_is_bad_input(nesting: Nesting, marker: Path) -> None:
    """Exit 2, and nothing is written."""
    answer = nesting("draw", marker.name, "--out", "m.pdf", "--language", "tlh")

    assert answer.code == 2
    assert "language" in answer.err
    assert not (marker.parent / "m.pdf").exists()
