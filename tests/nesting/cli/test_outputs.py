"""What a command writes never replaces what it reads, what it writes beside, or a special file."""

import os
from pathlib import Path

import pytest

from nesting.cli.app import app
from nesting.cli.outputs import write_together
from pieces.files.atomic_file import name_of_the_moment
from pieces.sheet.pattern_file import write_pattern
from tests.nesting.cli.conftest import QUICK, Nesting
from tests.nesting.cli.test_no_room import in_folder
from tests.nesting.small_shop import bag
from tests.places import DATA

WIDTH = ("--width", "1m", *QUICK)
ORDER = ("order", "class.csv", "--pattern", "tote.toml", *WIDTH)
LAY = ("lay", "tote.toml", *WIDTH)
FITS = ("fits", "tote.toml", "--have", "1m x 1m", "--have", "1m x 2m", "--effort", "quick")
SHOP = ("shop", "bag.toml", "--view", "B", "--bolt", "shell 100cm", "--bolt", "lining 50cm")
# What is typed, and what of it would be lost. Files named `to_X` are links to X.
CLASHES = {
    "the class list": ((*ORDER, "--csv", "class.csv"), "--csv: class.csv is the file class.csv"),
    "the drawing": (
        ("import", "apron.svg", "--out", "a.toml", "--preview", "apron.svg"),
        "--preview: apron.svg is the file apron.svg",
    ),
    "the photograph": (
        ("import", "ph.png", "--out", "a.toml", "--preview", "./ph.png"),
        "--preview: ph.png is the file ph.png",
    ),
    "the second photograph": (
        ("import", "ph.png", "two.png", "--out", "a.toml", "--preview", "two.png"),
        "--preview: two.png is the file two.png",
    ),
    "the mapping": (
        ("import", "apron.svg", "--map", "tote.toml", "--out", "tote.toml"),
        "--out: tote.toml is the file tote.toml",
    ),
    "a picture beside": (
        (*LAY, "--draw", "c.png", "--draw-explain", "sub/../c.png"),
        "--draw-explain: sub/../c.png is written by --draw already",
    ),
    "a picture beside that is there": (
        (*LAY, "--draw", "old.png", "--draw-explain", "to_old.png"),
        "--draw-explain: to_old.png is written by --draw already",
    ),
    "the sheet behind a link": (
        (*LAY, "--out", "to_tote.json"),
        "--out: to_tote.json is the file tote.toml",
    ),
    "the sheet by another of its names": (
        (*LAY, "--draw", "hard_tote.png"),
        "--draw: hard_tote.png is the file tote.toml",
    ),
    "the list of bolts": (
        ("compare", "tote.toml", "--bolts", "bolts.toml", "--draw", "to_bolts.svg"),
        "--draw: to_bolts.svg is the file bolts.toml",
    ),
    "the chart's sheet": (
        ("chart", "tote.toml", *WIDTH, "--markdown", "to_tote.md"),
        "--markdown: to_tote.md is the file tote.toml",
    ),
    "a sheet of the catalogue": (
        ("catalogue", ".", *WIDTH, "--out", "to_tote.csv"),
        "--out: to_tote.csv is the file tote.toml",
    ),
    "a sheet behind the catalogue's page": (
        ("catalogue", ".", *WIDTH, "--out", "to_bag.csv"),
        "--out: to_bag.html is the file bag.toml",
    ),
    "the sheet behind a numbered marker": (
        (*FITS, "--out", "m.json"),
        "--out: m-2.json is the file tote.toml",
    ),
    "the shopping list's sheet": (
        (*SHOP, "--pdf", "to_bag.pdf"),
        "--pdf: to_bag.pdf is the file bag.toml",
    ),
    "the marker": (
        ("draw", "to_old.json", "--out", "old.png"),
        "--out: old.png is the file to_old.json",
    ),
    "the marker of a table": (
        ("draw", "class.csv", "--out", "new.png", "--by-tape", "class.csv"),
        "--by-tape: class.csv is the file class.csv",
    ),
    "the drawing it comes from": (
        ("export", "apron.svg", "--out", "apron.svg"),
        "--out: apron.svg is the file apron.svg",
    ),
}
LINKS = {
    "to_tote.json": "tote.toml",
    "to_tote.md": "tote.toml",
    "to_tote.csv": "tote.toml",
    "m-2.json": "tote.toml",
    "to_bag.html": "bag.toml",
    "to_bag.pdf": "bag.toml",
    "to_bolts.svg": "bolts.toml",
    "to_old.png": "old.png",
    "to_old.json": "old.png",
}


@pytest.fixture(autouse=True)
def inputs(folder: Path) -> None:
    """Put what the commands read into the folder, under several names."""
    (folder / "class.csv").write_text("Name,View,Size,Count\nIda,A,one,1\n", encoding="utf-8")
    (folder / "bolts.toml").write_text('[[bolts]]\nname = "a"\nwidth = "1m"\n', encoding="utf-8")
    (folder / "apron.svg").write_bytes((DATA / "apron_by_inkscape.svg").read_bytes())
    write_pattern(bag(), folder / "bag.toml")
    for name in ("old.png", "ph.png", "two.png"):
        (folder / name).write_bytes(b"no picture")
    for name, to in LINKS.items():
        (folder / name).symlink_to(to)
    os.link(folder / "tote.toml", folder / "hard_tote.png")
    (folder / "sub").mkdir()


@pytest.mark.parametrize(("typed", "told"), CLASHES.values(), ids=CLASHES)
def test_nothing_that_is_read_or_written_is_lost(
    nesting: Nesting, folder: Path, typed: tuple[str, ...], told: str
) -> None:
    """Exit code 2 and one sentence, before any work, and the folder as it was."""
    before = in_folder(folder)

    answer = nesting(*typed)

    assert answer.code == 2
    assert told in answer.err
    assert answer.err.count("\n") == 1
    assert in_folder(folder) == before


def test_every_command_that_writes_is_tried() -> None:
    """Two commands write nothing that is named to them."""
    tried = {typed[0] for typed, _ in CLASHES.values()}

    assert tried == {command.name for command in app.registered_commands} - {"check", "serve"}


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="needs pipes with names")
@pytest.mark.parametrize("name", ["pipe.json", "device.json", "circle.json"])
def test_special_files_are_refused_and_stay(nesting: Nesting, folder: Path, name: str) -> None:
    """A pipe, a link to a device, and links in a circle."""
    os.mkfifo(folder / "pipe.json")
    (folder / "device.json").symlink_to(os.devnull)
    (folder / "circle.json").symlink_to("circle.json")

    answer = nesting(*LAY, "--out", name)

    assert answer.code == 2
    assert f"--out: {name} cannot be written" in answer.err
    assert answer.err.count("\n") == 1
    assert (folder / "pipe.json").is_fifo()
    assert (folder / "device.json").is_symlink()
    assert (folder / "circle.json").is_symlink()


def test_a_link_keeps_leading_to_the_file_it_names(nesting: Nesting, folder: Path) -> None:
    """There already or not."""
    (folder / "link.json").symlink_to("sub/m.json")

    assert nesting(*LAY, "--out", "link.json").code == 0
    assert nesting(*LAY, "--out", "link.json").code == 0

    assert (folder / "link.json").is_symlink()
    assert (folder / "sub" / "m.json").read_text().startswith("{")


@pytest.mark.skipif(os.name != "posix", reason="elsewhere no process is asked whether it lives")
def test_what_a_killed_run_left_is_cleared_by_the_next(folder: Path) -> None:
    """In the folder that is written to, and in no other."""
    ours = name_of_the_moment(folder / "m.json").name
    left = ours.replace(f"-{os.getpid()}-", "-4194999-")  # above what Linux and macOS count to
    (folder / left).write_text("half")
    (folder / "sub" / left).write_text("half")
    (folder / ours).write_text("at work")

    write_together({folder / "m.json": lambda path: path.write_text("whole") and None})

    assert not (folder / left).exists()
    assert (folder / "sub" / left).exists()
    assert (folder / ours).exists()
    assert (folder / "m.json").read_text() == "whole"
