"""Files from strangers: read no further than a limit, and refused in one sentence."""

import os
import stat
from pathlib import Path

_AT_ONCE = getattr(os, "O_NONBLOCK", 0)
"""Opens a pipe that nobody writes to without waiting, where the system knows pipes with names."""


def read_bytes(path: Path | str, what: str, *, largest_bytes: int, error: type[Exception]) -> bytes:
    """Return the bytes of a file.

    Parameters
    ----------
    path
        The file.
    what
        What it should be, for the sentence: ``"marker file"``.
    largest_bytes
        Size beyond which it is refused; no more than that is read.
    error
        Raised with the sentence, which names the file.

    Raises
    ------
    Exception
        An ``error`` if there is no such file, it is a pipe or a device, it cannot be read, or it
        is too large.
    """
    path = Path(path)
    try:
        with open(path, "rb", opener=_at_once) as file:
            is_ordinary = stat.S_ISREG(os.fstat(file.fileno()).st_mode)
            data = file.read(largest_bytes + 1) if is_ordinary else b""
    except FileNotFoundError:
        raise error(f"{what} {path} does not exist; check the name and the folder") from None
    except IsADirectoryError:
        raise error(f"{path} is a folder; give the {what} inside it") from None
    except (OSError, ValueError) as problem:  # ValueError: a name no file can have
        reason = getattr(problem, "strerror", None) or problem
        raise error(f"{what} {path} cannot be read: {reason}") from problem
    if not is_ordinary:
        raise error(f"{what} {path} is a pipe or a device; save it to a file, and give that")
    if len(data) > largest_bytes:
        raise error(
            f"{what} {path} is larger than {largest_bytes / 1e6:.0f} MB, the limit for one; "
            "choose the right file"
        )
    return data


def _at_once(name: str, flags: int) -> int:
    return os.open(name, flags | _AT_ONCE)


def read_text(path: Path | str, what: str, *, largest_bytes: int, error: type[Exception]) -> str:
    """Return the text of a UTF-8 file; parameters are those of :func:`read_bytes`.

    Raises
    ------
    Exception
        An ``error`` as :func:`read_bytes` raises it, or if the file is no text in UTF-8.
    """
    data = read_bytes(path, what, largest_bytes=largest_bytes, error=error)
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as problem:
        line = data.count(b"\n", 0, problem.start) + 1
        raise error(
            f"{what} {path}, line {line}: it is not text in UTF-8; save it as UTF-8 in the editor"
        ) from problem
