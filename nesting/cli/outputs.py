"""Files a command writes: looked at before the work, written all or none after it."""

import contextlib
import os
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import fields
from pathlib import Path
from typing import Any

from nesting.cli.options import OptionError
from nesting.errors import NestingError
from pieces.files.atomic_file import (
    clear_leftovers,
    file_meant,
    name_of_the_moment,
    put_in_place,
)

MARKER_ENDINGS = (".json",)
PICTURE_ENDINGS = (".png", ".svg", ".pdf")

Writer = Callable[[Path], None]
Identity = tuple[object, ...]


def check_outputs(
    typed: Any,
    endings: Mapping[str, tuple[str, ...]],
    *,
    derived: Iterable[tuple[str, Path]] = (),
    read: Iterable[Path] = (),
) -> None:
    """Refuse files that could not be written, or would replace an input or another output.

    This comes before any time is spent on their content. Files are told apart by what they are,
    not by their names: a link and the file it leads to are one.

    Parameters
    ----------
    typed
        The options of a command. Those named in ``endings`` are outputs; every other path among
        them is an input.
    endings
        For each field that names an output, the endings it may have.
    derived
        Further files that will be written, each with the option it comes from.
    read
        Further files that will be read.

    Raises
    ------
    OptionError
        If an ending is unknown, a folder is missing or closed, what is there is no ordinary file,
        or two of the files are one.
    """
    taken = {
        identity: path
        for path in (*_inputs(typed, endings), *read)
        for identity in [_identity_of_input(path)]
        if identity is not None
    }
    outputs: dict[Identity, str] = {}
    wanted = [(_option(name), getattr(typed, name), known) for name, known in endings.items()]
    wanted += [(option, path, (path.suffix.lower(),)) for option, path in derived]
    for option, path, known in wanted:
        if path is None:
            continue
        target = _writable(option, path, known)
        identity = _identity(target)
        if identity in taken:
            raise OptionError(
                f"{option}: {path} is the file {taken[identity]}, which is read; choose another "
                "name, so that it is not lost"
            )
        if identity in outputs:
            raise OptionError(
                f"{option}: {path} is written by {outputs[identity]} already; choose another name"
            )
        outputs[identity] = option


def _option(name: str) -> str:
    return f"--{name.replace('_', '-')}"


def _inputs(typed: Any, outputs: Iterable[str]) -> Iterator[Path]:
    """Yield every path that was typed and is no output."""
    for one in fields(typed):
        value = getattr(typed, one.name)
        if one.name not in outputs:
            several = value if isinstance(value, list | tuple) else (value,)
            yield from (path for path in several if isinstance(path, Path))


def _identity_of_input(path: Path) -> Identity | None:
    """Return what a file is, or None if it is not there, of which its reader tells."""
    try:
        found = path.stat()
    except (OSError, ValueError):
        return None
    return found.st_dev, found.st_ino


def _identity(target: Path) -> Identity:
    """Return what a file is; one that is not there is a name in a folder."""
    try:
        found = target.stat()
    except FileNotFoundError:
        folder = target.parent.stat()
        return folder.st_dev, folder.st_ino, target.name
    return found.st_dev, found.st_ino


def _writable(option: str, path: Path, endings: tuple[str, ...]) -> Path:
    """Return the file that will be written, or refuse it."""
    if path.suffix.lower() not in endings:
        several = " or ".join([", ".join(endings[:-1]), endings[-1]] if endings[1:] else endings)
        raise OptionError(f"{option}: {path} must end in {several}")
    try:
        path.name.encode("utf-8")
        target = file_meant(path)
    except UnicodeEncodeError:
        raise OptionError(f"{option}: {path.name!a} is not text in UTF-8; choose a name") from None
    except IsADirectoryError:
        raise OptionError(f"{option}: {path} is a folder; give a file in it") from None
    except (OSError, ValueError) as problem:
        raise OptionError(
            f"{option}: {path} cannot be written: {getattr(problem, 'strerror', None) or problem}; "
            "give the name of an ordinary file"
        ) from problem
    folder = target.parent
    if not folder.is_dir():
        raise OptionError(f"{option}: folder {folder} does not exist; make it first")
    if not os.access(folder, os.W_OK | os.X_OK):
        raise OptionError(f"{option}: folder {folder} cannot be written to; choose another")
    return target


def write_together(writers: Mapping[Path, Writer]) -> None:
    """Write every file under a name of the moment, then put all in their places.

    What an earlier run left behind in these folders when it was killed is cleared away first.

    Raises
    ------
    OptionError
        If a file cannot be written; then none has changed. Only between two of the renames at the
        end can some be new and others old, if the system refuses one of them or the process is
        killed just then; each file by itself is whole even so.
    """
    moment: dict[Path, Path] = {}
    at_work = next(iter(writers), Path())
    try:
        for at_work, write in writers.items():
            target = file_meant(at_work)
            clear_leftovers([target.parent])
            moment[target] = name_of_the_moment(target)
            write(moment[target])
        for at_work, temporary in moment.items():
            put_in_place(temporary, file_meant(at_work))
    except OSError as problem:
        raise OptionError(
            f"{at_work} cannot be written: {problem.strerror or problem}; make room there, or "
            "choose a folder you may write to"
        ) from problem
    except NestingError as problem:
        told = str(problem)
        for target, temporary in moment.items():
            told = told.replace(str(temporary), str(target))
        raise OptionError(told) from problem
    finally:
        for temporary in moment.values():
            with contextlib.suppress(OSError):
                temporary.unlink(missing_ok=True)
