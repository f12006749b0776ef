"""The patterns the page offers: sheets of one folder, and what visitors handed in."""

import secrets
import threading
import time
from collections import OrderedDict
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from nesting.web.problems import GoneError
from pieces.errors import PatternError, PiecesError
from pieces.finding import Severity
from pieces.pattern import Pattern
from pieces.sheet.pattern_file import read_pattern
from pieces.sheet.piece_checks import check_pattern

MOST_EACH = 8
MOST_HANDED_IN = 50
OLDEST_S = 12 * 3600.0
OWN = "own-"


@dataclass(frozen=True)
class Photographed:
    """What is kept of photographs that a pattern was read from.

    Parameters
    ----------
    picture
        The photographs with the pieces drawn over them, a JPEG file.
    mm_per_px, misfit_mm, error_mm
        As :class:`pieces.photo.accuracy.Accuracy` has them.
    """

    picture: bytes
    mm_per_px: float
    misfit_mm: float | None
    error_mm: float


@dataclass(frozen=True)
class Origin:
    """Where a pattern came from: what was assumed when it was read, and the photographs."""

    notes: tuple[str, ...] = ()
    photo: Photographed | None = None


NOTHING_TOLD = Origin()


@dataclass(frozen=True)
class HandedIn:
    """A pattern somebody handed in: whose it is, where it came from and since when."""

    visitor: str
    pattern: Pattern
    origin: Origin
    since: float


class Library:
    """Patterns by key. What a visitor types is looked up and never becomes a path.

    Parameters
    ----------
    folder
        Where the sheets are; every ``.toml`` file directly in it that can be read is offered.
    """

    def __init__(self, folder: Path) -> None:
        self._files = {path.stem: path for path in sorted(folder.glob("*.toml"))}
        self._read: dict[str, tuple[float, Pattern]] = {}
        self._handed_in: OrderedDict[str, HandedIn] = OrderedDict()
        self._lock = threading.Lock()

    def shelf(self, visitor: str) -> "Shelf":
        """Return what one visitor may use."""
        return Shelf(self, visitor)

    def names(self) -> tuple[str, ...]:
        """Return the keys of the sheets in the folder."""
        return tuple(self._files)

    def sheet(self, key: str) -> Pattern:
        """Return the pattern of a sheet in the folder, read again when the file has changed.

        Raises
        ------
        PiecesError
            If there is none, or it cannot be used.
        """
        if key not in self._files:
            raise PatternError("that pattern is not here; choose one of the list, or hand it in")
        path = self._files[key]
        changed = path.stat().st_mtime
        if key not in self._read or self._read[key][0] != changed:
            self._read[key] = changed, checked(read_pattern(path))
        return self._read[key][1]

    def handed_in(self, visitor: str) -> dict[str, HandedIn]:
        """Return what a visitor handed in and is still kept, by key."""
        with self._lock:
            self._forget_old()
            return {key: one for key, one in self._handed_in.items() if one.visitor == visitor}

    def keep(self, key: str, one: HandedIn) -> None:
        """Keep a pattern in memory; the oldest of the visitor, and of all, make room."""
        with self._lock:
            self._forget_old()
            self._handed_in[key] = one
            self._handed_in.move_to_end(key)
            own = [name for name, kept in self._handed_in.items() if kept.visitor == one.visitor]
            for name in own[: max(0, len(own) - MOST_EACH)]:
                del self._handed_in[name]
            while len(self._handed_in) > MOST_HANDED_IN:
                self._handed_in.popitem(last=False)

    def _forget_old(self) -> None:
        now = time.monotonic()
        for key in [k for k, one in self._handed_in.items() if now - one.since > OLDEST_S]:
            del self._handed_in[key]


@dataclass(frozen=True)
class Shelf:
    """The patterns one visitor may use: those of the folder, and those they handed in."""

    library: Library
    visitor: str

    def titles(self) -> Iterator[tuple[str, str]]:
        """Yield key and name of every pattern that can be used."""
        for key in self.library.names():
            try:
                yield key, self.library.sheet(key).name
            except PiecesError:
                continue
        for key, one in self.library.handed_in(self.visitor).items():
            yield key, one.pattern.name

    def pattern(self, key: str) -> Pattern:
        """Return a pattern by its key.

        Raises
        ------
        GoneError
            If it was handed in, and is not kept any more or is somebody else's.
        PiecesError
            If there is none, or its sheet cannot be used.
        """
        if not key.startswith(OWN):
            return self.library.sheet(key)
        return self._own(key).pattern

    def origin(self, key: str) -> Origin:
        """Return where a pattern came from; of one of the folder nothing is told.

        Raises
        ------
        GoneError
            If it was handed in, and is not kept any more or is somebody else's.
        """
        return self._own(key).origin if key.startswith(OWN) else NOTHING_TOLD

    def hand_in(self, pattern: Pattern, origin: Origin = NOTHING_TOLD, *, key: str = "") -> str:
        """Keep a pattern and return its key; a key of one's own is kept up, with what is new.

        Raises
        ------
        PiecesError
            If it cannot be used.
        """
        if not (key.startswith(OWN) and key in self.library.handed_in(self.visitor)):
            key = OWN + secrets.token_urlsafe(12)
        one = HandedIn(self.visitor, checked(pattern), origin, time.monotonic())
        self.library.keep(key, one)
        return key

    def _own(self, key: str) -> HandedIn:
        try:
            return self.library.handed_in(self.visitor)[key]
        except KeyError:
            raise GoneError(key) from None


def checked(pattern: Pattern) -> Pattern:
    """Return a pattern without errors.

    Raises
    ------
    PatternError
        With the first error.
    """
    for finding in check_pattern(pattern):
        if finding.severity is Severity.ERROR:
            raise PatternError(finding.sentence)
    return pattern
