"""Patterns handed in: their pieces to look at, a few facts to put right, the sheet to take away."""

import asyncio
import secrets
from dataclasses import replace
from functools import partial

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from nesting.draw.piece_scene import piece_scene
from nesting.draw.writers.svg_writer import svg_text
from nesting.languages import Words, marked
from nesting.web.choice import Choice, choice_of, refuse_too_long
from nesting.web.files import FILES, PAPER_WORDS
from nesting.web.jobs import Question
from nesting.web.library import Photographed
from nesting.web.page import REFUSALS, VISITOR, Visit, typed_language, visit_of
from nesting.web.problems import FieldError
from nesting.web.uploads import read_handed_in
from pieces.errors import PiecesError
from pieces.pattern import Pattern
from pieces.piece import Cut, Piece
from pieces.sheet.corrections import corrected
from pieces.sheet.pattern_file import format_pattern

MOST_CUT = 99
MOST_FIELDS = 200


async def hand_in(request: Request) -> Response:
    """Take in a pattern sheet or a drawing, keep it in memory, and show its pieces."""
    visit = with_token(visit_of(request))
    try:
        async with request.form(max_files=1, max_fields=4) as form:
            handed = form.get("sheet")
            if handed is None or isinstance(handed, str):
                raise FieldError("sheet", marked("Choose a file first."))
            reader = partial(read_handed_in, handed.filename or "", await handed.read())
        pattern, origin = await visit.ask(Question(ask=lambda stopped: reader(stopped=stopped)))
        key = visit.shelf.hand_in(pattern, origin)
    except REFUSALS as problem:
        return _refused(visit, problem)
    return going_to(f"/pieces?{Choice(pattern=key, lang=typed_language(request)).query}", visit)


def with_token(visit: Visit) -> Visit:
    """Return a visit of somebody who is known by a token, a new one if need be."""
    return replace(visit, visitor=visit.visitor or secrets.token_urlsafe(24))


def going_to(address: str, visit: Visit) -> Response:
    """Send a visitor on, who is known by the token from now on."""
    answer = RedirectResponse(address, 303)
    answer.set_cookie(VISITOR, visit.visitor, httponly=True, samesite="lax")
    return answer


def _refused(visit: Visit, problem: Exception) -> Response:
    told = FieldError("sheet", "{problem}", problem=problem)
    if isinstance(problem, PiecesError):
        problem = told
    return visit.page(
        "front.html",
        problem,
        answer=None,
        files=FILES,
        papers=PAPER_WORDS,
        is_live=False,
        **visit.form(Choice(lang=typed_language(visit.request))),
    )


async def pieces(request: Request) -> Response:
    """Show every piece of a pattern, with what may be put right."""
    visit = visit_of(request)
    try:
        choice = choice_of(request.query_params)
        pattern = visit.shelf.pattern(choice.pattern)
        pattern.size(choice.size or pattern.sizes[0])
    except REFUSALS as problem:
        return visit.page("pieces.html", problem, rows=(), notes=(), **visit.form(Choice()))
    return _shown(visit, choice)


def _shown(visit: Visit, choice: Choice, problem: Exception | None = None) -> Response:
    pattern, origin = visit.shelf.pattern(choice.pattern), visit.shelf.origin(choice.pattern)
    photo = origin.photo
    return visit.page(
        "pieces.html",
        problem,
        rows=[_row(piece, pattern, visit.words) for piece in pattern.pieces],
        notes=origin.notes,
        accuracy=() if photo is None else _accuracy_words(photo, visit.words),
        **visit.form(choice),
    )


def _accuracy_words(photo: Photographed, words: Words) -> tuple[str, ...]:
    """Return how far photographs can be trusted."""
    told = [
        words.say(
            "The edges are right within about {error} mm.",
            error=words.figures(f"{photo.error_mm:.1f}"),
        ),
        words.say(
            "A pixel shows {size} mm.",
            size=words.figures(f"{photo.mm_per_px:.2f}"),
        ),
    ]
    if photo.misfit_mm is not None:
        misfit = words.figures(f"{photo.misfit_mm:.2f}")
        told.append(words.say("The marks miss their places by {misfit} mm.", misfit=misfit))
    return (*told, words.say("Measure one piece on paper and here before you cut."))


def _row(piece: Piece, pattern: Pattern, words: Words) -> dict[str, object]:
    shape = piece.shape(pattern.sizes[0])
    return {
        "title": piece.title,
        "angle": f"{shape.grainline.angle_deg:.1f}".removesuffix(".0"),
        "one_way": piece.one_way,
        "facts": _marks(piece, words),
        "cuts": [
            (need.name, 0 if cut is None else cut.count, cut is not None and cut.pair)
            for need in pattern.cloths
            for cut in [piece.cut_for(need.name)]
        ],
        "on_fold": shape.fold_edge_mm is not None,
    }


def _marks(piece: Piece, words: Words) -> tuple[str, ...]:
    """Return how many to cut of each cloth, and whether tops point one way."""
    told = [
        words.say("cut {count} {cloth} in pairs", count=cut.count, cloth=cut.cloth)
        if cut.pair
        else words.say("cut {count} {cloth}", count=cut.count, cloth=cut.cloth)
        for cut in piece.cuts
    ]
    return (*told, words.say("one-way")) if piece.one_way else tuple(told)


async def picture(request: Request) -> Response:
    """Draw one piece of a pattern."""
    visit = visit_of(request)
    try:
        choice = choice_of(request.query_params)
        pattern = visit.shelf.pattern(choice.pattern)
        piece = _piece(pattern, request.path_params["number"])
        size = pattern.size(choice.size or pattern.sizes[0])
        marks = _marks(piece, visit.words)
        scene = await asyncio.to_thread(piece_scene, piece, size, marks=marks, words=visit.words)
    except REFUSALS:
        return visit.text(marked("That piece is not here."), 404)
    return Response(svg_text(scene), media_type="image/svg+xml")


def _piece(pattern: Pattern, number: int) -> Piece:
    if not 0 <= number < len(pattern.pieces):
        raise FieldError("piece", marked("That piece is not here."))
    return pattern.pieces[number]


async def put_right(request: Request) -> Response:
    """Put right what was said of one piece; of a sheet in the folder a copy is made."""
    visit = with_token(visit_of(request))
    choice = Choice()
    try:
        async with request.form(max_files=1, max_fields=MOST_FIELDS) as form:
            typed = {name: value for name, value in form.items() if isinstance(value, str)}
            choice = choice_of(typed)
            before = visit.shelf.pattern(choice.pattern)
            piece = _piece(before, request.path_params["number"])
            after = corrected(
                before,
                piece.name,
                title=_title(form),
                grain_deg=_angle(form),
                one_way="one_way" in form,
                cuts=_cuts(form, before),
            )
        origin = visit.shelf.origin(choice.pattern)
        key = visit.shelf.hand_in(after, origin, key=choice.pattern)
    except REFUSALS as problem:
        return _not_put_right(visit, choice, problem)
    query = replace(choice, pattern=key).query
    return going_to(f"/pieces?{query}#piece-{request.path_params['number']}", visit)


def _not_put_right(visit: Visit, choice: Choice, problem: Exception) -> Response:
    try:
        return _shown(visit, choice, problem)
    except PiecesError:
        return visit.page("pieces.html", problem, rows=(), notes=(), **visit.form(Choice()))


def _title(form: FormData) -> str:
    typed = " ".join(str(form.get("title", "")).split())
    refuse_too_long("title", typed)
    return typed


def _angle(form: FormData) -> float:
    typed = str(form.get("angle", "")).strip()[:20]
    try:
        return float(typed.replace(",", "."))
    except ValueError:
        raise FieldError(
            "angle", marked('"{typed}" is no angle; write degrees, such as 90.'), typed=typed
        ) from None


def _cuts(form: FormData, pattern: Pattern) -> tuple[Cut, ...]:
    cuts = []
    for number, need in enumerate(pattern.cloths):
        typed = str(form.get(f"count-{number}", "0")).strip()[:20] or "0"
        if not typed.isascii() or not typed.isdigit() or int(typed) > MOST_CUT:
            raise FieldError(
                "count",
                marked('"{typed}" is not a number from 0 to {most}.'),
                typed=typed,
                most=MOST_CUT,
            )
        if int(typed):
            cuts.append(Cut(need.name, int(typed), f"pair-{number}" in form))
    return tuple(cuts)


async def sheet(request: Request) -> Response:
    """Hand out a pattern as a pattern sheet."""
    visit = visit_of(request)
    try:
        pattern = visit.shelf.pattern(choice_of(request.query_params).pattern)
        text = format_pattern(pattern)
    except REFUSALS:
        return visit.text(marked("That pattern is not here."), 404)
    headers = {"content-disposition": 'attachment; filename="pattern.toml"'}
    return Response(text, media_type="application/toml; charset=utf-8", headers=headers)
