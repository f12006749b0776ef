"""Whether a garment fits on cloth that is owned."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from starlette.requests import Request
from starlette.responses import Response

from nesting import FitsAnswer, FitsRequest, does_it_fit
from nesting.answers.fits.fits_tables import answer_words, owned_words, pieces_words, way_words
from nesting.languages import Words, marked
from nesting.web.choice import MOST_WIDTHS, Choice, bolt_of, choice_of, request_of, typed_list
from nesting.web.jobs import Question
from nesting.web.library import Shelf
from nesting.web.page import REFUSALS, visit_of
from nesting.web.problems import FieldError, UnreadError
from pieces.errors import LengthError
from pieces.measures.remnants import parse_remnant

MOST_TRIED = 8
"""Lays that a question whether it fits comes to: the garment, five pieces left out, two rules."""


async def fits(request: Request) -> Response:
    """Say whether a garment fits on cloth that is owned."""
    visit = visit_of(request)
    problem: Exception | None = None
    fit: Fit | None = None
    choice = Choice()
    owned = typed_list(request, "have")
    try:
        choice = choice_of(request.query_params)
        if owned:
            asked = fits_request(choice, owned, visit.shelf)
            question: Question[FitsAnswer] = Question(
                ask=lambda stop: does_it_fit(asked, progress=stop)
            )
            fit = fit_of(await visit.ask(question), visit.words)
    except REFUSALS as caught:
        problem = caught
    return visit.page("fits.html", problem, fit=fit, owned=owned, **visit.form(choice))


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
