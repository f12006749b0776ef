"""Write a file all at once: a reader sees the old file or the new one, never half of it."""

import contextlib
import os
import secrets
from pathlib import Path


def write_text_atomically(path: Path | str, text: str) -> None:
    """Replace the file at ``path`` by ``text`` in UTF-8, or leave it as it was.

    Parameters
    ----------
    path
        File to write; its folder must exist.
    text
        Everything the file shall hold; line ends are written as given.

    Raises
    ------
    OSError
        If the folder is missing or cannot be written, or ``path`` is a folder.
    UnicodeEncodeError
        If the text holds half of a surrogate pair, which UTF-8 cannot write.
    """
    write_bytes_atomically(path, text.encode("utf-8"))


def write_bytes_atomically(path: Path | str, data: bytes) -> None:
    """Replace the file at ``path`` by ``data``, or leave it as it was.

    The bytes go to a new file in the same folder, which takes the place of the old one in one
    step once everything is on the disk. Permissions of an old file are kept.

    Raises
    ------
    OSError
        If the folder is missing or cannot be written, or ``path`` is a folder.
    """
    target = Path(path).resolve()  # a link keeps pointing to the file it names
    temporary = target.with_name(f".{secrets.token_hex(8)}.tmp")
    try:
        with temporary.open("xb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        if target.is_file():
            temporary.chmod(target.stat().st_mode & 0o777)
        temporary.replace(target)
    except BaseException:
        with contextlib.suppress(OSError):
            temporary.unlink()
        raise
