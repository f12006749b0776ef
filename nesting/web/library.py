"""The patterns the page offers: sheets of one folder, and sheets handed in by visitors."""

import hashlib
from collections import OrderedDict
from collections.abc import Iterator
from pathlib import Path

from pieces.errors import PatternError, PiecesError
from pieces.finding import Severity
from pieces.pattern import Pattern
from pieces.pattern_file import parse_pattern, read_pattern
from pieces.piece_checks import check_pattern

MOST_HANDED_IN = 50


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
        self._handed_in: OrderedDict[str, Pattern] = OrderedDict()

    def titles(self) -> Iterator[tuple[str, str]]:
        """Yield key and name of every pattern that can be used."""
        for key in (*self._files, *self._handed_in):
            try:
                yield key, self.pattern(key).name
            except PiecesError:
                continue

    def pattern(self, key: str) -> Pattern:
        """Return a pattern by its key.

        Raises
        ------
        PiecesError
            If there is none, or its sheet cannot be used.
        """
        if key in self._handed_in:
            return self._handed_in[key]
        if key not in self._files:
            raise PatternError("that pattern is not here; choose one of the list, or hand it in")
        path = self._files[key]
        changed = path.stat().st_mtime
        if key not in self._read or self._read[key][0] != changed:
            self._read[key] = changed, checked(read_pattern(path))
        return self._read[key][1]

    def hand_in(self, text: str) -> str:
        """Keep a sheet in memory, the oldest making room, and return its key.

        Raises
        ------
        PiecesError
            If it cannot be used.
        """
        pattern = checked(parse_pattern(text))
        key = "own-" + hashlib.sha256(text.encode("utf-8")).hexdigest()[:12]
        self._handed_in[key] = pattern
        self._handed_in.move_to_end(key)
        while len(self._handed_in) > MOST_HANDED_IN:
            self._handed_in.popitem(last=False)
        return key


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
