"""Only ordinary files are read, and no pipe is waited for."""

import os
from pathlib import Path

import pytest

from pieces.files.bounded_file import read_bytes, read_text


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="needs pipes with names")
def test_a_pipe_that_nobody_writes_to_is_refused_at_once(tmp_path: Path) -> None:
    """It would be waited for without end."""
    pipe = tmp_path / "sheet.toml"
    os.mkfifo(pipe)

    with pytest.raises(ValueError, match="is a pipe or a device") as refusal:
        read_text(pipe, "pattern sheet", largest_bytes=100, error=ValueError)
    told = f"pattern sheet {pipe} is a pipe or a device; save it to a file, and give that"
    assert str(refusal.value) == told


def test_a_device_is_refused() -> None:
    """It never ends, or never begins."""
    with pytest.raises(ValueError, match="is a pipe or a device"):
        read_bytes(os.devnull, "pattern sheet", largest_bytes=100, error=ValueError)


def test_a_link_to_an_ordinary_file_is_followed(tmp_path: Path) -> None:
    """As everywhere."""
    (tmp_path / "a").write_bytes(b"cloth")
    (tmp_path / "link").symlink_to(tmp_path / "a")

    assert read_bytes(tmp_path / "link", "file", largest_bytes=5, error=ValueError) == b"cloth"
