"""What every page has: the visitor's language, their patterns, the form, and waiting for work."""

import asyncio
import re
from dataclasses import dataclass, replace
from typing import Any
from urllib.parse import urlencode

from jinja2 import Environment, PackageLoader, select_autoescape
from starlette.requests import Request
from starlette.responses import HTMLResponse, PlainTextResponse

from nesting.cloth.spread import Spread
from nesting.errors import NestingError
from nesting.languages import LANGUAGES, Words, marked, words_of
from nesting.web.choice import Choice
from nesting.web.jobs import Answer, Desk, Question, Task
from nesting.web.library import Library, Shelf
from nesting.web.problems import BusyError, ToldError, problem_of
from pieces.errors import PiecesError
from pieces.pattern import Pattern

LOOK_S = 0.1
WAIT_S = 90.0
VISITOR = "visitor"
REFUSALS = (ToldError, PiecesError, NestingError)
GONE_MARKER = marked("That marker is not kept any more; lay it again.")
_TOKEN = re.compile(r"[\w-]{16,64}", re.ASCII)
SPREADS = (
    (Spread.OPEN.value, marked("open, one layer")),
    (Spread.LENGTHWISE.value, marked("folded lengthwise")),
    (Spread.CROSSWISE.value, marked("folded crosswise")),
    (Spread.DOUBLE.value, marked("folded double")),
)

_pages = Environment(
    loader=PackageLoader("nesting.web"), autoescape=select_autoescape(), trim_blocks=True
)
_pages.globals["named"] = lambda things: [
    (thing.name, f"{thing.name}: {thing.about}" if thing.about else thing.name) for thing in things
]
_pages.globals["plain"] = lambda names: [(name, name) for name in names]
_pages.globals["spreads"] = SPREADS


@dataclass(frozen=True)
class Visit:
    """One request, with what it is answered by.

    Parameters
    ----------
    request
        As it came.
    words
        Of the visitor's language.
    visitor
        Their token, or empty before they have handed anything in.
    """

    request: Request
    words: Words
    visitor: str

    @property
    def desk(self) -> Desk:
        """Where work is taken in."""
        desk: Desk = self.request.app.state.desk
        return desk

    @property
    def shelf(self) -> Shelf:
        """The patterns they may use."""
        library: Library = self.request.app.state.library
        return library.shelf(self.visitor)

    def part(self, name: str, **told: object) -> str:
        """Return a template filled in, in the visitor's language."""
        words = self.words
        return _pages.get_template(name).render(
            _=words.say,
            many=words.say_many,
            figures=words.figures,
            lang=words.language,
            **told,
        )

    def page(self, name: str, problem: Exception | None = None, **told: object) -> HTMLResponse:
        """Return a whole page; a problem decides its status, and is told in it."""
        shown = None if problem is None else problem_of(problem, self.words)
        html = self.part(name, problem=shown, languages=self._languages(), **told)
        return HTMLResponse(html, 200 if problem is None else _status(problem))

    def form(self, choice: Choice) -> dict[str, Any]:
        """Return what a form needs: patterns, and views, sizes and cloths of the chosen one."""
        titles = list(self.shelf.titles())
        try:
            pattern = self.shelf.pattern(choice.pattern or (titles[0][0] if titles else ""))
        except PiecesError:
            pattern = None
        if not choice.lang and "lang" in self.request.query_params:
            choice = replace(choice, lang=self.words.language)
        for_what = "" if pattern is None else self._for_what(pattern, choice)
        return {"titles": titles, "pattern": pattern, "choice": choice, "for_what": for_what}

    def _for_what(self, pattern: Pattern, choice: Choice) -> str:
        """Return the garment that a choice is about, and how many of it."""
        view = choice.view or pattern.views[0].name
        size = choice.size or pattern.sizes[0]
        told = [pattern.name, self.words.say("view {view}, size {size}", view=view, size=size)]
        if choice.garments not in ("", "1"):
            told.append(self.words.say("{count} garments", count=choice.garments))
        return ", ".join(told)

    def text(self, message: str, status: int) -> PlainTextResponse:
        """Return one sentence."""
        return PlainTextResponse(self.words.say(message), status)

    def _languages(self) -> list[tuple[str, str, str]]:
        """Return code, name and address of this page in each language."""
        is_read = self.request.method in ("GET", "HEAD")
        path = self.request.url.path if is_read else "/"
        typed = self.request.query_params.multi_items() if is_read else []
        kept = [(name, value) for name, value in typed if name != "lang"]
        return [
            (code, name, f"{path}?{urlencode([*kept, ('lang', code)])}")
            for code, name in LANGUAGES.items()
        ]

    async def ask(self, question: Question[Answer]) -> Answer:
        """Return the answer to a question, or raise why there is none.

        Raises
        ------
        BusyError
            If as much is waiting as may.
        NestingError, PiecesError, ToldError
            Whatever the question raises, or that it was stopped.
        """
        await self.finished(self.desk.take(question))
        if question.stop.is_set():  # half an answer misleads, and nobody asked to stop
            raise ToldError(marked("It took too long and was stopped; ask for less at once."))
        if question.problem is not None:
            raise question.problem
        if question.answer is None:
            raise ToldError(marked("It took too long and was stopped; ask for less at once."))
        return question.answer

    async def finished(self, task: Task) -> None:
        """Wait for work to end; stop it if it takes too long, the visitor leaves or the page ends.

        Work that is stopped because the page ends is not waited for any longer.
        """
        while not task.is_over:
            await asyncio.sleep(LOOK_S)
            if self.desk.is_closing:
                task.stop.set()
                return
            if task.seconds > WAIT_S or await self.request.is_disconnected():
                task.stop.set()


def visit_of(request: Request) -> Visit:
    """Return a request with the visitor's language and token."""
    token = request.cookies.get(VISITOR, "")
    language = request.query_params.get("lang", "")
    if language not in LANGUAGES:
        language = language_of(request.headers.get("accept-language", ""))
    return Visit(request, words_of(language), token if _TOKEN.fullmatch(token) else "")


def typed_language(request: Request) -> str:
    """Return the language in the address of a page as it was typed, known or not, or empty."""
    return request.query_params.get("lang", "")[:8]


def language_of(accepted: str) -> str:
    """Return the language a browser asks for first among ours, else English.

    Examples
    --------
    >>> language_of("de-CH, fr;q=0.9, en;q=0.8"), language_of("es-MX"), language_of("*")
    ('fr', 'es', 'en')
    """
    wanted: list[tuple[float, int, str]] = []
    for part in accepted[:400].split(","):
        tag, _, weight = part.strip().partition(";q=")
        code = tag.partition("-")[0].lower()
        share = float(weight) if re.fullmatch(r"[01](\.\d{1,3})?", weight) else 1.0
        if code in LANGUAGES and share > 0.0:
            wanted.append((-share, len(wanted), code))
    return min(wanted)[2] if wanted else "en"


def _status(problem: Exception) -> int:
    return 503 if isinstance(problem, BusyError) else 400
