"""Whether a garment fits on what there is, and everything to buy for it, in words."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from nesting import ClothChoice, FitsAnswer, FitsRequest, ShoppingList, ShoppingRequest
from nesting.answers.fits.fits_tables import answer_words, owned_words, pieces_words, way_words
from nesting.answers.shopping.shopping_words import (
    BEFORE_YOU_CUT,
    ClothWords,
    NotionWords,
    cloth_words,
    finding_words,
    notion_words,
    total_words,
    units_of,
)
from nesting.languages import Words, marked
from nesting.web.answers import MOST_WIDTHS
from nesting.web.choice import Choice, bolt_of, garment_of, request_of, searched
from nesting.web.library import Shelf
from nesting.web.problems import FieldError, UnreadError
from pieces.errors import LengthError
from pieces.measures.remnants import parse_remnant

MOST_TRIED = 8
"""Lays that a question whether it fits comes to: the garment, five pieces left out, two rules."""


@dataclass(frozen=True)
class Fit:
    """What a page says of cloth that is owned.

    Parameters
    ----------
    sentence
        Yes with what is left, or no with what is missing.
    fits
        Whether it does.
    shares
        For each length of cloth: which it is, and which pieces lie on it.
    ways
        What came of relaxing one rule at a time.
    """

    sentence: str
    fits: bool
    shares: tuple[tuple[str, str], ...]
    ways: tuple[str, ...]


def fits_request(choice: Choice, owned: Sequence[str], shelf: Shelf) -> FitsRequest:
    """Return what is to be tried on lengths of cloth, each typed length first.

    Raises
    ------
    FieldError
        If there is no length, there are too many, or one cannot be read.
    NestingError, PiecesError
        As :func:`nesting.web.choice.request_of` raises them.
    """
    if not 1 <= len(owned) <= MOST_WIDTHS:
        raise FieldError(
            "have",
            marked("Tell 1 to {most} lengths of cloth, not {count}."),
            most=MOST_WIDTHS,
            count=len(owned),
        )
    try:
        remnants = [parse_remnant(text) for text in owned]
    except LengthError as problem:
        raise UnreadError("have", str(problem)) from problem
    bolts = tuple(
        replace(
            bolt_of(choice, width_mm=one.width_mm, units=remnants[0].units),
            length_left_mm=one.length_mm,
            shop_step_mm=None,
        )
        for one in remnants
    )
    lay = request_of(choice, shelf, lays=MOST_TRIED, bolt=bolts[0])
    return FitsRequest(lay=lay, owned=bolts)


def fit_of(answer: FitsAnswer, words: Words) -> Fit:
    """Return an answer in words."""
    shares = [
        (owned_words(share, words), pieces_words(share.result.marker.items, words))
        for share in answer.sharing.shares
        if share.result is not None
    ]
    if not answer.fits:
        shares.append((words.say("left over"), pieces_words(answer.sharing.left_over, words)))
    units = answer.request.owned[0].units
    return Fit(
        answer_words(answer, words),
        answer.fits,
        tuple(shares),
        tuple(way_words(way, units, words) for way in answer.ways),
    )


@dataclass(frozen=True)
class Shopping:
    """A shopping list in words."""

    cloths: tuple[ClothWords, ...]
    notions: tuple[NotionWords, ...]
    total: str
    before: tuple[str, ...]
    cautions: tuple[str, ...]
    findings: tuple[str, ...]


def shopping_request(choice: Choice, bolts: Mapping[str, Choice], shelf: Shelf) -> ShoppingRequest:
    """Return what is bought for one garment, with the bolt typed for each cloth.

    Raises
    ------
    FieldError
        If a bolt cannot be read.
    NestingError, PiecesError
        As :func:`nesting.web.choice.request_of` raises them.
    """
    pattern, selections, _ = garment_of(choice, shelf)
    choices = {
        cloth: ClothChoice(request.bolt, request.rules)
        for cloth, typed in bolts.items()
        for request in [request_of(typed, shelf)]
    }
    return ShoppingRequest(
        pattern=pattern, selections=selections, choices=choices, search=searched(1)
    )


def shopping_of(shopping: ShoppingList, words: Words) -> Shopping:
    """Return a list in words."""
    units = units_of(shopping)
    return Shopping(
        tuple(cloth_words(line, words) for line in shopping.cloths),
        tuple(notion_words(line, units, words) for line in shopping.notions),
        total_words(shopping, words),
        tuple(words.say(sentence) for sentence in BEFORE_YOU_CUT),
        shopping.cautions,
        finding_words(shopping, words),
    )
