"""The mapping file: what a drawing does not say itself, and what the names in it mean."""

from collections.abc import Mapping as Table
from dataclasses import dataclass, field
from pathlib import Path
from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from pieces.drawing.labels import Role
from pieces.drawing.limits import LARGEST_BYTES, naming
from pieces.errors import DrawingError, LengthError
from pieces.files.bounded_file import read_text
from pieces.files.faults import fault_sentence
from pieces.files.toml_text import parse_toml
from pieces.measures.parse import parse_length_mm
from pieces.sheet.pattern_sheet import one_line

_Role = Annotated[Role, Field(strict=False)]
"""A role by its word: in a strict table only a member would be taken."""


class _Table(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True, frozen=True, allow_inf_nan=False)


class OutlineTable(_Table):
    """One ``"path12" = { piece = "front", size = "M" }`` in ``[drawing.outlines]``."""

    piece: Annotated[str, Field(min_length=1)]
    size: str = ""


class DrawingTable(_Table):
    """The table ``[drawing]``."""

    unit: str | None = None
    dialect: str | None = None
    layers: dict[str, _Role] = {}
    roles: dict[str, _Role] = {}
    outlines: dict[str, OutlineTable] = {}

    @property
    def unit_mm(self) -> float | None:
        """Size of one unit of the drawing, mm, or None if it is not said."""
        return None if self.unit is None else unit_mm(self.unit)


@dataclass(frozen=True)
class Mapping:
    """What a mapping file says; without arguments nothing.

    Parameters
    ----------
    drawing
        About the names, layers and units of the drawing.
    sheet
        Tables of a pattern sheet that outweigh what the drawing says: name, sizes, cloths,
        views, notions, pieces (without shapes) and the rest.
    """

    drawing: DrawingTable = field(default_factory=DrawingTable)
    sheet: Table[str, Any] = field(default_factory=dict)


def read_mapping(path: Path | str) -> Mapping:
    """Read a mapping file.

    Raises
    ------
    DrawingError
        If it cannot be read, is no TOML, or its table ``[drawing]`` is not right.
    """
    path = Path(path)
    text = read_text(path, "mapping file", largest_bytes=LARGEST_BYTES, error=DrawingError)
    with naming(path):
        return parse_mapping(text)


def parse_mapping(text: str) -> Mapping:
    """Read a mapping from its text; see :func:`read_mapping`.

    Raises
    ------
    DrawingError
        If it is no TOML, or its table ``[drawing]`` is not right, its unit among them.
    """
    tables = parse_toml(text, "the mapping", error=DrawingError)
    try:
        drawing = DrawingTable.model_validate(tables.pop("drawing", {}))
    except ValidationError as error:
        told = fault_sentence(error.errors(include_url=False)[0])
        raise DrawingError(one_line(f"mapping [drawing]: {told}")) from error
    try:
        _ = drawing.unit_mm
    except LengthError as error:
        raise DrawingError(f"mapping [drawing.unit]: {error}") from error
    return Mapping(drawing, tables)


def unit_mm(text: str) -> float:
    """Return the size of one unit of a drawing, told as a unit or as a length, mm.

    Raises
    ------
    LengthError
        If it is neither.

    Examples
    --------
    >>> unit_mm("in"), unit_mm("0.1 mm")
    (25.4, 0.1)
    """
    word = text.strip()
    if word.lower() == "px":
        return parse_length_mm("1 in") / 96.0
    try:
        return parse_length_mm(f"1 {word}" if not any(c.isdigit() for c in word) else word)
    except LengthError as error:
        raise LengthError(
            f'unit "{word[:40]}" of the drawing is not known; give mm, cm, in, px or a length '
            "such as 0.1 mm"
        ) from error
