"""What the pieces package refuses, one class for each situation."""


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
