"""One bolt: the form, the marker as it gets shorter, what a change comes to, and the files."""

import asyncio
import json
from collections.abc import AsyncIterator
from dataclasses import replace
from functools import partial

from starlette.requests import Request
from starlette.responses import Response, StreamingResponse

from nesting import Change, Difference, LayRequest, what_if
from nesting.answers.what_if.changed_bolt import what_if_words
from nesting.lay import LayResult
from nesting.web.answer import answer_of
from nesting.web.choice import Choice, choice_of, request_of
from nesting.web.files import FILES, PAPER_WORDS, file_of
from nesting.web.jobs import AT_A_GO, STAGES, Job, Question, Stopper
from nesting.web.page import GONE_MARKER, REFUSALS, Visit, visit_of
from nesting.web.problems import problem_of

EVENT_S = 0.2


async def front(request: Request) -> Response:
    """Show the form, and the marker at once for those without JavaScript."""
    visit = visit_of(request)
    problem: Exception | None = None
    job, choice = None, Choice()
    try:
        choice = choice_of(request.query_params)
        if choice.width or choice.pattern:
            choice_is_usable(visit, choice)
        if choice.width:
            laid = request_of(choice, visit.shelf)
            if "plain" in request.query_params:
                job = visit.desk.take_in(laid, AT_A_GO)
                await visit.finished(job)
                problem = job.problem
    except REFUSALS as caught:
        problem = caught
    answer = None
    if job is not None and job.best is not None:
        answer = answer_of(job, visit.words)
    return visit.page(
        "front.html",
        problem,
        answer=answer,
        files=FILES,
        papers=PAPER_WORDS,
        is_live=bool(choice.width) and problem is None and answer is None,
        **visit.form(choice),
    )


def choice_is_usable(visit: Visit, choice: Choice) -> None:
    """Look up the pattern, so that one that is gone is told of before anything is typed.

    Raises
    ------
    PiecesError
        If it is not there.
    """
    if choice.pattern:
        visit.shelf.pattern(choice.pattern)


async def live(request: Request) -> Response:
    """Stream events: each a better marker, or how far the search has come."""
    visit = visit_of(request)
    try:
        choice = choice_of(request.query_params)
        laid = request_of(choice, visit.shelf)
        stages = STAGES if "long" in request.query_params else STAGES[:2]
        job = visit.desk.take_in(laid, stages)
    except REFUSALS as problem:
        event = f"event: problem\ndata: {json.dumps(_sentence(problem, visit))}\n\n"
        return StreamingResponse(iter([event]), media_type="text/event-stream")
    return StreamingResponse(_events(visit, job, choice), media_type="text/event-stream")


def _sentence(problem: Exception, visit: Visit) -> dict[str, str]:
    told = problem_of(problem, visit.words)
    return {"sentence": told.sentence, "lead": told.lead, "language": told.language}


async def _events(visit: Visit, job: Job, choice: Choice) -> AsyncIterator[str]:
    """Yield events until the job is over; stop it when the visitor leaves."""
    shown = -1
    try:
        while True:
            over = job.is_over
            told: dict[str, object] = {
                "job": job.key,
                "state": job.state.value,
                "seconds": round(job.seconds, 1),
                "share": round(job.share, 3),
            }
            if job.problem is not None:
                told |= _sentence(job.problem, visit)
            if job.best is not None:
                told["number"] = job.number
                if job.number != shown:
                    shown = job.number
                    told["answer"] = visit.part(
                        "answer.html",
                        answer=answer_of(job, visit.words),
                        files=FILES,
                        papers=PAPER_WORDS,
                        choice=choice,
                    )
            yield f"event: state\ndata: {json.dumps(told)}\n\n"
            if over or visit.desk.is_closing or await visit.request.is_disconnected():
                return
            await asyncio.sleep(EVENT_S)
    finally:
        job.stop.set()


async def stop(request: Request) -> Response:
    """Stop a search; what it has found is kept."""
    visit = visit_of(request)
    task = visit.desk.find(request.path_params["key"])
    if task is None:
        return visit.text(GONE_MARKER, 404)
    task.stop.set()
    return Response(status_code=204)


async def file(request: Request) -> Response:
    """Hand out a file: picture, pages, table, list or the marker itself."""
    visit = visit_of(request)
    task, name = visit.desk.find(request.path_params["key"]), request.path_params["name"]
    paper = request.query_params.get("paper", "a4")
    try:
        made = await asyncio.to_thread(file_of, name, task, paper, visit.words)
    except REFUSALS as problem:
        return Response(_sentence(problem, visit)["sentence"], 400, media_type="text/plain")
    if made is None:
        return visit.text(GONE_MARKER, 404)
    data, kind = made
    shown = "inline" if name == "marker.svg" else "attachment"
    headers = {"content-disposition": f'{shown}; filename="{name}"'}
    return Response(data, media_type=kind, headers=headers)


async def changed(request: Request) -> Response:
    """Tell what an inch less of width, or nap, comes to: a page, or a sentence for a page."""
    visit = visit_of(request)
    problem: Exception | None = None
    sentences: list[str] = []
    choice = Choice()
    try:
        choice = choice_of(request.query_params)
        changes = changes_of(request)
        laid = request_of(choice, visit.shelf, lays=2 * max(1, len(changes)))
        known = _shown(visit, laid)
        for change in changes:
            question: Question[tuple[Difference, ...]] = Question(
                ask=partial(_what_if, laid, change, known)
            )
            found = await visit.ask(question)
            sentences += [what_if_words(one, visit.words) for one in found]
    except REFUSALS as caught:
        problem = caught
    if "part" in request.query_params:
        told = {"sentences": sentences}
        html = visit.part(
            "what_if_part.html",
            problem=None if problem is None else problem_of(problem, visit.words),
            **told,
        )
        return Response(html, 200 if problem is None else 400, media_type="text/html")
    return visit.page("what_if.html", problem, sentences=sentences, **visit.form(choice))


def _what_if(
    laid: LayRequest, change: Change, known: LayResult | None, told: Stopper
) -> tuple[Difference, ...]:
    return what_if((laid,), change, known=known, progress=told)


def _shown(visit: Visit, laid: LayRequest) -> LayResult | None:
    """Return the marker that the page shows of this request, so that no other is spoken of."""
    task = visit.desk.find(visit.request.query_params.get("job", ""))
    if not isinstance(task, Job) or task.best is None:
        return None
    is_same = replace(task.request, search=laid.search) == laid
    return task.best if is_same else None


def changes_of(request: Request) -> tuple[Change, ...]:
    """Return the changes asked for; what is none is passed over."""
    typed = set(request.query_params.getlist("change"))
    return tuple(change for change in Change if change.value in typed)
