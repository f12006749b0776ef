"""A stranger's file read in a process of its own, with little memory and little time.

Run as ``python -m nesting.web.reading KIND NAME`` it takes the file on its standard input, writes
what it found as JSON, and can write to no file at all.
"""

import json
import subprocess
import sys
from collections.abc import Callable, Mapping
from pathlib import PurePosixPath

from nesting.languages import marked
from nesting.web.told import FieldError, UnreadError
from pieces.errors import PatternFileError, PiecesError
from pieces.pattern import Pattern
from pieces.pattern_file import format_pattern, parse_pattern

SECONDS = 20
"""Of computing; on a busy computer that takes longer by the clock."""
PATIENCE_S = 80.0
MEMORY_BYTES = 4_000_000_000
FIELD = "sheet"
Read = tuple[Pattern, tuple[str, ...]]


def _sheet(data: bytes, _name: str) -> Read:
    try:
        return parse_pattern(data.decode("utf-8-sig")), ()
    except UnicodeDecodeError:
        raise PatternFileError("the file is no UTF-8 text; save the sheet as UTF-8") from None


def _svg(data: bytes, name: str) -> Read:
    from pieces.drawing.to_pattern import pattern_of  # noqa: PLC0415 - only the child reads
    from pieces.svg_file import parse_svg  # noqa: PLC0415

    return pattern_of(parse_svg(data), name=name, mapping=None)


def _dxf(data: bytes, name: str) -> Read:
    from pieces.drawing.to_pattern import pattern_of  # noqa: PLC0415 - only the child reads
    from pieces.dxf_file import parse_dxf  # noqa: PLC0415

    return pattern_of(parse_dxf(data), name=name, mapping=None)


READERS: Mapping[str, Callable[[bytes, str], Read]] = {
    ".toml": _sheet,
    ".svg": _svg,
    ".dxf": _dxf,
}
"""How a file is read, by the ending of its name: another kind is added here."""


def read_handed_in(file_name: str, data: bytes) -> Read:
    """Return the pattern in a file that was handed in, and in sentences what was assumed.

    Parameters
    ----------
    file_name
        As the browser tells it: its ending says how to read it, and nothing is written under it.
    data
        What is in it.

    Raises
    ------
    FieldError
        If it is of no kind that can be read, is no pattern, or takes too long.
    """
    path = PurePosixPath(file_name.replace("\\", "/")[-200:])
    kind = path.suffix.lower()
    if kind not in READERS:
        raise FieldError(
            FIELD,
            marked("The file must end in {endings}; save it as one of these."),
            endings=", ".join(READERS),
        )
    name = "".join(letter for letter in path.stem if letter.isprintable())[:60] or "pattern"
    command = [sys.executable, "-m", "nesting.web.reading", kind, name]
    try:
        done = subprocess.run(
            command, input=data, capture_output=True, timeout=PATIENCE_S, check=True
        )
        told = json.loads(done.stdout)
    except subprocess.TimeoutExpired:
        raise FieldError(
            FIELD,
            marked("It took more than {seconds} s to read; simplify the drawing."),
            seconds=round(PATIENCE_S),
        ) from None
    except (subprocess.CalledProcessError, ValueError):
        raise FieldError(
            FIELD,
            marked(
                "It could not be read with the time and memory it may take; simplify the drawing."
            ),
        ) from None
    if "problem" in told:
        raise UnreadError(FIELD, PatternFileError(told["problem"]))
    return parse_pattern(told["sheet"]), tuple(told["notes"])


def main(kind: str, name: str) -> None:
    """Read standard input, and write a sheet with notes, or a problem, as JSON."""
    _bound()
    try:
        pattern, notes = READERS[kind](sys.stdin.buffer.read(), name)
        told = {"sheet": format_pattern(pattern), "notes": list(notes)}
    except PiecesError as problem:
        told = {"problem": str(problem)}
    sys.stdout.write(json.dumps(told))


def _bound() -> None:
    """Take little memory and time, and write nothing, where the system can hold one to it."""
    try:
        import resource  # noqa: PLC0415 - not on every system
    except ImportError:  # the time limit of the parent still holds
        return
    for what, most in (
        (resource.RLIMIT_AS, MEMORY_BYTES),
        (resource.RLIMIT_CPU, SECONDS),
        (resource.RLIMIT_FSIZE, 0),
    ):
        resource.setrlimit(what, (most, most))


if __name__ == "__main__":
    main(*sys.argv[1:])
