"""The tables of a pattern sheet as they stand in the file, and how their faults are told.

Only this module knows pydantic. It checks which keys there are and of what kind; whether the
values make sense together is for the pattern itself to say.
"""

from collections.abc import Iterable, Mapping
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Discriminator, Field, Tag, ValidationError

from pieces.errors import PatternFileError
from pieces.files.bounded_tables import refuse_too_much
from pieces.files.faults import shown, unknown_key, wanted

FORMAT = 1
"""Number of the sheet format written here; older programs refuse newer numbers."""

MOST_SIZES = 200
MOST_VERTICES = 200_000
"""Of all outlines of a sheet together."""

Pair = Annotated[list[float], Field(min_length=2, max_length=2)]
TwoPairs = Annotated[list[Pair], Field(min_length=2, max_length=2)]


class _Table(BaseModel):
    """A table of the sheet: no unknown keys, and no guessing of kinds."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True, allow_inf_nan=False)


def _plain_or_table(value: object) -> str:
    """Choose how an entry is read that may be short or a table of its own."""
    return _TABLE if isinstance(value, dict | BaseModel) else _PLAIN


_PLAIN, _TABLE = "<plain>", "<table>"
_ByShape = Discriminator(_plain_or_table)
_PlainInt = Annotated[int, Tag(_PLAIN)]
_PlainStr = Annotated[str, Tag(_PLAIN)]
_Counts = Annotated[dict[str, int], Tag(_TABLE)]
_Lengths = Annotated[dict[str, str], Tag(_TABLE)]


class ClothTable(_Table):
    """One ``[cloths.NAME]``."""

    about: str = ""
    suggested: list[str] = []
    ask_for: str = ""
    hang: str = ""


class ViewTable(_Table):
    """One ``[views.NAME]``."""

    pieces: list[str]
    about: str = ""


class NotionTable(_Table):
    """One ``[[notions]]``."""

    name: str
    detail: str = ""
    kind: Literal["button", "elastic", "cord", "ribbon", "zip", "thread", "other"] = "other"
    size: str | None = None
    views: list[str] = []
    count: Annotated[_PlainInt | _Counts, _ByShape] | None = None
    length: Annotated[_PlainStr | _Lengths, _ByShape] | None = None


class CutTable(_Table):
    """One ``{ count = 2, pair = true }`` in ``[pieces.NAME.cut]``."""

    count: int
    pair: bool = False


class LineTable(_Table):
    """One ``[[pieces.NAME.sizes.SIZE.internal_lines]]``."""

    name: str
    points: list[Pair]


class FigureTable(_Table):
    """One ``shape = { kind = "rectangle", width = "30 cm", height = "40 cm" }``."""

    kind: str
    width: str | None = None
    height: str | None = None
    bottom: str | None = None
    top: str | None = None
    diameter: str | None = None
    inner: str | None = None
    outer: str | None = None
    waist: str | None = None
    length: str | None = None
    seams: str | None = None
    waist_seam: str | None = None
    angle: float | None = None
    part: str | None = None
    folded: bool | None = None


class ChangeTable(_Table):
    """One ``lengthen = { at = [x, y], by = "3 cm" }`` or ``shorten = ...``."""

    at: Pair
    by: str
    over: str | None = None


class ShapeTable(_Table):
    """One ``[pieces.NAME.sizes.SIZE]``."""

    outline: list[Pair] | None = None
    grainline: TwoPairs | None = None
    shape: FigureTable | None = None
    fold: str | None = None
    edges: dict[str, TwoPairs] = {}
    seam: Annotated[_PlainStr | _Lengths, _ByShape] | None = None
    lengthen: ChangeTable | None = None
    shorten: ChangeTable | None = None
    fold_edge: TwoPairs | None = None
    notches: list[Pair] = []
    drill_holes: list[Pair] = []
    match_points: dict[str, Pair] = {}
    internal_lines: list[LineTable] = []


class PieceTable(_Table):
    """One ``[pieces.NAME]``."""

    cut: dict[str, Annotated[_PlainInt | Annotated[CutTable, Tag(_TABLE)], _ByShape]]
    sizes: dict[str, ShapeTable]
    title: str | None = None
    grain: Literal["lengthwise", "crosswise", "bias", "free"] = "lengthwise"
    one_way: bool = False
    note: str = ""


class SheetTable(_Table):
    """The whole file."""

    format: int
    name: str
    units: Literal["mm", "cm", "in"]
    sizes: list[str]
    cloths: dict[str, ClothTable]
    views: dict[str, ViewTable]
    pieces: dict[str, PieceTable]
    notions: list[NotionTable] = []
    matching: dict[str, Literal["along", "across", "both", "none"]] = {}
    cautions: list[str] = []
    seam_allowance: str | None = None
    note: str = ""
    wearer: Literal["adult", "child"] | None = None
    ages: Annotated[list[int], Field(min_length=2, max_length=2)] | None = None
    garment: Literal["sleepwear", "upper outerwear", "other clothing", "not clothing"] | None = None


def read_sheet(tables: Mapping[str, Any]) -> SheetTable:
    """Turn the raw tables of a file into a sheet.

    Raises
    ------
    PatternFileError
        With one sentence about the first fault: the table, the key, and what was expected.
    """
    number = tables.get("format")
    if isinstance(number, int) and not isinstance(number, bool) and number != FORMAT:
        raise PatternFileError(
            f"the sheet has format {shown(number)}, and this version reads format {FORMAT}; "
            + ("use a newer version" if number > FORMAT else f"write format = {FORMAT}")
        )
    refuse_too_much(tables, error=PatternFileError)
    _refuse_many(tables)
    try:
        return SheetTable.model_validate(tables)
    except ValidationError as error:
        faults = error.errors(include_url=False)
    # An unknown key often explains the missing one beside it, so it is told first.
    fault = next((f for f in faults if f["type"] == "extra_forbidden"), faults[0])
    raise PatternFileError(one_line(_sentence(fault["loc"], fault, tables)))


def _refuse_many(tables: Mapping[str, Any]) -> None:
    """Refuse more sizes, or more vertices together, than a pattern can have."""
    sizes = tables.get("sizes")
    if isinstance(sizes, list) and len(sizes) > MOST_SIZES:
        raise PatternFileError(
            f"the sheet has {len(sizes):,} sizes; {MOST_SIZES} are the limit, so divide it"
        )
    pieces = tables.get("pieces")
    of_pieces = [one.get("sizes") for one in _tables_in(pieces)]
    outlines = [shape.get("outline") for of in of_pieces for shape in _tables_in(of)]
    vertices = sum(len(outline) for outline in outlines if isinstance(outline, list))
    if vertices > MOST_VERTICES:
        raise PatternFileError(
            f"the outlines of the sheet have {vertices:,} vertices together; {MOST_VERTICES:,} are "
            "the limit, so draw its curves with fewer, or divide the sheet"
        )


def _tables_in(value: object) -> list[Mapping[str, Any]]:
    """Return the tables in a table, whatever else is in it."""
    inside = value.values() if isinstance(value, dict) else ()
    return [one for one in inside if isinstance(one, dict)]


def one_line(sentence: str) -> str:
    r"""Write line ends and other unprintable letters as escapes: names may hold any letter.

    Examples
    --------
    >>> print(one_line("piece 'a\nb'"))
    piece 'a\nb'
    """
    letters = (c if c.isprintable() else c.encode("unicode_escape").decode() for c in sentence)
    return "".join(letters)


def place_words(path: Iterable[str | int], tables: Mapping[str, Any]) -> tuple[str, list[str]]:
    """Split the path of a fault into the table in our words and the keys left over.

    Examples
    --------
    >>> place_words(("pieces", "front", "sizes", "M", "outline", 2), {})
    ('piece "front", size M: ', ['outline', '2'])
    """
    keys = [str(key) for key in path]
    match keys:
        case ["pieces", piece, "sizes", size, *rest]:
            return f'piece "{piece}", size {size}: ', rest
        case ["pieces", piece, "cut", cloth, *rest]:
            return f'piece "{piece}", cut "{cloth}": ', rest
        case ["pieces", piece, *rest]:
            return f'piece "{piece}": ', rest
        case ["cloths", cloth, *rest]:
            return f'cloth "{cloth}": ', rest
        case ["views", view, *rest]:
            return f'view "{view}": ', rest
        case ["matching", point, *rest]:
            return f'matching "{point}": ', rest
        case ["notions", number, *rest] if number.isdigit():
            return f"notion {_notion_name(int(number), tables)}: ", rest
        case _:
            return "", keys


def _notion_name(index: int, tables: Mapping[str, Any]) -> str:
    try:
        return f'"{tables["notions"][index]["name"]}"'
    except (KeyError, IndexError, TypeError):
        return f"number {index + 1}"


def _sentence(path: tuple[str | int, ...], fault: Any, tables: Mapping[str, Any]) -> str:
    path = tuple(key for key in path if key not in (_PLAIN, _TABLE))  # words of pydantic
    where, rest = place_words(path, tables)
    kind = fault["type"]
    if kind == "extra_forbidden":
        return f"{where}{unknown_key(rest[-1], _model_at(path[:-1]).model_fields)}"
    if kind == "missing":
        table = " of the sheet" if not where else ""
        return f'{where}key "{rest[-1]}"{table} is missing; add it'
    what = _value_words(rest) or "this"
    must = _wanted(kind, fault)
    if kind in ("too_short", "too_long") and rest in (["grainline"], ["fold_edge"]):
        must = "must be two points [[x, y], [x, y]]"
    elif rest == ["ages"]:
        must = "must be two whole numbers [youngest, oldest]"
    elif kind == "too_long":
        must += ", with a point and no comma inside a number"
    return f"{where}{what} {must}, not {shown(fault['input'])}"


def _value_words(rest: list[str]) -> str:
    """Write keys left over as ``outline point 3``: people count from one."""
    words: list[str] = []
    for i, key in enumerate(rest):
        pair_index = i == len(rest) - 1 and i >= 1 and rest[i - 1].isdigit()
        if key.isdigit() and pair_index:
            words.append("x" if key == "0" else "y")
        elif key.isdigit():
            words.append(f"{'point' if rest[0] in _POINTS else 'entry'} {int(key) + 1}")
        else:
            words.append(key if i == 0 else f'"{key}"')
    return " ".join(words)


_POINTS = ("outline", "grainline", "fold_edge", "notches", "drill_holes")


def _wanted(kind: str, fault: Any) -> str:
    return "must be a pair [x, y]" if kind in ("too_short", "too_long") else wanted(fault)


_MODELS: tuple[tuple[tuple[str | None, ...], type[BaseModel]], ...] = (
    (("pieces", None, "sizes", None, "internal_lines", None), LineTable),
    (("pieces", None, "sizes", None, "shape"), FigureTable),
    (("pieces", None, "sizes", None, "lengthen"), ChangeTable),
    (("pieces", None, "sizes", None, "shorten"), ChangeTable),
    (("pieces", None, "sizes", None), ShapeTable),
    (("pieces", None, "cut", None), CutTable),
    (("pieces", None), PieceTable),
    (("cloths", None), ClothTable),
    (("views", None), ViewTable),
    (("notions", None), NotionTable),
)


def _model_at(path: tuple[str | int, ...]) -> type[BaseModel]:
    for keys, model in _MODELS:
        if len(keys) == len(path) and all(
            key in (None, here) for key, here in zip(keys, path, strict=True)
        ):
            return model
    return SheetTable
