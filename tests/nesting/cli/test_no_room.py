"""A disk that is full, and places nobody can write to: one sentence, and nothing half-written."""

import contextlib
import resource
import signal
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from nesting.cli.app import main
from pieces.sheet.pattern_file import write_pattern
from tests.nesting.cli.conftest import QUICK, Nesting
from tests.nesting.small_shop import bag

WIDTH = ("--width", "1m", *QUICK)
LAY = ("lay", "tote.toml", *WIDTH)
# What is typed, and the file that is to be written.
WRITING = {
    "a marker": (*LAY, "--out", "new/m.json"),
    "a picture": (*LAY, "--draw", "new/m.png"),
    "a picture for print": (*LAY, "--draw", "new/m.pdf"),
    "a drawing of the costs": (*LAY, "--nap", "with", "--draw-explain", "new/m.svg"),
    "a marker and a picture": (*LAY, "--out", "new/m.json", "--draw", "new/m.svg"),
    "a comparison": ("compare", "tote.toml", *WIDTH, "--draw", "new/m.png"),
    "a chart": ("chart", "tote.toml", *WIDTH, "--csv", "new/c.csv", "--draw", "new/c.png"),
    "a catalogue": ("catalogue", "sheets", *WIDTH, "--out", "new/c.csv"),
    "an order": ("order", "class.csv", "--pattern", "tote.toml", *WIDTH, "--out", "new/o.json"),
    "a shopping list": (
        *("shop", "bag.toml", "--view", "B", *QUICK, "--markdown", "new/s.md"),
        *("--pdf", "new/s.pdf", "--bolt", "shell 100cm", "--bolt", "lining 50cm"),
    ),
    "a drawing for others": ("export", "tote.toml", "--out", "new/t.dxf"),
    "an outline for others": ("export", "tote.toml", "--out", "new/t.svg"),
    "a pattern sheet": ("import", "tote.svg", "--out", "new/t.toml"),
}


@pytest.fixture(autouse=True)
def inputs(folder: Path) -> None:
    """Put what the commands read into the folder, and an empty folder for what they write."""
    (folder / "class.csv").write_text("Name,View,Size,Count\nIda,A,one,1\n", encoding="utf-8")
    write_pattern(bag(), folder / "bag.toml")
    main(["export", "tote.toml", "--out", "tote.svg"])
    for name in ("new", "sheets"):
        (folder / name).mkdir()
    (folder / "sheets" / "tote.toml").write_bytes((folder / "tote.toml").read_bytes())


@pytest.fixture
def full_disk() -> Iterator[Callable[[], None]]:
    """Return a function after which no file can grow beyond 200 bytes, as on a disk that is full.

    The system then answers a write as it does on a full disk, with another number.
    """
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    told = signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    try:
        yield lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (200, before[1]))
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)
        signal.signal(signal.SIGXFSZ, told)


def in_folder(folder: Path) -> dict[str, bytes]:
    """Return every file below a folder."""
    files = (path for path in folder.rglob("*") if path.is_file())
    return {str(path.relative_to(folder)): path.read_bytes() for path in files}


@pytest.mark.parametrize("typed", WRITING.values(), ids=WRITING)
def test_a_full_disk(
    nesting: Nesting, folder: Path, full_disk: Callable[[], None], typed: tuple[str, ...]
) -> None:
    """Exit code 2, a sentence that names the file, and the folder as it was."""
    before = in_folder(folder)
    full_disk()

    answer = nesting(*typed)

    assert answer.code == 2
    assert answer.err.count("\n") == 1, answer.err
    assert "File too large" in answer.err
    assert "new/" in answer.err
    assert in_folder(folder) == before


@pytest.mark.parametrize("old", ["m.json", "m.svg"])
def test_what_was_there_before_is_still_there(
    nesting: Nesting, folder: Path, full_disk: Callable[[], None], old: str
) -> None:
    """A marker and its picture of yesterday stay, since today's cannot be written."""
    (folder / "new" / old).write_text("of yesterday", encoding="utf-8")
    full_disk()

    answer = nesting(*WRITING["a marker and a picture"])

    assert answer.code == 2
    assert in_folder(folder / "new") == {old: b"of yesterday"}


@pytest.mark.parametrize("option", ["--json", "--explain"])
def test_an_answer_that_nobody_can_take(
    nesting: Nesting, monkeypatch: pytest.MonkeyPatch, option: str
) -> None:
    """Standard output on a full disk: the sentence goes to standard error."""
    if not Path("/dev/full").exists():
        pytest.skip("needs /dev/full, a disk that is always full")
    full = Path("/dev/full").open("w", encoding="utf-8")  # noqa: SIM115 - closing fails as well
    with monkeypatch.context() as patch:
        patch.setattr("sys.stdout", full)
        answer = nesting(*LAY, option)
    with contextlib.suppress(OSError):
        full.close()

    assert answer.code == 2
    assert "No space left" in answer.err


@pytest.mark.parametrize(
    ("place", "told"),
    [
        ("tote.toml/m.json", "folder"),
        ("missing/m.json", "does not exist; make it first"),
        ("new", "must end in .json"),
        ("/proc/m.json", "/proc/m.json"),
    ],
)
def test_a_place_that_not_even_the_owner_of_the_computer_can_write_to(
    nesting: Nesting, folder: Path, place: str, told: str
) -> None:
    """Below a file, in no folder, a folder, and a folder that takes no files."""
    before = in_folder(folder)
    if place.startswith("/proc") and not Path("/proc/self").exists():
        pytest.skip("needs /proc, a folder that takes no files")

    answer = nesting(*LAY, "--out", place)

    assert answer.code == 2
    assert answer.err.count("\n") == 1
    assert told in answer.err
    assert in_folder(folder) == before
