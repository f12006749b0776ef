"""A marker shown step by step, in large type."""

import asyncio
from dataclasses import replace

from starlette.requests import Request
from starlette.responses import Response

from nesting.web.choice import Choice, choice_of
from nesting.web.files import picture_of
from nesting.web.jobs import Job
from nesting.web.page import GONE_MARKER, Visit, visit_of
from nesting.web.problems import FieldError
from nesting.web.steps import step_of


async def teach(request: Request) -> Response:
    """Show one step of a marker."""
    visit = visit_of(request)
    job = _job(visit)
    if job is None or job.best is None:
        return visit.text(GONE_MARKER, 404)
    typed = request.query_params.get("step", "1")
    number = int(typed) if typed.isascii() and typed.isdigit() and len(typed) < 6 else 1
    step, _ = step_of(job.best, number, visit.words)
    choice = replace(_kept(request), lang=visit.words.language)
    title = job.request.pattern.name
    return visit.page("teach.html", step=step, job=job.key, title=title, choice=choice)


async def picture(request: Request) -> Response:
    """Draw a marker as far as it is laid at a step."""
    visit = visit_of(request)
    job = _job(visit)
    if job is None or job.best is None:
        return visit.text(GONE_MARKER, 404)
    _, marker = step_of(job.best, request.path_params["step"], visit.words)
    data = await asyncio.to_thread(picture_of, marker, visit.words)
    return Response(data, media_type="image/svg+xml")


def _kept(request: Request) -> Choice:
    """Return the choice that leads back to the marker; one that cannot be leads to the form."""
    try:
        return choice_of(request.query_params)
    except FieldError:
        return Choice()


def _job(visit: Visit) -> Job | None:
    task = visit.desk.find(visit.request.path_params["key"])
    return task if isinstance(task, Job) else None
