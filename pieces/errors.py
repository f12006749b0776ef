"""What the pieces package refuses, one class for each situation, and how names are told then."""

from collections.abc import Iterable

MOST_LISTED = 12
"""Names that a refusal lists."""
LONGEST_SHOWN = 60
"""Letters of a name that a refusal shows."""


class PiecesError(Exception):
    """Root of every refusal about lengths, outlines, pieces and pattern files."""


class LengthError(PiecesError, ValueError):
    """A length, step or percentage cannot be read, or is out of range."""


class OutlineError(PiecesError, ValueError):
    """An outline is not a simple polygon with a sensible area."""


class PieceError(PiecesError, ValueError):
    """A piece contradicts itself: its cut counts, fold edge, grainline or marks."""


class PatternError(PiecesError, ValueError):
    """A pattern contradicts itself: its sizes, views, cloths, notions or pieces."""


class PatternFileError(PiecesError, ValueError):
    """A pattern sheet cannot be read or written; the sentence names the table and the value."""


class DrawingError(PiecesError, ValueError):
    """A drawing cannot be read as pieces, is larger than sense allows, or cannot be written."""


class PhotoError(DrawingError):
    """A photograph cannot be read as pieces, or not as exactly as cutting asks for."""


class ShapeError(PiecesError, ValueError):
    """Measures give no shape, or an allowance or a change of length cannot be made."""


class UnknownNameError(PiecesError, LookupError):
    """A view, size, cloth or piece was asked for that the pattern does not have."""


def listed(names: Iterable[str]) -> str:
    """Return names for a sentence, the first :data:`MOST_LISTED` of them, each cut short.

    Examples
    --------
    >>> listed(["S", "M"]), listed(str(n) for n in range(1000))
    ('S, M', '0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11 and 988 more')
    """
    every = list(names)
    some = ", ".join(cut_short(name) for name in every[:MOST_LISTED])
    more = len(every) - MOST_LISTED
    return f"{some} and {more:,} more" if more > 0 else some


def cut_short(name: str) -> str:
    """Return a name as a sentence shows it: the end of a very long one is left out."""
    return name if len(name) <= LONGEST_SHOWN else f"{name[: LONGEST_SHOWN - 3]}..."
