"""What a drawing of pieces holds, whatever the kind of its file."""

from collections.abc import Iterable
from dataclasses import dataclass
from urllib.parse import unquote

from pieces.piece import PieceShape

Fact = tuple[str, str]
"""An identifier in lower case and its value, as in ``("piece name", "front")``."""


@dataclass(frozen=True, kw_only=True)
class DrawnShape:
    """One outline of a drawing with its marks, in the coordinates of its own piece, mm.

    Parameters
    ----------
    name, size
        Of the piece; the size is empty where the drawing names none.
    shape
        Outline and marks.
    facts
        What else is written on it, in the order of the drawing.
    assumed
        What the reader had to assume about it, in sentences without its name.
    has_arrow
        Whether its grainline arrow is drawn; a piece on the bias has none of its own.
    """

    name: str
    size: str
    shape: PieceShape
    facts: tuple[Fact, ...] = ()
    assumed: tuple[str, ...] = ()
    has_arrow: bool = True


@dataclass(frozen=True, kw_only=True)
class Drawing:
    """All shapes of a drawing, what is written beside them, and what a reader assumed."""

    shapes: tuple[DrawnShape, ...]
    facts: tuple[Fact, ...] = ()
    notes: tuple[str, ...] = ()


def fact_of(text: str) -> Fact | None:
    """Return the fact in a text ``Identifier: value``, or None for any other text.

    Examples
    --------
    >>> fact_of("Piece Name: front"), fact_of("cut carefully")
    (('piece name', 'front'), None)
    """
    identifier, colon, value = text.partition(":")
    identifier = " ".join(identifier.replace("-", " ").replace("_", " ").split()).lower()
    return (identifier, plain(value.strip())) if colon and identifier else None


def written(value: str) -> str:
    r"""Write a value on one line: ``%`` and letters without a shape become ``%XX``.

    Examples
    --------
    >>> written("50 % wool\n")
    '50 %25 wool%0A'
    """
    inside = value.strip(" ")
    before, after = value[: len(value) - len(value.lstrip(" "))], value[len(value.rstrip(" ")) :]
    kept = "".join(c if c.isprintable() and c != "%" else _code(c) for c in inside)
    return _code(before) + kept + (_code(after) if inside else "")


def plain(value: str) -> str:
    """Return the value that :func:`written` wrote."""
    return unquote(value, errors="replace") if "%" in value else value


def listed(values: Iterable[str]) -> str:
    """Write several values as one, parted by semicolons.

    Examples
    --------
    >>> listed(["A", "B; C"]), parted("A; B%3B C")
    ('A; B%3B C', ['A', 'B; C'])
    """
    return "; ".join(written(value).replace(";", "%3B") for value in values)


def parted(text: str) -> list[str]:
    """Return the values that :func:`listed` wrote."""
    return [plain(value.strip()) for value in text.split(";") if value.strip()]


def first(facts: Iterable[Fact], identifier: str) -> str | None:
    """Return the value of the first fact of that name, or None."""
    return next((value for name, value in facts if name == identifier), None)


def _code(letter: str) -> str:
    return "".join(f"%{byte:02X}" for byte in letter.encode("utf-8", "replace"))
