"""What a visitor chose: read from the address of the page, and written back into it."""

from collections.abc import Mapping
from dataclasses import dataclass, fields
from urllib.parse import urlencode

from starlette.requests import Request

from nesting import Bolt, LayRequest, LayRules, SearchOptions, Selection, Spread
from nesting.cloth.bolt_text import BoltFactError, BoltText
from nesting.errors import BoltError, LayError
from nesting.languages import marked
from nesting.web.library import Shelf
from nesting.web.problems import FieldError, UnreadError
from pieces.measures.units import UnitSystem
from pieces.pattern import Pattern

MOST_GARMENTS = 30
MOST_WIDTHS = 4
SECONDS = 45.0
"""What a page waits for at most, shared out among its lays."""
LONGEST_WORD = 80
_BOLT_FACTS = (
    *("width", "selvage", "price", "repeat_along", "repeat_across"),
    *("shrink_along", "shrink_across"),
)


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
    cut_on_repeat: str = ""
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


def garment_of(choice: Choice, shelf: Shelf) -> tuple[Pattern, tuple[Selection, ...], str]:
    """Return the pattern, what of it is cut, and the cloth: the first of each if not said.

    Raises
    ------
    FieldError
        If the number of garments cannot be used.
    PiecesError
        If the pattern, the view, the size or the cloth is not there.
    """
    pattern = shelf.pattern(choice.pattern)
    view = choice.view or pattern.views[0].name
    size = choice.size or pattern.sizes[0]
    cloth = choice.cloth or pattern.cloths[0].name
    pattern.view(view), pattern.size(size), pattern.cloth(cloth)
    return pattern, (Selection(view, size, _garments(choice.garments)),), cloth


def request_of(
    choice: Choice, shelf: Shelf, *, lays: int = 1, bolt: Bolt | None = None
) -> LayRequest:
    """Return what is to be laid, as one of so many lays, on the bolt typed or on another.

    Raises
    ------
    FieldError
        With the field that cannot be used.
    PiecesError, NestingError
        If the pattern, the view, the size or the cloth is not there.
    """
    pattern, selections, cloth = garment_of(choice, shelf)
    return LayRequest(
        pattern=pattern,
        selections=selections,
        cloth=cloth,
        bolt=bolt_of(choice) if bolt is None else bolt,
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


def bolt_of(
    choice: Choice, *, width_mm: float | None = None, units: UnitSystem | None = None
) -> Bolt:
    """Return the bolt that was typed, its width and units known already or read.

    Raises
    ------
    FieldError
        With the field that cannot be used.
    """
    if width_mm is None and not choice.width:
        raise FieldError(
            "width", marked("How wide is the cloth? Write it with its unit, such as 45in.")
        )
    told = {name: getattr(choice, name) for name in _BOLT_FACTS}
    has_repeat = bool(choice.repeat_along or choice.repeat_across)
    try:
        text = BoltText(
            **told,
            nap=bool(choice.nap),
            uneven=has_repeat and bool(choice.uneven),
            cut_on_repeat=has_repeat and bool(choice.cut_on_repeat),
        )
        return text.bolt(units=units, width_mm=width_mm)
    except BoltFactError as problem:
        raise UnreadError(problem.fact, problem.problem) from problem
    except (BoltError, LayError) as problem:
        raise UnreadError("width", str(problem)) from problem


def typed_list(request: Request, name: str) -> list[str]:
    """Return every text that a field of the form was given, empty ones left out."""
    return [text.strip() for text in request.query_params.getlist(name) if text.strip()]
