"""What strangers hand in: a sheet, a drawing or photographs, each read by a process of its own."""

import base64
import json
import os
import subprocess
import sys
import threading
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import PurePosixPath
from typing import Any

from nesting.languages import marked
from nesting.web.isolated_reader import PHOTOS, READERS
from nesting.web.jobs import Stopper
from nesting.web.library import Origin, Photographed
from nesting.web.problems import FieldError, UnreadError
from pieces.pattern import Pattern
from pieces.photo.photo_file import ENDINGS as PHOTO_ENDINGS
from pieces.photo.photo_file import MOST_PHOTOS
from pieces.sheet.pattern_file import parse_pattern

PATIENCE_S = 80.0
LOOK_S = 0.2
BESIDE = {
    "marks": marked("printed pages of marks"),
    "a4": marked("one blank A4 sheet"),
    "letter": marked("one blank Letter sheet"),
}
"""What may lie beside the paper, the value of a form first."""
GRAINS = {
    "drawn": marked("drawn on each piece"),
    "90": marked("up the photograph"),
    "0": marked("to its right"),
}
"""Where the grainlines are."""
Handed = tuple[Pattern, Origin]


@dataclass(frozen=True)
class _Field:
    """A field that takes files, and what is said of it where they ask too much."""

    name: str
    too_long: str
    too_much: str


_SHEET = _Field(
    "sheet",
    marked("It took more than {seconds} s to read; simplify the drawing."),
    marked("It could not be read with the time and memory it may take; simplify the drawing."),
)
_PHOTOS = _Field(
    "photos",
    marked("It took more than {seconds} s to read; hand in fewer or smaller photographs."),
    marked(
        "It could not be read with the time and memory it may take; hand in fewer or smaller "
        "photographs."
    ),
)


def _never() -> bool:
    return False


def read_handed_in(file_name: str, data: bytes, *, stopped: Stopper = _never) -> Handed:
    """Return the pattern in a file that was handed in, and in sentences what was assumed.

    Parameters
    ----------
    file_name
        As the browser tells it: its ending says how to read it, and nothing is written under it.
    data
        What is in it.
    stopped
        Asked now and then; once it is true, reading ends.

    Raises
    ------
    FieldError
        If it is of no kind that can be read, is no pattern, or takes too long.
    """
    kind, name = _named(file_name)
    if kind in PHOTO_ENDINGS:
        raise FieldError(
            _SHEET.name,
            marked('That is a photograph; hand it in on the page "Photograph paper pieces".'),
        )
    if kind not in READERS:
        raise FieldError(
            _SHEET.name,
            marked("The file must end in {endings}; save it as one of these."),
            endings=", ".join(READERS),
        )
    told = {"kind": kind, "name": name or "pattern", "sizes": [len(data)]}
    answer = _read_apart(told, data, _SHEET, stopped)
    return parse_pattern(answer["sheet"]), Origin(tuple(answer["notes"]))


def read_photographs(
    photos: Sequence[tuple[str, bytes]],
    *,
    beside: str,
    grain: str,
    name: str,
    stopped: Stopper = _never,
) -> Handed:
    """Return the pattern in photographs of paper pieces, and what was found and assumed.

    Parameters
    ----------
    photos
        Name and content of each file.
    beside, grain
        A key of :data:`BESIDE`, and one of :data:`GRAINS`.
    name
        Of the pattern; that of the first file if empty.
    stopped
        Asked now and then; once it is true, reading ends.

    Raises
    ------
    FieldError
        If a field, or a file, cannot be used, or it takes too long.
    """
    if not 1 <= len(photos) <= MOST_PHOTOS:
        raise FieldError(
            _PHOTOS.name,
            marked("Hand in 1 to {most} photographs, not {count}."),
            most=MOST_PHOTOS,
            count=len(photos),
        )
    for field, typed, known in (("beside", beside, BESIDE), ("grain", grain, GRAINS)):
        if typed not in known:
            raise FieldError(field, marked('"{typed}" is not to be chosen.'), typed=typed[:40])
    kinds = [_named(file_name)[0] for file_name, _ in photos]
    if not set(kinds) <= set(PHOTO_ENDINGS):
        raise FieldError(
            _PHOTOS.name,
            marked("A photograph must end in {endings}; save it as one of these."),
            endings=", ".join(PHOTO_ENDINGS),
        )
    told = {
        "kind": PHOTOS,
        "name": _printable(name) or _named(photos[0][0])[1] or "pattern",
        "sizes": [len(data) for _, data in photos],
        "beside": "" if beside == "marks" else beside,
        "grain_deg": None if grain == "drawn" else float(grain),
    }
    data = b"".join(content for _, content in photos)
    answer = _read_apart(told, data, _PHOTOS, stopped)
    photo = answer["photo"]
    shown = Photographed(
        base64.b64decode(photo["picture"]),
        photo["mm_per_px"],
        photo["misfit_mm"],
        photo["error_mm"],
    )
    return parse_pattern(answer["sheet"]), Origin(tuple(answer["notes"]), shown)


def _named(file_name: str) -> tuple[str, str]:
    """Return the ending of a file's name and what can be shown of the rest."""
    path = PurePosixPath(file_name.replace("\\", "/")[-200:])
    return path.suffix.lower(), _printable(path.stem)


def _printable(text: str) -> str:
    return "".join(letter for letter in text if letter.isprintable())[:60].strip()


def _read_apart(
    told: Mapping[str, Any], data: bytes, field: _Field, stopped: Stopper
) -> dict[str, Any]:
    """Return what the process found.

    Raises
    ------
    FieldError
        With its problem, or that it took too long or too much, or was stopped.
    """
    told = {**told, "parent": os.getpid()}
    command = [sys.executable, "-m", "nesting.web.isolated_reader", json.dumps(told)]
    pipe = subprocess.PIPE
    with subprocess.Popen(command, stdin=pipe, stdout=pipe, stderr=pipe) as process:
        try:
            said = _said(process, data, stopped)
        finally:
            process.kill()
    if said is None:
        raise FieldError(field.name, field.too_long, seconds=round(PATIENCE_S))
    try:
        answer: dict[str, Any] = json.loads(said if process.returncode == 0 else b"")
    except ValueError:
        raise FieldError(field.name, field.too_much) from None
    if "problem" in answer:
        raise UnreadError(field.name, answer["problem"])
    return answer


def _said(process: "subprocess.Popen[bytes]", data: bytes, stopped: Stopper) -> bytes | None:
    """Return what a process says of its input, or None if it takes too long or is stopped."""
    is_over = threading.Event()

    def watch() -> None:
        while not is_over.wait(LOOK_S):
            if stopped():
                process.kill()

    threading.Thread(target=watch, daemon=True).start()
    try:
        said = process.communicate(data, timeout=PATIENCE_S)[0]
    except subprocess.TimeoutExpired:
        return None
    finally:
        is_over.set()
    return None if stopped() else said
