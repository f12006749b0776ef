"""How much a drawing from a stranger may ask of this computer, and its file read within that."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from pieces.errors import DrawingError
from pieces.files.bounded_file import read_bytes

LARGEST_BYTES = 20_000_000
MOST_ELEMENTS = 200_000
DEEPEST = 64
MOST_SHAPES = 20_000
MOST_VERTICES = 200_000
MOST_PIECES = 1_000
LONGEST_WORDS = 2_000


class Budget:
    """Counts what has been read of one drawing, and refuses more than the limits."""

    def __init__(self) -> None:
        """Begin with nothing read."""
        self._shapes = 0
        self._elements = 0
        self._vertices = 0

    def take_shape(self) -> None:
        """Count one shape, or raise :class:`DrawingError`."""
        self._shapes += 1
        if self._shapes > MOST_SHAPES:
            raise DrawingError(
                f"the drawing has more than {MOST_SHAPES:,} shapes; keep only the pattern pieces"
            )

    def take_element(self) -> None:
        """Count one element that is visited, or raise :class:`DrawingError`."""
        self._elements += 1
        if self._elements > 2 * MOST_ELEMENTS:
            raise DrawingError("clones and inserts multiply the drawing beyond measure; undo some")

    def take_vertices(self, count: int) -> None:
        """Count vertices, or raise :class:`DrawingError`."""
        self._vertices += count
        if self._vertices > MOST_VERTICES:
            raise DrawingError(
                f"the drawing has more than {MOST_VERTICES:,} points; simplify its paths, or "
                "check its units"
            )


@contextmanager
def naming(path: Path) -> Iterator[None]:
    """Put the file before what is refused of it, unless the sentence names it already."""
    try:
        yield
    except DrawingError as error:
        told = str(error)
        raise DrawingError(told if str(path) in told else f"{path}: {told}") from error


def bytes_of(path: Path, what: str = "drawing") -> bytes:
    """Read a drawing, if it is not too large.

    Raises
    ------
    DrawingError
        If there is no such file, it cannot be read, or it has more than 20 MB.
    """
    return read_bytes(path, what, largest_bytes=LARGEST_BYTES, error=DrawingError)
