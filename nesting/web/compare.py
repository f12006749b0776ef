"""The same garment on several bolts, with nap and without, and what follows from it."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import pairwise

from starlette.requests import Request
from starlette.responses import Response

from nesting import (
    Change,
    Difference,
    LayRequest,
    compare_bolts,
    what_if,
)
from nesting.answers.compare import CompareRow
from nesting.answers.compare_words import advice
from nesting.answers.rows import money
from nesting.answers.what_if.changed_bolt import what_if_words
from nesting.languages import Words, marked
from nesting.web.choice import MOST_WIDTHS, Choice, choice_of, request_of, typed_list
from nesting.web.front import changes_of
from nesting.web.jobs import Question, Stopper
from nesting.web.library import Shelf
from nesting.web.page import REFUSALS, visit_of
from nesting.web.problems import FieldError
from pieces.measures.format import format_length
from pieces.measures.widths import format_width_both


async def compare(request: Request) -> Response:
    """Lay the same garment on several bolts, with nap and without."""
    visit = visit_of(request)
    problem: Exception | None = None
    compared: Compared | None = None
    choice = Choice()
    widths = typed_list(request, "with")
    changes = changes_of(request)
    try:
        choice = choice_of(request.query_params)
        if choice.width:
            asked = widths_of(choice, widths, changes, visit.shelf)
            compared = await visit.ask(Question(ask=partial(bolts_side_by_side, asked, changes)))
    except REFUSALS as caught:
        problem = caught
    return visit.page(
        "compare.html",
        problem,
        rows=() if compared is None else compared.columns(visit.words),
        advice=() if compared is None else compared.sentences(visit.words),
        widths=widths,
        changes=changes,
        **visit.form(choice),
    )


@dataclass(frozen=True)
class Column:
    """One bolt of a comparison."""

    width: str
    nap: str
    shop: str
    cost: str
    share: float
    refusal: str


@dataclass(frozen=True)
class Compared:
    """Bolts side by side: their rows, and what one thing changed comes to on each."""

    rows: tuple[CompareRow, ...]
    differences: tuple[Difference, ...]

    def columns(self, words: Words) -> tuple[Column, ...]:
        """Return what is shown of each bolt."""
        laid = [row.result.shop_length_mm for row in self.rows if row.result]
        longest = max(laid, default=1.0)
        return tuple(_column(row, longest, words) for row in self.rows)

    def sentences(self, words: Words) -> tuple[str, ...]:
        """Return what follows from the comparison."""
        return (*advice(self.rows, words), *(what_if_words(one, words) for one in self.differences))


def widths_of(
    choice: Choice, typed: Sequence[str], changes: Sequence[Change], shelf: Shelf
) -> tuple[LayRequest, ...]:
    """Return a request for each width: without nap, then with it.

    Raises
    ------
    FieldError
        If there are too many widths, or one cannot be read.
    NestingError, PiecesError
        As :func:`nesting.web.choice.request_of` raises them.
    """
    if len(typed) > MOST_WIDTHS:
        raise FieldError(
            "with",
            marked("{count} more bolts are too many; compare {most}."),
            count=len(typed),
            most=MOST_WIDTHS,
        )
    widths = dict.fromkeys((choice.width, *typed))
    lays = 2 * len(widths) * (2 if Change.NARROWER in changes else 1)
    return tuple(
        request_of(replace(choice, width=width, nap=nap), shelf, lays=lays)
        for width in widths
        for nap in ("", "yes")
    )


def bolts_side_by_side(
    requests: tuple[LayRequest, ...], changes: Sequence[Change], stop: Stopper
) -> Compared:
    """Return each bolt with nap and without, and what changes come to.

    Raises
    ------
    NestingError, PiecesError
        As :func:`nesting.compare_bolts` raises them.
    """
    rows = compare_bolts(requests, progress=stop)
    differences: list[Difference] = []
    if Change.NARROWER in changes and not stop():
        differences += what_if(requests[::2], Change.NARROWER, progress=stop)
    if Change.NAP in changes:
        pairs = list(pairwise(rows))[::2]
        differences += [Difference(Change.NAP, plain, napped) for plain, napped in pairs]
    return Compared(rows, tuple(differences))


def _column(row: CompareRow, longest_mm: float, words: Words) -> Column:
    bolt, result = row.request.bolt, row.result
    return Column(
        width=words.figures(format_width_both(bolt.width_mm, bolt.units)),
        nap=words.say("with nap") if bolt.nap else words.say("without nap"),
        shop=""
        if result is None
        else words.figures(format_length(result.shop_length_mm, bolt.units, up=True)),
        cost="" if row.cost is None else words.figures(money(bolt.price, row.cost)),
        share=0.0 if result is None else result.shop_length_mm / longest_mm,
        refusal=row.refusal,
    )
