"""The routes of the page."""

import asyncio
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

from starlette.applications import Starlette
from starlette.middleware import Middleware
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles

from nesting.engine import warm_up
from nesting.web import asking, class_order, front, paper, sheets, teaching
from nesting.web.guard import Guard
from nesting.web.jobs import Desk
from nesting.web.library import Library

LOOPBACK = frozenset(("127.0.0.1", "localhost", "::1"))


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
        warming = asyncio.create_task(asyncio.to_thread(_made_ready, app.state.library))
        yield
        await warming
        await asyncio.to_thread(app.state.desk.close)

    app = Starlette(
        routes=[
            Route("/", front.front),
            Route("/live", front.live),
            Route("/what-if", front.changed),
            Route("/jobs/{key}/stop", front.stop, methods=["POST"]),
            Route("/jobs/{key}/{name}", front.file),
            Route("/compare", asking.compare),
            Route("/fits", asking.fits),
            Route("/list", asking.shopping_list),
            Route("/teach/{key}", teaching.teach),
            Route("/teach/{key}/{step:int}.svg", teaching.picture),
            Route("/order", class_order.show_form),
            Route("/order", class_order.take_order, methods=["POST"]),
            Route("/order/{key}", class_order.show_order),
            Route("/patterns", sheets.hand_in, methods=["POST"]),
            Route("/paper", paper.show_form),
            Route("/paper", paper.hand_in, methods=["POST"]),
            Route("/paper/marks-{paper}.pdf", paper.marks),
            Route("/pieces", sheets.pieces),
            Route("/pieces/found.jpg", paper.found),
            Route("/pieces/{number:int}.svg", sheets.picture),
            Route("/pieces/{number:int}", sheets.put_right, methods=["POST"]),
            Route("/sheet.toml", sheets.sheet),
            Mount("/static", StaticFiles(packages=[("nesting.web", "static")])),
        ],
        middleware=[Middleware(Guard, hosts=hosts)],
        lifespan=lifespan,
    )
    app.state.library = Library(folder)
    return app


def _made_ready(library: Library) -> None:
    """Read every sheet and compile the kernels before visitors come, so that none waits for it."""
    for _ in library.shelf("").titles():
        pass
    warm_up()
