"""What a visitor chose: read from the address of the page, and written back into it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields
from typing import TypeVar
from urllib.parse import urlencode

from nesting import Bolt, LayRequest, LayRules, Repeat, SearchOptions, Selection, Spread
from nesting.cloth.bolt import EIGHTH_YARD_MM, TEN_CM_MM
from nesting.cloth.shrinkage import parse_shrinkage
from nesting.errors import BoltError, LayError
from nesting.languages import marked
from nesting.web.library import Shelf
from nesting.web.problems import FieldError, UnreadError
from pieces.errors import LengthError
from pieces.measures.parse import parse_length_mm, typed_system
from pieces.measures.price import parse_price
from pieces.measures.units import UnitSystem

Read = TypeVar("Read")

MOST_GARMENTS = 30
SECONDS = 45.0
"""What a page waits for at most, shared out among its lays."""
LONGEST_WORD = 80


@dataclass(frozen=True)
class Choice:
    """Every field of the form, as typed; an empty one is not said."""

    pattern: str = ""
    view: str = ""
    size: str = ""
    cloth: str = ""
    garments: str = "1"
    width: str = ""
    nap: str = ""
    spread: str = "open"
    selvage: str = ""
    repeat_along: str = ""
    repeat_across: str = ""
    uneven: str = ""
    shrink_along: str = ""
    shrink_across: str = ""
    price: str = ""
    lang: str = ""

    @property
    def query(self) -> str:
        """The choice as the end of an address, fields that are not said left out."""
        said = {one.name: getattr(self, one.name) for one in fields(self)}
        return urlencode({name: typed for name, typed in said.items() if typed})


def choice_of(typed: Mapping[str, str]) -> Choice:
    """Return the choice in an address; what is not a field is passed over.

    Raises
    ------
    FieldError
        If a field is longer than anything that could be meant.
    """
    names = [one.name for one in fields(Choice)]
    said = {name: typed[name].strip() for name in names if name in typed}
    for name, word in said.items():
        refuse_too_long(name, word)
    return Choice(**said)


def refuse_too_long(name: str, word: str) -> None:
    """Refuse a field that is longer than anything that could be meant.

    Raises
    ------
    FieldError
        With both numbers of letters.
    """
    if len(word) > LONGEST_WORD:
        raise FieldError(
            name,
            marked("{count} letters are too many; keep to {most}."),
            count=len(word),
            most=LONGEST_WORD,
        )


def searched(lays: int) -> SearchOptions:
    """Return how one of several lays is searched that a page waits for: all of them as long."""
    return SearchOptions("standard", seconds=SECONDS / lays, workers=1)


def request_of(choice: Choice, shelf: Shelf, *, lays: int = 1) -> LayRequest:
    """Return what is to be laid, as one of so many lays.

    Raises
    ------
    FieldError
        With the field that cannot be used.
    PiecesError, NestingError
        If the pattern, the view, the size or the cloth is not there.
    """
    pattern = shelf.pattern(choice.pattern)
    view = choice.view or pattern.views[0].name
    size = choice.size or pattern.sizes[0]
    cloth = choice.cloth or pattern.cloths[0].name
    pattern.view(view), pattern.size(size), pattern.cloth(cloth)
    return LayRequest(
        pattern=pattern,
        selections=(Selection(view, size, _garments(choice.garments)),),
        cloth=cloth,
        bolt=bolt_of(choice),
        rules=LayRules(spread=spread_of(choice.spread)),
        search=searched(lays),
    )


def _garments(text: str) -> int:
    if not text.isascii() or not text.isdigit() or not 1 <= int(text) <= MOST_GARMENTS:
        raise FieldError(
            "garments",
            marked('"{typed}" is not a number from 1 to {most}.'),
            typed=text,
            most=MOST_GARMENTS,
        )
    return int(text)


def spread_of(text: str) -> Spread:
    """Return a way to spread the cloth.

    Raises
    ------
    FieldError
        If it is none.
    """
    try:
        return Spread(text)
    except ValueError:
        raise FieldError(
            "spread", marked('"{typed}" is not a way to spread cloth.'), typed=text
        ) from None


def bolt_of(choice: Choice) -> Bolt:
    """Return the bolt that was typed.

    Raises
    ------
    FieldError
        With the field that cannot be used.
    """
    if not choice.width:
        raise FieldError(
            "width", marked("How wide is the cloth? Write it with its unit, such as 45in.")
        )
    units = _read("width", choice.width, typed_system)
    along = _read("repeat_along", choice.repeat_along, parse_length_mm)
    across = _read("repeat_across", choice.repeat_across, parse_length_mm)
    try:
        repeat = None
        if along is not None or across is not None:
            repeat = Repeat(along_mm=along, across_mm=across, even=not choice.uneven)
        return Bolt(
            width_mm=_read("width", choice.width, parse_length_mm) or 0.0,
            selvage_mm=_read("selvage", choice.selvage, _length_or_zero) or 0.0,
            nap=bool(choice.nap),
            price=_read("price", choice.price, parse_price),
            shop_step_mm=EIGHTH_YARD_MM if units is UnitSystem.IMPERIAL else TEN_CM_MM,
            units=units or UnitSystem.IMPERIAL,
            repeat=repeat,
            shrink_along=_read("shrink_along", choice.shrink_along, parse_shrinkage) or 0.0,
            shrink_across=_read("shrink_across", choice.shrink_across, parse_shrinkage) or 0.0,
        )
    except (BoltError, LayError) as problem:
        raise UnreadError("width", problem) from problem


def _length_or_zero(text: str) -> float:
    return parse_length_mm(text, allow_zero=True)


def _read(name: str, text: str, read: Callable[[str], Read]) -> Read | None:
    """Return what ``read`` makes of a field, or None if it is not said."""
    if not text:
        return None
    try:
        return read(text)
    except (LengthError, BoltError) as problem:
        raise UnreadError(name, problem) from problem
