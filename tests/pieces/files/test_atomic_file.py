"""Files are written all at once or not at all."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from pieces.files.atomic_file import (
    clear_leftovers,
    name_of_the_moment,
    write_bytes_atomically,
    write_text_atomically,
)


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


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="needs pipes with names")
def test_a_pipe_is_not_replaced(tmp_path: Path) -> None:
    """Writing onto a pipe, or a link to a device, fails and leaves both."""
    pipe, link = tmp_path / "pipe", tmp_path / "link"
    os.mkfifo(pipe)
    link.symlink_to(os.devnull)

    for special in (pipe, link):
        with pytest.raises(OSError, match="no ordinary file"):
            write_text_atomically(special, "new")
    assert pipe.is_fifo()
    assert sorted(tmp_path.iterdir()) == [link, pipe]


def test_links_in_a_circle_are_a_fault_of_the_system_s_own_kind(tmp_path: Path) -> None:
    """Not one of Python's that nobody expects."""
    (tmp_path / "a").symlink_to(tmp_path / "b")
    (tmp_path / "b").symlink_to(tmp_path / "a")

    with pytest.raises(OSError, match="symbolic links"):
        write_text_atomically(tmp_path / "a", "new")


LEAVE_ONE = """
import os, sys
from pathlib import Path
from pieces.files.atomic_file import name_of_the_moment
path = name_of_the_moment(Path(sys.argv[1]))
path.write_text("half")
print(path)
"""


@pytest.mark.skipif(os.name != "posix", reason="elsewhere no process is asked whether it lives")
def test_what_a_killed_process_left_is_cleared_away_and_nothing_else(tmp_path: Path) -> None:
    """Files of a living process, of another computer and of other programs stay."""
    target = tmp_path / "m.json"
    command = [sys.executable, "-c", LEAVE_ONE, str(target)]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    left, ours = Path(done.stdout.strip()), name_of_the_moment(target)
    elsewhere = left.with_name(f".nesting-00000000{left.name[17:]}")
    stranger = tmp_path / ".hidden.tmp"
    for path in (ours, elsewhere, stranger):
        path.write_text("kept")
    assert left.exists()

    clear_leftovers([tmp_path, tmp_path / "missing"])

    assert set(tmp_path.iterdir()) == {ours, elsewhere, stranger}
