"""The marker file: a marker as JSON, complete enough to be checked and drawn without the pattern.

Numbers are millimetres and degrees at full precision. The file is written beside its place and
then renamed, so a reader never meets half a marker.
"""

import json
from pathlib import Path
from typing import Annotated, Any, Literal

import numpy as np
from pydantic import BaseModel, ConfigDict, Field, ValidationError

from nesting.cloth.bolt import Bolt
from nesting.cloth.flaw import Flaw
from nesting.cloth.lay_rules import LayRules
from nesting.cloth.repeat import Axis, GivenUp, Repeat
from nesting.cloth.spread import Spread, Stretch
from nesting.errors import MarkerFileError, NestingError
from nesting.marker.cut_list import CutItem, Selection
from nesting.marker.marker import Bought, MadeBy, Marker
from nesting.marker.measure import with_bought
from nesting.marker.placement import Placement
from pieces.errors import PiecesError
from pieces.files.atomic_file import write_text_atomically
from pieces.files.bounded_file import read_text
from pieces.files.bounded_tables import refuse_too_much
from pieces.files.faults import fault_sentence
from pieces.grainline import Grain, Grainline
from pieces.marks import DrillHole, InternalLine, MatchPoint, MatchWay, Notch
from pieces.measures.parse import LONGEST_MM
from pieces.measures.price import parse_price
from pieces.measures.units import UnitSystem
from pieces.piece import PieceShape

VERSION = 3
"""Version 2 has what version 1 knew nothing of: repeat, flaws, shrinkage, ends, and garments.
Version 3 says what is bought."""
_SAYS_WHAT_IS_BOUGHT = 3
LARGEST_BYTES = 50_000_000
LONGEST_NAME = 600
"""Letters of a name; that of a cut item is made of those of its piece and its size."""
MOST_NAMED = 100_000

_Mm = Annotated[float, Field(ge=-LONGEST_MM, le=LONGEST_MM)]
_Length = Annotated[float, Field(ge=0.0, le=LONGEST_MM)]
_BoughtLength = Annotated[float, Field(ge=0.0, le=10.0 * LONGEST_MM)]
_Pair = tuple[_Mm, _Mm]


class _Table(BaseModel):
    model_config = ConfigDict(extra="forbid", allow_inf_nan=False, frozen=True)


class _Selection(_Table):
    view: str
    size: str
    garments: int


class _Repeat(_Table):
    along_mm: _Mm | None = None
    across_mm: _Mm | None = None
    even: bool


class _Flaw(_Table):
    at_mm: _Mm
    across_mm: _Mm
    long_mm: _Mm
    wide_mm: _Mm


class _Bolt(_Table):
    width_mm: _Mm
    selvage_mm: _Mm
    nap: bool
    price: str | None
    shop_step_mm: _Mm | None
    units: UnitSystem
    repeat: _Repeat | None = None
    cut_on_repeat: bool | None = None
    start_on_repeat: bool | None = None  # the other way about, in files of before
    flaws: tuple[_Flaw, ...] = ()
    shrink_along: float = 0.0
    shrink_across: float = 0.0
    end_allowance_mm: _Mm = 0.0
    length_left_mm: _Mm | None = None


class _Rules(_Table):
    spread: Spread
    tilt_deg: float
    gap_mm: _Mm = 0.0


class _Named(_Table):
    name: str
    at_mm: _Pair


class _Line(_Table):
    name: str
    points_mm: list[_Pair]


class _Shape(_Table):
    outline_mm: list[_Pair]
    grainline_mm: tuple[_Pair, _Pair]
    fold_edge_mm: tuple[_Pair, _Pair] | None = None
    notches_mm: list[_Pair] = []
    match_points: list[_Named] = []
    drill_holes_mm: list[_Pair] = []
    internal_lines: list[_Line] = []


class _Item(_Table):
    key: str
    title: str
    size: str
    grain: Grain
    one_way: bool
    as_drawn: int = Field(ge=0)
    turned_over: int = Field(ge=0)
    garments: tuple[int, ...] = Field(default=(1,), min_length=1)
    shape: _Shape
    half: _Shape | None = None


class _Stretch(_Table):
    spread: Spread
    start_mm: _Mm
    length_mm: _Mm


class _Placement(_Table):
    item: str
    number: int
    stretch: int
    turn_deg: float
    flipped: bool
    x_mm: _Mm
    y_mm: _Mm
    garment: int = Field(default=0, ge=0)


class _GivenUp(_Table):
    item: str
    point: str
    axis: Axis
    why: str = ""


class _MadeBy(_Table):
    version: str
    effort: str
    seconds: float | None
    seed: int
    workers: int


class _Bought(_Table):
    cut_length_mm: _BoughtLength
    begin_on_repeat_mm: _BoughtLength
    shop_length_mm: _BoughtLength


class _MarkerSheet(_Table):
    kind: Literal["marker"]
    version: int
    pattern: str
    cloth: str
    selections: list[_Selection]
    bolt: _Bolt
    rules: _Rules
    length_mm: _Length
    stretches: list[_Stretch]
    placements: list[_Placement]
    items: list[_Item]
    made_by: _MadeBy
    matching: dict[str, MatchWay] = {}
    given_up: list[_GivenUp] = []
    bought: _Bought | None = None


def write_marker(marker: Marker, path: Path | str) -> None:
    """Write ``marker`` to ``path``, all of it or nothing.

    Raises
    ------
    MarkerFileError
        If the file cannot be written.
    """
    try:
        write_text_atomically(path, format_marker(marker))
    except OSError as problem:
        raise MarkerFileError(
            f"marker file {path} cannot be written: {problem.strerror or problem}; "
            "choose a folder you may write to"
        ) from problem


def format_marker(marker: Marker) -> str:
    """Return the text of a marker file; what is bought for it is reckoned anew."""
    sheet = _MarkerSheet(
        kind="marker",
        version=VERSION,
        pattern=marker.pattern,
        cloth=marker.cloth,
        selections=[_Selection(**vars(one)) for one in marker.selections],
        bolt=_bolt_sheet(marker.bolt),
        rules=_Rules(**vars(marker.rules)),
        length_mm=marker.length_mm,
        stretches=[_Stretch(**vars(one)) for one in marker.stretches],
        placements=[_Placement(**vars(one)) for one in marker.placements],
        items=[_item_sheet(item) for item in marker.items],
        made_by=_MadeBy(**vars(marker.made_by)),
        matching=dict(marker.matching),
        given_up=[_GivenUp(**vars(one)) for one in marker.given_up],
        bought=_Bought(**vars(with_bought(marker).bought)),
    )
    told = sheet.model_dump(mode="json", exclude={"bolt": {"start_on_repeat"}})
    return json.dumps(told, ensure_ascii=False, indent=1) + "\n"


def read_marker(path: Path | str) -> Marker:
    """Read a marker file.

    Raises
    ------
    MarkerFileError
        If there is no such file, or it is not a marker file of a version this program knows.
    """
    text = read_text(path, "marker file", largest_bytes=LARGEST_BYTES, error=MarkerFileError)
    try:
        return parse_marker(text)
    except MarkerFileError as problem:
        raise MarkerFileError(f"marker file {path}: {problem}") from problem


def parse_marker(text: str) -> Marker:
    """Return the marker written in ``text``.

    Raises
    ------
    MarkerFileError
        If the text is not a marker file of a version this program knows.
    """
    try:
        raw = json.loads(text)
    except (ValueError, RecursionError) as problem:
        raise MarkerFileError(
            f"it is not JSON, as written by nesting lay --out: {problem}"
        ) from problem
    version = raw.get("version") if isinstance(raw, dict) else None
    if not isinstance(raw, dict) or raw.get("kind") != "marker" or not isinstance(version, int):
        raise MarkerFileError(
            'it is not a marker file, as written by nesting lay --out: "kind" must be "marker", '
            "with a version"
        )
    if not 1 <= version <= VERSION:
        raise MarkerFileError(
            f"it has version {version}; this program knows versions up to {VERSION}: update it"
        )
    if version >= _SAYS_WHAT_IS_BOUGHT and raw.get("bought") is None:
        raise MarkerFileError('key "bought" is missing')
    _refuse_half_letters(text, raw)
    try:
        refuse_too_much(
            raw, error=MarkerFileError, longest_name=LONGEST_NAME, most_named=MOST_NAMED
        )
        return _marker(_MarkerSheet.model_validate(raw))
    except ValidationError as problem:
        raise MarkerFileError(fault_sentence(problem.errors()[0])) from problem
    except (NestingError, PiecesError) as problem:
        raise MarkerFileError(str(problem)) from problem


def _refuse_half_letters(text: str, raw: dict[str, Any]) -> None:
    """Refuse an unpaired surrogate, which JSON can spell and no file and no terminal can hold."""
    try:
        text.encode("utf-8")
        if "\\ud" in text.lower():
            json.dumps(raw, ensure_ascii=False).encode("utf-8")
    except UnicodeEncodeError as problem:
        raise MarkerFileError(
            "a name in it holds half a letter (an unpaired surrogate), which cannot be written; "
            "write the name anew"
        ) from problem


def _marker(sheet: _MarkerSheet) -> Marker:
    keys = [item.key for item in sheet.items]
    if len(set(keys)) < len(keys):
        raise MarkerFileError("two cut items share a key; keys must differ")
    return Marker(
        pattern=sheet.pattern,
        cloth=sheet.cloth,
        selections=tuple(Selection(**one.model_dump()) for one in sheet.selections),
        bolt=_bolt(sheet.bolt),
        rules=LayRules(**sheet.rules.model_dump()),
        items=tuple(_item(item) for item in sheet.items),
        stretches=tuple(Stretch(**one.model_dump()) for one in sheet.stretches),
        placements=tuple(Placement(**one.model_dump()) for one in sheet.placements),
        length_mm=sheet.length_mm,
        made_by=MadeBy(**sheet.made_by.model_dump()),
        matching=sheet.matching,
        given_up=tuple(GivenUp(**one.model_dump()) for one in sheet.given_up),
        bought=None if sheet.bought is None else Bought(**sheet.bought.model_dump()),
    )


def _bolt_sheet(bolt: Bolt) -> _Bolt:
    fields: dict[str, Any] = dict(vars(bolt))
    fields["price"] = None if bolt.price is None else str(bolt.price)
    fields["repeat"] = None if bolt.repeat is None else _Repeat(**vars(bolt.repeat))
    fields["flaws"] = tuple(_Flaw(**vars(flaw)) for flaw in bolt.flaws)
    return _Bolt(**fields)


def _bolt(sheet: _Bolt) -> Bolt:
    fields = sheet.model_dump()
    fields["price"] = None if sheet.price is None else parse_price(sheet.price)
    fields["repeat"] = None if sheet.repeat is None else Repeat(**sheet.repeat.model_dump())
    fields["flaws"] = tuple(Flaw(**flaw.model_dump()) for flaw in sheet.flaws)
    bought_beside = fields.pop("start_on_repeat")
    if sheet.cut_on_repeat is None:
        fields["cut_on_repeat"] = sheet.repeat is not None and not bought_beside
    return Bolt(**fields)


def _item_sheet(item: CutItem) -> _Item:
    return _Item(
        key=item.key,
        title=item.title,
        size=item.size,
        grain=item.grain,
        one_way=item.one_way,
        as_drawn=item.as_drawn,
        turned_over=item.turned_over,
        garments=item.garments,
        shape=_shape_sheet(item.shape),
        half=None if item.half is None else _shape_sheet(item.half),
    )


def _item(sheet: _Item) -> CutItem:
    fields: dict[str, Any] = {name: getattr(sheet, name) for name in _Item.model_fields}
    fields["shape"] = _shape(sheet.shape)
    fields["half"] = None if sheet.half is None else _shape(sheet.half)
    return CutItem(**fields)


def _shape_sheet(shape: PieceShape) -> _Shape:
    return _Shape(
        outline_mm=shape.outline_mm.tolist(),
        grainline_mm=(shape.grainline.tail_mm, shape.grainline.head_mm),
        fold_edge_mm=shape.fold_edge_mm,
        notches_mm=[mark.at_mm for mark in shape.notches],
        match_points=[_Named(name=mark.name, at_mm=mark.at_mm) for mark in shape.match_points],
        drill_holes_mm=[mark.at_mm for mark in shape.drill_holes],
        internal_lines=[
            _Line(name=line.name, points_mm=line.points_mm.tolist())
            for line in shape.internal_lines
        ],
    )


def _shape(sheet: _Shape) -> PieceShape:
    return PieceShape(
        outline_mm=np.array(sheet.outline_mm, dtype=np.float64),
        grainline=Grainline(*sheet.grainline_mm),
        fold_edge_mm=sheet.fold_edge_mm,
        notches=tuple(Notch(at) for at in sheet.notches_mm),
        match_points=tuple(MatchPoint(mark.name, mark.at_mm) for mark in sheet.match_points),
        drill_holes=tuple(DrillHole(at) for at in sheet.drill_holes_mm),
        internal_lines=tuple(
            InternalLine(line.name, np.array(line.points_mm)) for line in sheet.internal_lines
        ),
    )
