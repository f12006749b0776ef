"""Whatever is typed or read wrongly: exit 2, one clear message, no file, no traceback."""

from pathlib import Path

import pytest

from tests.nesting.cli.conftest import QUICK, Answer, Nesting
from tests.nesting.cli.sheets import FAULTS, GOOD, OPTION_FAULTS

LAY = ("lay", "tote.toml", "--width", "45in", "--out", "out.json", *QUICK)


def _instead(typed: tuple[str, ...], other: list[str]) -> list[str]:
    """Return what was typed, each option of ``other`` in place of the same one."""
    named = {word.partition("=")[0] for word in other if word.startswith("--")}
    kept = [
        word
        for i, word in enumerate(typed)
        if word not in named and not (i and typed[i - 1] in named)
    ]
    return [*kept, *other]


def _refused(answer: Answer, folder: Path) -> str:
    """Hold the answer to the rule, and return its one message."""
    lines = answer.err.splitlines()
    assert answer.code == 2, answer.err
    assert answer.out == ""
    assert len(lines) == 1, answer.err
    assert lines[0].startswith("nesting: ")
    assert len(lines[0]) > 30
    assert "Traceback" not in answer.err
    assert [path.name for path in folder.iterdir() if path.name != "tote.toml"] == []
    return lines[0]


@pytest.mark.parametrize("fault", FAULTS)
def test_a_broken_sheet_is_refused(nesting: Nesting, folder: Path, fault: str) -> None:
    """The message names the file."""
    right, wrong = FAULTS[fault]
    assert right in GOOD
    (folder / "tote.toml").write_text(GOOD.replace(right, wrong, 1), encoding="utf-8")

    message = _refused(nesting(*LAY), folder)

    assert "tote.toml" in message or "piece" in message


@pytest.mark.parametrize(
    "content",
    [b"\xff\xfe\x00", b'name = "\xe9"', b"\x00" * 100, b"[" * 5000],
    ids=["UTF-16", "Latin 1", "zeros", "brackets"],
)
def test_a_file_of_other_bytes_is_refused(nesting: Nesting, folder: Path, content: bytes) -> None:
    """No bytes whatever bring a traceback."""
    (folder / "tote.toml").write_bytes(content)

    assert "tote.toml" in _refused(nesting(*LAY), folder)


@pytest.mark.parametrize("fault", OPTION_FAULTS)
def test_a_wrong_option_is_refused(nesting: Nesting, folder: Path, fault: str) -> None:
    """Nothing is written, and no option is silently replaced."""
    message = _refused(nesting(*_instead(LAY, OPTION_FAULTS[fault])), folder)

    assert " times" not in message


@pytest.mark.parametrize(
    ("typed", "named"),
    [
        (["lay"], "PATTERN"),
        (["lay", "tote.toml"], "--width"),
        (["lay", "none.toml", "--width", "45in"], "none.toml does not exist"),
        (["lay", ".", "--width", "45in"], "is a folder"),
        (["dance"], "dance"),
        (["--loud"], "--loud"),
        (["compare", "tote.toml"], "--width"),
        (["compare", "tote.toml", "--width", "1m", "--price", "1/m", "--price", "2/m"], "--price"),
        (["compare", "tote.toml", "--width", "1m", "--width", "wide"], "--width"),
        (["check"], "MARKER"),
        (["check", "none.json"], "none.json"),
        (["check", "tote.toml"], "not JSON"),
        (["draw", "none.json"], "--out"),
        (["draw", "none.json", "--out", "a.png"], "none.json"),
        (["draw", "tote.toml", "--out", "a.gif"], ".png, .svg or .pdf"),
    ],
)
def test_what_is_missing_is_named(
    nesting: Nesting, folder: Path, typed: list[str], named: str
) -> None:
    """The one message holds the word the person has to look for."""
    assert named in _refused(nesting(*typed), folder)


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        (["--width", "60in"], "--width is given 2 times; give it once; nesting compare takes"),
        (["--width=60in", "--width=1m"], "--width is given 3 times"),
        (["--seed", "1", "--seed", "2"], "--seed is given 2 times; give it once"),
    ],
)
def test_an_option_given_twice_is_refused(
    nesting: Nesting, folder: Path, typed: list[str], sentence: str
) -> None:
    """Of two widths none is silently left out; flags and lists may be repeated."""
    assert sentence in _refused(nesting(*LAY, *typed), folder)


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        (["--garments", "two"], '--garments: "two" is no whole number'),
        (["--garments", "101"], "--garments: 101 is out of range; it goes from 1 to 100"),
        (["--tilt", "a bit"], '--tilt: "a bit" is no number'),
    ],
)
def test_a_wrong_number_is_told_in_our_words(
    nesting: Nesting, folder: Path, typed: list[str], sentence: str
) -> None:
    """The sentence names the option, the value and the limit."""
    assert sentence in _refused(nesting(*LAY, *typed), folder)


def test_a_number_may_have_a_comma(nesting: Nesting, folder: Path) -> None:
    """A tilt of 0,5 degrees is half a degree, as 1,4 m is a length."""
    answer = nesting(*LAY, "--tilt", "0,5", "--json")

    assert answer.json["tilt_deg"] == 0.5
    assert (folder / "out.json").is_file()


def test_too_many_pieces_for_one_lay_are_refused(nesting: Nesting, folder: Path) -> None:
    """2000 bodies and 2 straps, for 3 garments, are 6006 pieces; a lay holds 5000."""
    (folder / "tote.toml").write_text(GOOD.replace("cut.shell = 2", "cut.shell = 2000", 1))

    message = _refused(nesting(*LAY, "--garments", "3"), folder)

    assert "6,006 pieces to cut from shell are more than the 5,000" in message


def test_a_refusal_with_a_line_end_stays_one_line(nesting: Nesting, folder: Path) -> None:
    """A name may hold any letter; the message is one line nevertheless."""
    _refused(nesting("lay", "two\nlines.toml", "--width", "45in"), folder)


def test_an_existing_output_is_kept_when_the_input_is_bad(nesting: Nesting, folder: Path) -> None:
    """A refusal touches nothing that was there before."""
    (folder / "out.json").write_text("mine", encoding="utf-8")

    answer = nesting(*LAY, "--cloth", "velvet")

    assert answer.code == 2
    assert (folder / "out.json").read_text(encoding="utf-8") == "mine"
