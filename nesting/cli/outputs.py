"""Files a command writes: looked at before the work, written all or none after it."""

import contextlib
import os
import secrets
from collections.abc import Callable, Mapping
from pathlib import Path

from nesting.cli.options import OptionError
from nesting.errors import NestingError

MARKER_ENDINGS = (".json",)
PICTURE_ENDINGS = (".png", ".svg", ".pdf")

Writer = Callable[[Path], None]


def check_output(option: str, path: Path | None, endings: tuple[str, ...]) -> None:
    """Refuse a file that could not be written, before any time is spent on its content.

    Raises
    ------
    OptionError
        If its ending is unknown, its folder is missing or closed, or it is a folder itself.
    """
    if path is None:
        return
    if path.suffix.lower() not in endings:
        listed = " or ".join([", ".join(endings[:-1]), endings[-1]] if endings[1:] else endings)
        raise OptionError(f"{option}: {path} must end in {listed}")
    folder = path.resolve().parent
    if not folder.is_dir():
        raise OptionError(f"{option}: folder {folder} does not exist; make it first")
    if path.is_dir():
        raise OptionError(f"{option}: {path} is a folder; give a file in it")
    if not os.access(folder, os.W_OK | os.X_OK):
        raise OptionError(f"{option}: folder {folder} cannot be written to; choose another")


def write_together(writers: Mapping[Path, Writer]) -> None:
    """Write every file under a name of the moment, then put all in their places.

    Raises
    ------
    OptionError
        If a file cannot be written; then none has changed.
    """
    targets = {path.resolve(): write for path, write in writers.items()}
    moment = {
        target: target.with_name(f".{secrets.token_hex(8)}{target.suffix}") for target in targets
    }
    try:
        for at_work, write in targets.items():
            write(moment[at_work])
        for at_work, temporary in moment.items():
            if at_work.is_file():
                temporary.chmod(at_work.stat().st_mode & 0o777)
            temporary.replace(at_work)
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
