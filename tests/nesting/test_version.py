"""The print of the program: any byte of any room changes it, wherever the code lies."""

import shutil
from pathlib import Path

import pytest

from nesting.version import PACKAGES, print_of, program_print
from tests.places import ROOT

FAR_APART = [
    "nesting/version.py",
    "nesting/cloth/bolt.py",
    "nesting/engine/kernels/depth.py",
    "nesting/answers/chart/cluster.py",
    "pieces/piece.py",
    "pieces/outline/polygon.py",
]


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    """Both packages in another folder."""
    for package in PACKAGES:
        shutil.copytree(ROOT / package, tmp_path / package, ignore=shutil.ignore_patterns("*.nb?"))
    return tmp_path


def test_the_same_program_elsewhere_has_the_same_print(copy: Path) -> None:
    """Two computers keep the program in different folders."""
    assert print_of(copy) == program_print()


@pytest.mark.parametrize("name", FAR_APART)
def test_a_byte_in_any_room_gives_another_print(copy: Path, name: str) -> None:
    """A worker with another line in any file lays differently, perhaps."""
    with (copy / name).open("ab") as file:
        file.write(b"\n")

    assert print_of(copy) != program_print()
