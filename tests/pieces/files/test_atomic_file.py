"""Files are written all at once or not at all."""

import os
from pathlib import Path

import pytest

from pieces.files.atomic_file import write_bytes_atomically, write_text_atomically


def test_text_is_written_in_utf_8_with_its_line_ends(tmp_path: Path) -> None:
    """What is read as bytes is the text in UTF-8, and no other file is left."""
    path = tmp_path / "a.txt"
    write_text_atomically(path, "Ärmel\r\n")

    assert path.read_bytes() == "Ärmel\r\n".encode()
    assert list(tmp_path.iterdir()) == [path]


def test_a_failure_before_the_end_leaves_the_old_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """If the disk refuses, the old content is still there and the half-written file is gone."""
    path = tmp_path / "a.txt"
    write_text_atomically(path, "old")

    def full(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space left"):
        write_bytes_atomically(path, b"new")
    assert path.read_text() == "old"
    assert list(tmp_path.iterdir()) == [path]


def test_permissions_of_the_old_file_are_kept(tmp_path: Path) -> None:
    """A file only its owner may read stays so."""
    path = tmp_path / "a.txt"
    path.write_text("old")
    path.chmod(0o600)
    write_text_atomically(path, "new")

    assert path.stat().st_mode & 0o777 == 0o600


def test_a_link_keeps_pointing_to_its_file(tmp_path: Path) -> None:
    """Writing through a link changes the file it names."""
    path, link = tmp_path / "a.txt", tmp_path / "link.txt"
    path.write_text("old")
    link.symlink_to(path)
    write_text_atomically(link, "new")

    assert link.is_symlink()
    assert path.read_text() == "new"


def test_a_folder_cannot_be_replaced(tmp_path: Path) -> None:
    """Writing onto a folder fails and leaves nothing behind."""
    folder = tmp_path / "folder"
    folder.mkdir()

    with pytest.raises(OSError, match="folder"):
        write_text_atomically(folder, "new")
    assert list(tmp_path.iterdir()) == [folder]
