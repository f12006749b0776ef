"""The routes of the page."""

import asyncio
import json
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

from jinja2 import Environment, PackageLoader, select_autoescape
from starlette.applications import Starlette
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import (
    HTMLResponse,
    PlainTextResponse,
    RedirectResponse,
    Response,
    StreamingResponse,
)
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles

from nesting.engine import warm_up
from nesting.errors import NestingError
from nesting.web.answers import (
    Column,
    Fit,
    Shopping,
    answer_of,
    bolts_side_by_side,
    fit_of,
    shopping_of,
    step_of,
)
from nesting.web.choice import Choice, FieldError, choice_of, request_of
from nesting.web.files import FILES, file_of, picture_of
from nesting.web.guard import Guard
from nesting.web.jobs import AT_A_GO, STAGES, BusyError, Desk, Job
from nesting.web.library import Library
from pieces.errors import PiecesError

LOOPBACK = frozenset(("127.0.0.1", "localhost", "::1"))
LOOK_S = 0.2
WAIT_S = 60.0

_pages = Environment(
    loader=PackageLoader("nesting.web"), autoescape=select_autoescape(), trim_blocks=True
)
_pages.globals["named"] = lambda things: [
    (thing.name, f"{thing.name}: {thing.about}" if thing.about else thing.name) for thing in things
]
_pages.globals["plain"] = lambda names: [(name, name) for name in names]


def make_app(folder: Path, *, hosts: frozenset[str] = LOOPBACK) -> Starlette:
    """Return the application.

    Parameters
    ----------
    folder
        Where the pattern sheets are.
    hosts
        Names by which the page may be called.
    """

    @asynccontextmanager
    async def lifespan(app: Starlette) -> AsyncIterator[None]:
        app.state.desk = Desk()
        warming = asyncio.create_task(asyncio.to_thread(warm_up))
        yield
        await warming
        await asyncio.to_thread(app.state.desk.close)

    app = Starlette(
        routes=[
            Route("/", _front),
            Route("/compare", _compare),
            Route("/fits", _fits),
            Route("/list", _list),
            Route("/teach/{key}", _teach),
            Route("/teach/{key}/{step:int}.svg", _teach_picture),
            Route("/live", _live),
            Route("/patterns", _hand_in, methods=["POST"]),
            Route("/jobs/{key}/stop", _stop, methods=["POST"]),
            Route("/jobs/{key}/{name}", _file),
            Mount("/static", StaticFiles(packages=[("nesting.web", "static")])),
        ],
        middleware=[Middleware(Guard, hosts=hosts)],
        lifespan=lifespan,
    )
    app.state.library = Library(folder)
    return app


def _page(name: str, status: int = 200, **told: object) -> HTMLResponse:
    return HTMLResponse(_pages.get_template(name).render(**told), status)


def _form(request: Request, choice: Choice) -> dict[str, object]:
    """Return what the form needs: patterns, and views, sizes and cloths of the chosen one."""
    library: Library = request.app.state.library
    titles = list(library.titles())
    try:
        pattern = library.pattern(choice.pattern or (titles[0][0] if titles else ""))
    except PiecesError:
        pattern = None
    return {"titles": titles, "pattern": pattern, "choice": choice}


async def _front(request: Request) -> Response:
    """Show the form, and the marker at once for those without JavaScript."""
    problem, job, choice = None, None, Choice()
    try:
        choice = choice_of(request.query_params)
        if choice.width:
            laid = request_of(choice, request.app.state.library)
            if "plain" in request.query_params:
                job = await _finished(request.app.state.desk.take_in(laid, AT_A_GO))
    except (FieldError, PiecesError, NestingError, BusyError) as caught:
        problem = caught
    if job is not None and job.best is None:
        problem = NestingError(job.sentence or "no marker was found in time; try once more")
    answer = None if job is None or job.best is None else answer_of(job)
    return _page(
        "front.html",
        400 if problem else 200,
        problem=problem,
        answer=answer,
        files=FILES,
        is_live=bool(choice.width) and problem is None and answer is None,
        **_form(request, choice),
    )


async def _finished(job: Job) -> Job:
    await asyncio.to_thread(job.ended.wait, WAIT_S)
    job.stop.set()
    return job


async def _live(request: Request) -> Response:
    """Stream events: each a better marker, or how far the search has come."""
    try:
        laid = request_of(choice_of(request.query_params), request.app.state.library)
        stages = STAGES if "long" in request.query_params else STAGES[:2]
        job = request.app.state.desk.take_in(laid, stages)
    except (FieldError, PiecesError, NestingError, BusyError) as problem:
        event = f"event: problem\ndata: {json.dumps({'sentence': str(problem)})}\n\n"
        return StreamingResponse(iter([event]), media_type="text/event-stream")
    return StreamingResponse(_events(request, job), media_type="text/event-stream")


async def _events(request: Request, job: Job) -> AsyncIterator[str]:
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
                "sentence": job.sentence,
            }
            if job.best is not None:
                told["number"] = job.number
                if job.number != shown:
                    shown = job.number
                    told["answer"] = _pages.get_template("answer.html").render(
                        answer=answer_of(job), files=FILES
                    )
            yield f"event: state\ndata: {json.dumps(told)}\n\n"
            if over or await request.is_disconnected():
                return
            await asyncio.sleep(LOOK_S)
    finally:
        job.stop.set()


async def _stop(request: Request) -> Response:
    job = request.app.state.desk.find(request.path_params["key"])
    if job is None:
        return PlainTextResponse("that marker is not kept any more; lay it again", 404)
    job.stop.set()
    return Response(status_code=204)


async def _file(request: Request) -> Response:
    """Hand out a file of a marker: picture, pages, table or the marker itself."""
    job = request.app.state.desk.find(request.path_params["key"])
    name = request.path_params["name"]
    if job is None or job.best is None or name not in FILES:
        return PlainTextResponse("that marker is not kept any more; lay it again", 404)
    data = await asyncio.to_thread(file_of, name, job.best)
    shown = "inline" if name == "marker.svg" else "attachment"
    return Response(
        data,
        media_type=FILES[name].kind,
        headers={"content-disposition": f'{shown}; filename="{name}"'},
    )


async def _hand_in(request: Request) -> Response:
    """Take in a pattern sheet, keep it in memory, and go on with it."""
    try:
        async with request.form(max_files=1, max_fields=4) as form:
            handed = form.get("sheet")
            data = b"" if handed is None or isinstance(handed, str) else await handed.read()
        key = request.app.state.library.hand_in(data.decode("utf-8"))
    except UnicodeDecodeError:
        return _refused(request, "that file is not a pattern sheet: it is no UTF-8 text")
    except PiecesError as problem:
        return _refused(request, str(problem))
    return RedirectResponse(f"/?{Choice(pattern=key).query}", 303)


def _refused(request: Request, sentence: str) -> Response:
    choice = Choice()
    problem = FieldError("sheet", sentence)
    return _page(
        "front.html",
        400,
        problem=problem,
        answer=None,
        files=FILES,
        is_live=False,
        **_form(request, choice),
    )


async def _compare(request: Request) -> Response:
    """Lay the same garment on several bolts, with nap and without."""
    problem: Exception | None = None
    rows: tuple[Column, ...] = ()
    advice: tuple[str, ...] = ()
    choice = Choice()
    widths = [text.strip() for text in request.query_params.getlist("with") if text.strip()]
    try:
        choice = choice_of(request.query_params)
        if choice.width:
            rows, advice = await asyncio.to_thread(
                bolts_side_by_side, choice, widths, request.app.state.library
            )
    except (FieldError, PiecesError, NestingError) as caught:
        problem = caught
    return _page(
        "compare.html",
        400 if problem else 200,
        problem=problem,
        rows=rows,
        advice=advice,
        widths=widths,
        **_form(request, choice),
    )


async def _fits(request: Request) -> Response:
    """Say whether a garment fits on cloth that is owned."""
    problem: Exception | None = None
    fit: Fit | None = None
    choice = Choice()
    owned = [text.strip() for text in request.query_params.getlist("have") if text.strip()]
    try:
        choice = choice_of(request.query_params)
        if owned:
            fit = await asyncio.to_thread(fit_of, choice, owned, request.app.state.library)
    except (FieldError, PiecesError, NestingError) as caught:
        problem = caught
    status = 400 if problem else 200
    form = _form(request, choice)
    return _page("fits.html", status, problem=problem, fit=fit, owned=owned, **form)


async def _list(request: Request) -> Response:
    """Write the shopping list of a garment, one bolt for each of its cloths."""
    problem: Exception | None = None
    shopping: Shopping | None = None
    choice = Choice()
    bolts: dict[str, Choice] = {}
    try:
        choice = choice_of(request.query_params)
        bolts = _bolts(request, choice)
        if any(bolt.width for bolt in bolts.values()):
            told = {cloth: bolt for cloth, bolt in bolts.items() if bolt.width}
            shopping = await asyncio.to_thread(shopping_of, choice, told, request.app.state.library)
    except (FieldError, PiecesError, NestingError) as caught:
        problem = caught
    status = 400 if problem else 200
    form = _form(request, choice)
    return _page("list.html", status, problem=problem, shopping=shopping, bolts=bolts, **form)


def _bolts(request: Request, choice: Choice) -> dict[str, Choice]:
    """Return what is typed of the bolt for each cloth that the chosen view uses."""
    pattern = request.app.state.library.pattern(choice.pattern) if choice.pattern else None
    if pattern is None:
        return {}
    typed = request.query_params
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


async def _teach(request: Request) -> Response:
    """Show a marker step by step, in large type."""
    job = request.app.state.desk.find(request.path_params["key"])
    if job is None or job.best is None:
        return PlainTextResponse("that marker is not kept any more; lay it again", 404)
    typed = request.query_params.get("step", "1")
    number = int(typed) if typed.isascii() and typed.isdigit() and len(typed) < 6 else 1
    step, _ = step_of(job.best, number)
    title = job.request.pattern.name
    return _page("teach.html", step=step, job=job.key, title=title, choice=Choice())


async def _teach_picture(request: Request) -> Response:
    """Draw a marker as far as it is laid at a step."""
    job = request.app.state.desk.find(request.path_params["key"])
    if job is None or job.best is None:
        return PlainTextResponse("that marker is not kept any more; lay it again", 404)
    _, marker = step_of(job.best, request.path_params["step"])
    data = await asyncio.to_thread(picture_of, marker)
    return Response(data, media_type="image/svg+xml")
