"""Write a file all at once: a reader sees the old file or the new one, never half of it.

The new file grows under a name of the moment in the same folder. A process that is killed leaves
it there; the name says whose it is, so that the next run can clear it away.
"""

import contextlib
import errno
import hashlib
import os
import platform
import re
import secrets
import stat
from collections.abc import Iterable
from pathlib import Path

_OF_THE_MOMENT = re.compile(
    r"\.nesting-(?P<computer>[0-9a-f]{8})-(?P<process>\d{1,10})-[0-9a-f]{16}\.\w{1,10}"
)


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
        If the folder is missing or cannot be written, or ``path`` is no ordinary file.
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
        If the folder is missing or cannot be written, or ``path`` is a folder, a device, a pipe
        or a link in a circle.
    """
    target = file_meant(path)
    temporary = name_of_the_moment(target)
    try:
        with temporary.open("xb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        put_in_place(temporary, target)
    except BaseException:
        with contextlib.suppress(OSError):
            temporary.unlink()
        raise


def file_meant(path: Path | str) -> Path:
    """Return the file that a path means: what its links lead to, there yet or not.

    Raises
    ------
    OSError
        If the links go round in a circle, or what is there is no ordinary file.
    """
    try:
        target = Path(path).resolve()
    except RuntimeError:  # older Pythons say so of links in a circle
        raise OSError(errno.ELOOP, os.strerror(errno.ELOOP), str(path)) from None
    try:
        kind = target.stat().st_mode  # newer Pythons find the circle here
    except (FileNotFoundError, NotADirectoryError):  # of a folder that is none, writing tells
        return target
    if stat.S_ISDIR(kind):
        raise IsADirectoryError(errno.EISDIR, "it is a folder", str(path))
    if not stat.S_ISREG(kind):
        raise OSError(errno.EINVAL, "it is a device or a pipe and no ordinary file", str(path))
    return target


def name_of_the_moment(target: Path) -> Path:
    """Return a name for a file that will take the place of ``target``, in the same folder."""
    token = secrets.token_hex(8)
    ending = re.sub(r"\W", "", target.suffix, flags=re.ASCII)[:10] or "tmp"
    return target.with_name(f".nesting-{_computer()}-{os.getpid()}-{token}.{ending}")


def put_in_place(temporary: Path, target: Path) -> None:
    """Let a file take the place of another in one step, with the permissions of the old one.

    Raises
    ------
    OSError
        If it cannot.
    """
    with contextlib.suppress(FileNotFoundError):
        temporary.chmod(target.stat().st_mode & 0o777)
    temporary.replace(target)


def clear_leftovers(folders: Iterable[Path]) -> None:
    """Remove files of the moment that processes of this computer left in folders and are gone.

    What a living process, another computer or another program owns stays. A folder that cannot be
    read, and a file that cannot be removed, are passed over.
    """
    for folder in set(folders):
        with contextlib.suppress(OSError):
            for path in list(folder.iterdir()):
                found = _OF_THE_MOMENT.fullmatch(path.name)
                if found is None or found["computer"] != _computer():
                    continue
                if not _is_alive(int(found["process"])):
                    with contextlib.suppress(OSError):
                        path.unlink()


def _computer() -> str:
    """Return a short print of this computer's name: folders may be shared with others."""
    return hashlib.sha256(platform.node().encode()).hexdigest()[:8]


def _is_alive(process: int) -> bool:
    """Tell whether a process of this computer lives, or cannot be asked."""
    if os.name != "posix":  # elsewhere asking might end it
        return True
    try:
        os.kill(process, 0)
    except (ProcessLookupError, OverflowError):
        return False
    except OSError:
        return True
    return True
