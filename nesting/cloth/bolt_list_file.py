"""The shop's bolts in a TOML file, one table for each: what hangs on the shelf, and its price.

Lengths, prices and shrinkage are written as they are typed on the command line. The first width
decides the units of all answers.
"""

from dataclasses import dataclass
from pathlib import Path

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from nesting.cloth.bolt import Bolt
from nesting.cloth.bolt_text import BoltFactError, BoltText
from nesting.errors import BoltListError, NestingError
from pieces.files.bounded_file import read_text
from pieces.files.faults import fault_sentence
from pieces.files.toml_text import parse_toml
from pieces.measures.units import UnitSystem

LARGEST_BYTES = 1_000_000
MOST_BOLTS = 200


@dataclass(frozen=True)
class ListedBolt:
    """One bolt of the list: its name, and the cloth."""

    name: str
    bolt: Bolt


class _Table(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)


class _Bolt(_Table):
    name: str = Field(min_length=1)
    width: str
    nap: bool = False
    price: str | None = None
    length_left: str | None = None
    selvage: str | None = None
    repeat_along: str | None = None
    repeat_across: str | None = None
    uneven: bool = False
    cut_on_repeat: bool = False
    flaws: list[str] = []
    shrink_along: str | None = None
    shrink_across: str | None = None
    end_allowance: str | None = None
    step: str | None = None


class _List(_Table):
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
    tables = parse_toml(text, "the list", error=BoltListError)
    try:
        sheet = _List.model_validate(tables)
    except ValidationError as problem:
        raise BoltListError(
            fault_sentence(problem.errors()[0], known=_Bolt.model_fields)
        ) from problem
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


def _units(first: _Bolt) -> UnitSystem:
    try:
        return BoltText(width=first.width).units()
    except BoltFactError as problem:
        raise BoltListError(f'bolt "{first.name}", width: {problem.problem}') from problem


def _bolt(one: _Bolt, units: UnitSystem) -> Bolt:
    """Return one bolt, or say which of its values is wrong."""
    told = one.model_dump(exclude={"name"}) | {"flaws": tuple(one.flaws)}
    try:
        return BoltText(**told).bolt(units=units)
    except BoltFactError as problem:
        raise BoltListError(f'bolt "{one.name}", {problem.fact}: {problem.problem}') from problem
    except NestingError as problem:
        raise BoltListError(f'bolt "{one.name}": {problem}') from problem
