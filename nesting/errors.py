"""What the nesting package refuses, one class for each situation."""


class NestingError(Exception):
    """Root of every refusal about bolts, lays, markers and their files."""


class BoltError(NestingError, ValueError):
    """A bolt of cloth contradicts itself, such as selvages wider than the cloth."""


class LayError(NestingError, ValueError):
    """A lay asks for what the cloth or the pattern does not permit."""


class SpreadRefusedError(LayError):
    """The cloth or the pieces do not permit the way of spreading that was asked for."""


class StripError(NestingError, ValueError):
    """A strip or one of its items is not a problem that can be packed."""


class DoesNotFitError(NestingError, ValueError):
    """A piece is wider than the cloth in every way it may lie."""


class MarkerFileError(NestingError, ValueError):
    """A marker file cannot be read or written; the sentence names the place and the value."""


class EmptyMarkerError(NestingError, ValueError):
    """A measure was asked of a marker with nothing on it."""


class DrawError(NestingError, ValueError):
    """A picture cannot be drawn or written; the sentence names the file or the entry."""


class ReckoningError(NestingError, ValueError):
    """A sum of the trade was asked with a measure that cannot be."""


class ShoppingError(NestingError, ValueError):
    """A shopping list cannot be made: a cloth has no bolt, or a bolt no cloth."""


class CellFileError(NestingError, ValueError):
    """A kept cell of a yardage chart cannot be read or written; the sentence names the file."""


class LayStoppedError(NestingError):
    """The work was stopped on request before there was a whole answer."""


class OrderError(NestingError, ValueError):
    """An order list cannot be used; the sentence names its line."""


class BoltListError(NestingError, ValueError):
    """A list of bolts cannot be used; the sentence names the bolt and the value."""


class CompiledCodeError(NestingError):
    """Compiled code can be neither read nor written where it is kept; the sentence names it."""


class ParquetError(NestingError):
    """A table cannot be written as Parquet, since the library for it is not installed."""


class ClusterError(NestingError):
    """Other computers cannot lay: none is reached, or the one that shares out work was lost."""
