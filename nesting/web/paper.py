"""Photographs of paper pieces handed in: how to take them, marks to print, what was found."""

import asyncio
from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial

from starlette.datastructures import FormData, UploadFile
from starlette.requests import Request
from starlette.responses import Response

from nesting.languages import marked
from nesting.web.choice import Choice
from nesting.web.files import MARK_PAPERS, PDF, marks_pdf
from nesting.web.jobs import Question, Stopper
from nesting.web.page import REFUSALS, Visit, typed_language, visit_of
from nesting.web.pieces import going_to, with_token
from nesting.web.problems import FieldError
from nesting.web.uploads import BESIDE, GRAINS, Handed, read_photographs
from pieces.photo.library import INSTALL, has_opencv
from pieces.photo.photo_file import MOST_PHOTOS

_MOST_FIELDS = 8


@dataclass(frozen=True)
class _Typed:
    """What was typed beside the photographs."""

    beside: str = "marks"
    grain: str = "drawn"
    name: str = ""


async def show_form(request: Request) -> Response:
    """Show how to photograph paper pieces, and the form."""
    return _shown(visit_of(request), _Typed())


def _shown(visit: Visit, typed: _Typed, problem: Exception | None = None) -> Response:
    choice = Choice(lang=typed_language(visit.request))
    return visit.page(
        "paper.html",
        problem,
        typed=typed,
        beside=BESIDE,
        grains=GRAINS,
        most=MOST_PHOTOS,
        papers=MARK_PAPERS,
        install="" if has_opencv() else INSTALL,
        **visit.form(choice),
    )


async def hand_in(request: Request) -> Response:
    """Read photographs, keep the pattern in memory, and show its pieces."""
    visit = with_token(visit_of(request))
    typed = _Typed()
    try:
        async with request.form(max_files=MOST_PHOTOS, max_fields=_MOST_FIELDS) as form:
            typed = _typed(form)
            files = [one for one in form.getlist("photos") if isinstance(one, UploadFile)]
            reader = partial(_read, files, typed)
            pattern, origin = await visit.ask(Question(ask=reader))
        key = visit.shelf.hand_in(pattern, origin)
    except REFUSALS as problem:
        return _shown(visit, typed, problem)
    query = Choice(pattern=key, lang=typed_language(request)).query
    return going_to(f"/pieces?{query}", visit)


def _read(files: Sequence[UploadFile], typed: _Typed, stopped: Stopper) -> Handed:
    """Read photographs once it is their turn: those that wait take no memory."""
    photos = [(one.filename, one.file.read()) for one in files if one.filename]
    return read_photographs(
        photos, beside=typed.beside, grain=typed.grain, name=typed.name, stopped=stopped
    )


def _typed(form: FormData) -> _Typed:
    said = {
        name: str(form[name]).strip()[:80] for name in vars(_Typed()) if form.get(name) is not None
    }
    return _Typed(**said)


async def found(request: Request) -> Response:
    """Hand out the photographs with what was found drawn over them."""
    visit = visit_of(request)
    try:
        photo = visit.shelf.origin(request.query_params.get("pattern", "")[:80]).photo
    except REFUSALS:
        photo = None
    if photo is None:
        return visit.text(marked("That photograph is not here."), 404)
    return Response(photo.picture, media_type="image/jpeg")


async def marks(request: Request) -> Response:
    """Hand out pages of marks to print."""
    visit = visit_of(request)
    paper = request.path_params["paper"]
    try:
        if paper not in MARK_PAPERS:
            raise FieldError("paper", marked("Marks are printed on A4 or Letter."))
        data = await asyncio.to_thread(marks_pdf, paper, visit.words.language)
    except REFUSALS as problem:
        return visit.text(str(problem), 404)
    headers = {"content-disposition": f'attachment; filename="marks-{paper}.pdf"'}
    return Response(data, media_type=PDF, headers=headers)
