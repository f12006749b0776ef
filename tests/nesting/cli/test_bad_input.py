"""Whatever is typed or read wrongly: exit 2, one clear message, no file, no traceback."""

from pathlib import Path

import pytest

from tests.nesting.cli.conftest import QUICK, Answer, Nesting
from tests.nesting.cli.sheets import FAULTS, GOOD, OPTION_FAULTS

LAY = ("lay", "tote.toml", "--width", "45in", "--out", "out.json", *QUICK)


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
    _refused(nesting(*LAY, *OPTION_FAULTS[fault]), folder)


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


def test_a_refusal_with_a_line_end_stays_one_line(nesting: Nesting, folder: Path) -> None:
    """A name may hold any letter; the message is one line nevertheless."""
    _refused(nesting("lay", "two\nlines.toml", "--width", "45in"), folder)


def test_an_existing_output_is_kept_when_the_input_is_bad(nesting: Nesting, folder: Path) -> None:
    """A refusal touches nothing that was there before."""
    (folder / "out.json").write_text("mine", encoding="utf-8")

    answer = nesting(*LAY, "--cloth", "velvet")

    assert answer.code == 2
    assert (folder / "out.json").read_text(encoding="utf-8") == "mine"
