"""The shopping list of a garment, one bolt for each of its cloths."""

from collections.abc import Mapping
from dataclasses import dataclass

from starlette.requests import Request
from starlette.responses import Response

from nesting import ClothChoice, ShoppingList, ShoppingRequest, shop
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
from nesting.languages import Words
from nesting.web.choice import Choice, choice_of, garment_of, request_of, searched
from nesting.web.jobs import Question
from nesting.web.library import Shelf
from nesting.web.page import REFUSALS, Visit, visit_of


async def shopping_list(request: Request) -> Response:
    """Write the shopping list of a garment, one bolt for each of its cloths."""
    visit = visit_of(request)
    problem: Exception | None = None
    shopping: Shopping | None = None
    choice, key = Choice(), ""
    bolts: dict[str, Choice] = {}
    try:
        choice = choice_of(request.query_params)
        bolts = _bolts(visit, choice)
        told = {cloth: bolt for cloth, bolt in bolts.items() if bolt.width}
        if told:
            asked = shopping_request(choice, told, visit.shelf)
            question: Question[ShoppingList] = Question(ask=lambda stop: shop(asked, progress=stop))
            shopping = shopping_of(await visit.ask(question), visit.words)
            key = question.key
    except REFUSALS as caught:
        problem = caught
    return visit.page(
        "shopping_list.html", problem, shopping=shopping, key=key, bolts=bolts, **visit.form(choice)
    )


def _bolts(visit: Visit, choice: Choice) -> dict[str, Choice]:
    """Return what is typed of the bolt for each cloth that the chosen view uses."""
    pattern = visit.shelf.pattern(choice.pattern) if choice.pattern else None
    if pattern is None:
        return {}
    typed = visit.request.query_params
    return {
        need.name: choice_of(
            {
                "pattern": choice.pattern,
                "view": choice.view,
                "size": choice.size,
                "cloth": need.name,
                "width": typed.get(f"width-{number}", ""),
                "price": typed.get(f"price-{number}", ""),
                "nap": typed.get(f"nap-{number}", ""),
            }
        )
        for number, need in enumerate(pattern.cloths_for(choice.view or pattern.views[0].name))
    }


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
