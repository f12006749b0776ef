"""The cell file: one lay of a yardage chart, kept so that it is never computed twice.

It holds where the pieces lie and how the search ended. Everything else follows from the request,
whose fingerprint is the name of the file; the marker is checked anew when it is read.
"""

import json
from dataclasses import replace
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from nesting.answers.chart.fingerprint import fingerprint
from nesting.answers.compare import CompareRow
from nesting.cloth.repeat import Axis, GivenUp
from nesting.cloth.spread import Spread, Stretch
from nesting.engine import StoppedBy
from nesting.errors import CellFileError
from nesting.lay import LayRequest, LayResult, TriedSpread, judged
from nesting.marker.cut_list import cut_list
from nesting.marker.marker import MadeBy, Marker
from nesting.marker.placement import Placement
from nesting.plan.bounds import LowerBound
from nesting.version import __version__

VERSION: Literal[3] = 3
"""Version 2 tells how the cloth was spread, version 3 what no marker at all can beat.

The version is part of the name of a file, so that cells of before are laid anew.
"""

_Length = Annotated[float, Field(ge=0.0)]


class _Table(BaseModel):
    model_config = ConfigDict(extra="forbid", allow_inf_nan=False, frozen=True)


class _Stretch(_Table):
    spread: Spread
    start_mm: _Length
    length_mm: _Length


class _Placement(_Table):
    item: str
    number: int
    stretch: int
    turn_deg: float
    flipped: bool
    x_mm: float
    y_mm: float
    garment: int


class _GivenUp(_Table):
    item: str
    point: str
    axis: Axis
    why: str


class _Tried(_Table):
    spread: Spread
    marker_length_mm: float | None
    cut_length_mm: float | None
    shop_length_mm: float | None
    refusal: str


class _KeptLay(_Table):
    spread: Spread
    tried: tuple[_Tried, ...]
    stretches: tuple[_Stretch, ...]
    placements: tuple[_Placement, ...]
    length_mm: _Length
    given_up: tuple[_GivenUp, ...]
    lower_bound_mm: _Length
    lower_bound_reason: str
    open_bound_mm: _Length
    open_bound_reason: str
    seconds: _Length
    stopped_by: StoppedBy


class _Cell(_Table):
    kind: Literal["chart cell"]
    version: Literal[3]
    laid: _KeptLay | None
    refusal: str


def cell_name(request: LayRequest) -> str:
    """Return the name of the file for a request: it changes with anything that decides the lay.

    That is what is cut, to the last digit, and its matching; bolt, rules and search; and the
    version of this program.

    Raises
    ------
    NestingError, PiecesError
        If nothing is cut, as :func:`nesting.marker.cut_list.cut_list` says.
    """
    pattern = request.pattern
    items = cut_list(pattern, request.selections, request.cloth)
    told = (pattern.name, pattern.matching, request.selections, request.cloth, items)
    parts = (__version__, VERSION, *told, request.bolt, request.rules, request.search)
    return f"{fingerprint(*parts)[:32]}.json"


def format_cell(row: CompareRow) -> str:
    """Return the text of a cell file."""
    laid = None if row.result is None else _laid_sheet(row.result)
    cell = _Cell(kind="chart cell", version=VERSION, laid=laid, refusal=row.refusal)
    return json.dumps(cell.model_dump(mode="json"), ensure_ascii=False) + "\n"


def _laid_sheet(result: LayResult) -> _KeptLay:
    marker = result.marker
    return _KeptLay(
        spread=marker.rules.spread,
        tried=tuple(_Tried(**vars(one)) for one in result.tried),
        stretches=tuple(_Stretch(**vars(one)) for one in marker.stretches),
        placements=tuple(_Placement(**vars(one)) for one in marker.placements),
        length_mm=marker.length_mm,
        given_up=tuple(_GivenUp(**vars(one)) for one in marker.given_up),
        lower_bound_mm=result.lower_bound.length_mm,
        lower_bound_reason=result.lower_bound.reason,
        open_bound_mm=result.open_bound.length_mm,
        open_bound_reason=result.open_bound.reason,
        seconds=result.seconds,
        stopped_by=result.stopped_by,
    )


def parse_cell(text: str, request: LayRequest) -> CompareRow:
    """Return the lay of a request as a cell file tells it, checked anew.

    Raises
    ------
    CellFileError
        If the text is no cell file of this version.
    """
    try:
        cell = _Cell.model_validate_json(text)
    except ValidationError as problem:
        first = problem.errors()[0]
        place = " > ".join(str(part) for part in first["loc"])
        raise CellFileError(
            f"it is no cell of a chart: {place} {first['msg'].lower()}"
        ) from problem
    if cell.laid is None:
        return CompareRow(request, None, cell.refusal)
    return CompareRow(request, _result(cell.laid, request), cell.refusal)


def _result(laid: _KeptLay, request: LayRequest) -> LayResult:
    search = request.search
    fields: dict[str, Any] = {
        "stretches": tuple(Stretch(**one.model_dump()) for one in laid.stretches),
        "placements": tuple(Placement(**one.model_dump()) for one in laid.placements),
        "given_up": tuple(GivenUp(**one.model_dump()) for one in laid.given_up),
    }
    marker = Marker(
        pattern=request.pattern.name,
        cloth=request.cloth,
        selections=request.selections,
        bolt=request.bolt,
        rules=replace(request.rules, spread=laid.spread),
        items=cut_list(request.pattern, request.selections, request.cloth),
        length_mm=laid.length_mm,
        made_by=MadeBy(
            __version__, search.effort or "", search.seconds, search.seed, search.workers
        ),
        matching=request.pattern.matching,
        **fields,
    )
    return LayResult(
        marker=marker,
        lower_bound=LowerBound(laid.lower_bound_mm, laid.lower_bound_reason),
        open_bound=LowerBound(laid.open_bound_mm, laid.open_bound_reason),
        findings=judged(marker, request.asked()),
        seconds=laid.seconds,
        stopped_by=laid.stopped_by,
        tried=tuple(TriedSpread(**one.model_dump()) for one in laid.tried),
    )
