"""The shop's bolts in a TOML file, one table for each: what hangs on the shelf, and its price.

Lengths, prices and shrinkage are written as they are typed on the command line. The first width
decides the units of all answers.
"""

import tomllib
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from nesting.cloth.bolt import EIGHTH_YARD_MM, TEN_CM_MM, Bolt
from nesting.cloth.flaw import parse_flaw
from nesting.cloth.repeat import Repeat
from nesting.cloth.shrinkage import parse_shrinkage
from nesting.errors import BoltListError, NestingError
from pieces.errors import PiecesError
from pieces.files.text_file import read_text
from pieces.measures.parse import parse_length_mm, typed_system
from pieces.measures.price import parse_price
from pieces.measures.units import UnitSystem

LARGEST_BYTES = 1_000_000
MOST_BOLTS = 200


@dataclass(frozen=True)
class ListedBolt:
    """One bolt of the list: its name, and the cloth."""

    name: str
    bolt: Bolt


class _Sheet(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)


class _Bolt(_Sheet):
    name: str = Field(min_length=1)
    width: str
    nap: bool = False
    price: str | None = None
    length_left: str | None = None
    selvage: str = "0mm"
    repeat_along: str | None = None
    repeat_across: str | None = None
    uneven: bool = False
    start_on_repeat: bool = False
    flaws: list[str] = []
    shrink_along: str = "0%"
    shrink_across: str = "0%"
    end_allowance: str = "0mm"
    step: str | None = None


class _List(_Sheet):
    bolts: list[_Bolt] = Field(min_length=1, max_length=MOST_BOLTS)


def read_bolt_list(path: Path | str) -> tuple[ListedBolt, ...]:
    """Read the bolts of a list, in its order.

    Raises
    ------
    BoltListError
        If there is no such file, or it is no list of bolts; the sentence names the file, the bolt
        and the value.
    """
    text = read_text(path, "bolt list", largest_bytes=LARGEST_BYTES, error=BoltListError)
    try:
        return parse_bolt_list(text)
    except BoltListError as problem:
        raise BoltListError(f"bolt list {path}: {problem}") from problem


def parse_bolt_list(text: str) -> tuple[ListedBolt, ...]:
    """Return the bolts of a list written in ``text``.

    Raises
    ------
    BoltListError
        If it is no list of bolts, two bolts share a name, or prices are in several currencies.
    """
    try:
        sheet = _List.model_validate(tomllib.loads(text))
    except tomllib.TOMLDecodeError as problem:
        raise BoltListError(f"it is no TOML: {problem}") from problem
    except ValidationError as problem:
        raise BoltListError(_fault_words(problem)) from problem
    names = [one.name for one in sheet.bolts]
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice is not None:
        raise BoltListError(f'two bolts are called "{twice}"; tell them apart')
    units = _units(sheet.bolts[0])
    listed = tuple(ListedBolt(one.name, _bolt(one, units)) for one in sheet.bolts)
    currencies = {one.bolt.price.currency for one in listed if one.bolt.price is not None}
    if len(currencies) > 1:
        raise BoltListError(
            f"prices are in several currencies, {' and '.join(sorted(currencies))}, and cannot be "
            "ranked; write them all in one"
        )
    return listed


def _fault_words(problem: ValidationError) -> str:
    """Return where the first fault is, and what is wrong there."""
    first = problem.errors()[0]
    place = " > ".join(str(part + 1) if isinstance(part, int) else part for part in first["loc"])
    match first["type"]:
        case "missing":
            return f"{place} is missing; every bolt is a table [[bolts]] with a name and a width"
        case "extra_forbidden":
            return f"{place} is not known here; take it out"
        case _:
            return f"{place}: {first['msg'][:1].lower()}{first['msg'][1:]}"


def _units(first: _Bolt) -> UnitSystem:
    units: UnitSystem = _value(first, "width", typed_system)
    return units


def _bolt(one: _Bolt, units: UnitSystem) -> Bolt:
    """Return one bolt, or say which of its values is wrong."""
    zero_mm = partial(parse_length_mm, allow_zero=True)
    step_mm = EIGHTH_YARD_MM if units is UnitSystem.IMPERIAL else TEN_CM_MM
    try:
        return Bolt(
            width_mm=_value(one, "width", parse_length_mm),
            selvage_mm=_value(one, "selvage", zero_mm),
            nap=one.nap,
            price=_value(one, "price", parse_price),
            shop_step_mm=step_mm if one.step is None else _value(one, "step", _step_mm),
            units=units,
            repeat=_repeat(one),
            start_on_repeat=one.start_on_repeat,
            flaws=tuple(_read(one, "flaws", text, parse_flaw) for text in one.flaws),
            shrink_along=_value(one, "shrink_along", parse_shrinkage),
            shrink_across=_value(one, "shrink_across", parse_shrinkage),
            end_allowance_mm=_value(one, "end_allowance", zero_mm),
            length_left_mm=_value(one, "length_left", parse_length_mm),
        )
    except NestingError as problem:
        if isinstance(problem, BoltListError):
            raise
        raise BoltListError(f'bolt "{one.name}": {problem}') from problem


def _repeat(one: _Bolt) -> Repeat | None:
    along_mm = _value(one, "repeat_along", parse_length_mm)
    across_mm = _value(one, "repeat_across", parse_length_mm)
    if along_mm is None and across_mm is None:
        if one.uneven:
            raise BoltListError(
                f'bolt "{one.name}": uneven is said of a repeat; add repeat_along or repeat_across'
            )
        return None
    return Repeat(along_mm=along_mm, across_mm=across_mm, even=not one.uneven)


def _step_mm(text: str) -> float | None:
    return None if text.strip().lower() == "exact" else parse_length_mm(text)


def _value(one: _Bolt, name: str, read: Callable[[str], Any]) -> Any:
    """Return a value of a bolt as ``read`` reads it, or None if it is not told."""
    text = getattr(one, name)
    return None if text is None else _read(one, name, text, read)


def _read(one: _Bolt, name: str, text: str, read: Callable[[str], Any]) -> Any:
    try:
        return read(text)
    except (PiecesError, NestingError) as problem:
        raise BoltListError(f'bolt "{one.name}", {name}: {problem}') from problem
