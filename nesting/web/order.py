"""A class list on one bolt: typed, pasted or handed in; one marker, and who gets what."""

from dataclasses import dataclass

from starlette.datastructures import FormData, UploadFile
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from nesting import LayRules, OrderLine, OrderRequest, OrderResult
from nesting.answers.order.order_file import parse_order
from nesting.answers.order.order_tables import pieces_words, saving_words
from nesting.errors import OrderError
from nesting.languages import Words, marked
from nesting.web.answer import Answer, answer_of
from nesting.web.choice import LONGEST_WORD, Choice, bolt_of, choice_of, searched, spread_of
from nesting.web.files import FILES, PAPER_WORDS
from nesting.web.jobs import OrderJob
from nesting.web.library import Shelf
from nesting.web.page import GONE_MARKER, REFUSALS, visit_of
from nesting.web.problems import FieldError, ToldError, UnreadError
from pieces.files.csv_text import csv_text
from pieces.measures.format import format_both
from pieces.pattern import Pattern

ROWS = 8
MOST_TOGETHER = 60
LARGEST_LIST = 20_000
HEAD = ("name", "view", "size", "count")


@dataclass(frozen=True)
class Typed:
    """What was typed of an order: rows of name, view, size and count, or a list as text."""

    rows: tuple[tuple[str, ...], ...] = ()
    text: str = ""

    @property
    def shown(self) -> tuple[tuple[str, ...], ...]:
        """The rows of the form, empty ones added."""
        return (*self.rows, *(("", "", "", "") for _ in range(ROWS - len(self.rows))))

    @property
    def csv(self) -> str:
        """All of it as an order list."""
        if self.text:
            return self.text
        return csv_text((HEAD, *self.rows))


@dataclass(frozen=True)
class OrderAnswer:
    """An order laid, in words.

    Parameters
    ----------
    answer
        The marker of all together.
    saving
        What it saves.
    alone
        For each view and size: how many, and what one by itself asks for.
    people
        For each participant: name, what stands on the pieces, view, size, count and pieces.
    """

    answer: Answer
    saving: str
    alone: tuple[tuple[str, ...], ...]
    people: tuple[tuple[str, ...], ...]


async def show_form(request: Request) -> Response:
    """Show the form for a class order."""
    visit = visit_of(request)
    problem: Exception | None = None
    choice = Choice()
    try:
        choice = choice_of(request.query_params)
        if choice.pattern:
            visit.shelf.pattern(choice.pattern)
    except REFUSALS as caught:
        problem = caught
    form = visit.form(choice)
    return visit.page("order.html", problem, typed=Typed(), told=None, **form)


async def take_order(request: Request) -> Response:
    """Lay an order, and go on to its answer."""
    visit = visit_of(request)
    choice, typed = Choice(), Typed()
    try:
        async with request.form(max_files=1, max_fields=200) as form:
            choice = choice_of({name: v for name, v in form.items() if isinstance(v, str)})
            typed = await _typed(form)
        asked = _request(choice, typed, visit.shelf)
        job = visit.desk.take(OrderJob(request=asked.together, asked=asked))
        await visit.finished(job)
        if job.problem is not None:
            raise job.problem
    except REFUSALS as problem:
        return visit.page("order.html", problem, typed=typed, told=None, **visit.form(choice))
    return RedirectResponse(f"/order/{job.key}?{choice.query}", 303)


async def show_order(request: Request) -> Response:
    """Show an order that was laid, with its form filled in again."""
    visit = visit_of(request)
    job = visit.desk.find(request.path_params["key"])
    choice = Choice()
    try:
        choice = choice_of(request.query_params)
        if not isinstance(job, OrderJob) or job.order is None:
            raise ToldError(GONE_MARKER)
    except REFUSALS as problem:
        form = visit.form(choice)
        return visit.page("order.html", problem, typed=Typed(), told=None, **form)
    rows = tuple((one.name, one.view, one.size, str(one.count)) for one in job.asked.lines)
    told = OrderAnswer(
        answer_of(job, visit.words),
        saving_words(job.order, visit.words),
        _alone(job.order, visit.words),
        _people(job.order, visit.words),
    )
    return visit.page(
        "order.html",
        typed=Typed(rows=rows),
        told=told,
        answer=told.answer,
        files=FILES,
        papers=PAPER_WORDS,
        **visit.form(choice),
    )


async def _typed(form: FormData) -> Typed:
    """Return what was typed, a handed-in file before pasted text before rows."""
    handed = form.get("file")
    if isinstance(handed, UploadFile) and handed.size:
        data = await handed.read(LARGEST_LIST + 1)
        try:
            return Typed(text=_short(data.decode("utf-8-sig")))
        except UnicodeDecodeError:
            raise FieldError(
                "file", marked("That list is no UTF-8 text; save it as CSV in UTF-8.")
            ) from None
    pasted = str(form.get("list", "")).strip()
    if pasted:
        return Typed(text=_short(pasted))
    columns = [[str(cell).strip() for cell in form.getlist(name)] for name in HEAD]
    rows = [row for row in zip(*columns, strict=False) if row[3]]
    if any(len(cell) > LONGEST_WORD for row in rows for cell in row):
        raise FieldError("list", marked("A name on the list is too long; shorten it."))
    return Typed(rows=tuple(rows))


def _short(text: str) -> str:
    if len(text) > LARGEST_LIST:
        raise FieldError(
            "list",
            marked("That list has more than {most} letters; divide it."),
            most=LARGEST_LIST,
        )
    return text


def _request(choice: Choice, typed: Typed, shelf: Shelf) -> OrderRequest:
    """Return the order."""
    pattern = shelf.pattern(choice.pattern)
    lines = _lines(typed, pattern)
    lays = 1 + len({(one.view, one.size) for one in lines})
    return OrderRequest(
        pattern=pattern,
        lines=lines,
        cloth=pattern.cloth(choice.cloth or pattern.cloths[0].name).name,
        bolt=bolt_of(choice),
        rules=LayRules(spread=spread_of(choice.spread)),
        search=searched(lays),
    )


def _lines(typed: Typed, pattern: Pattern) -> tuple[OrderLine, ...]:
    if not typed.rows and not typed.text:
        raise FieldError("list", marked("Nobody is on the list; say how many at least once."))
    try:
        lines = parse_order(typed.csv, pattern)
    except OrderError as problem:
        raise UnreadError("list", str(problem)) from problem
    count = sum(line.count for line in lines)
    if count > MOST_TOGETHER:
        raise FieldError(
            "list",
            marked("{count} garments are too many here; keep to {most}, or type `nesting order`."),
            count=count,
            most=MOST_TOGETHER,
        )
    return lines


def _alone(order: OrderResult, words: Words) -> tuple[tuple[str, ...], ...]:
    units = order.request.bolt.units
    return tuple(
        (
            view,
            size,
            str(order.request.garments[view, size]),
            words.figures(format_both(result.shop_length_mm, units, up=True)),
        )
        for (view, size), result in order.alone.items()
    )


def _people(order: OrderResult, words: Words) -> tuple[tuple[str, ...], ...]:
    asked = order.request
    return tuple(
        (
            one.name or label,
            label,
            one.view,
            one.size,
            str(one.count),
            pieces_words(received, words),
        )
        for one, label, received in zip(asked.lines, asked.labels, order.received, strict=True)
    )
