"""Pages that ask once and answer: compared bolts, cloth that is owned, the shopping list."""

from functools import partial

from starlette.requests import Request
from starlette.responses import Response

from nesting import FitsAnswer, ShoppingList, does_it_fit, shop
from nesting.web.answers import Compared, bolts_side_by_side, widths_of
from nesting.web.choice import Choice, choice_of
from nesting.web.front import changes_of
from nesting.web.garments import (
    Fit,
    Shopping,
    fit_of,
    fits_request,
    shopping_of,
    shopping_request,
)
from nesting.web.jobs import Question
from nesting.web.page import REFUSALS, Visit, visit_of


async def compare(request: Request) -> Response:
    """Lay the same garment on several bolts, with nap and without."""
    visit = visit_of(request)
    problem: Exception | None = None
    compared: Compared | None = None
    choice = Choice()
    widths = _typed(request, "with")
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


async def fits(request: Request) -> Response:
    """Say whether a garment fits on cloth that is owned."""
    visit = visit_of(request)
    problem: Exception | None = None
    fit: Fit | None = None
    choice = Choice()
    owned = _typed(request, "have")
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
        "list.html", problem, shopping=shopping, key=key, bolts=bolts, **visit.form(choice)
    )


def _typed(request: Request, name: str) -> list[str]:
    return [text.strip() for text in request.query_params.getlist(name) if text.strip()]


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
