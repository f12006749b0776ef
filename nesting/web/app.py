"""The routes of the page."""

import asyncio
import threading
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

from starlette.applications import Starlette
from starlette.middleware import Middleware
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles

from nesting.engine import warm_up
from nesting.web import compare, fits, front, order, paper, pieces, shopping_list, teach
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
        threading.Thread(target=_made_ready, args=(app.state.library,), daemon=True).start()
        yield
        await asyncio.to_thread(app.state.desk.close)

    app = Starlette(
        routes=[
            Route("/", front.front),
            Route("/live", front.live),
            Route("/what-if", front.changed),
            Route("/jobs/{key}/stop", front.stop, methods=["POST"]),
            Route("/jobs/{key}/{name}", front.file),
            Route("/compare", compare.compare),
            Route("/fits", fits.fits),
            Route("/list", shopping_list.shopping_list),
            Route("/teach/{key}", teach.teach),
            Route("/teach/{key}/{step:int}.svg", teach.picture),
            Route("/order", order.show_form),
            Route("/order", order.take_order, methods=["POST"]),
            Route("/order/{key}", order.show_order),
            Route("/patterns", pieces.hand_in, methods=["POST"]),
            Route("/paper", paper.show_form),
            Route("/paper", paper.hand_in, methods=["POST"]),
            Route("/paper/marks-{paper}.pdf", paper.marks),
            Route("/pieces", pieces.pieces),
            Route("/pieces/found.jpg", paper.found),
            Route("/pieces/{number:int}.svg", pieces.picture),
            Route("/pieces/{number:int}", pieces.put_right, methods=["POST"]),
            Route("/sheet.toml", pieces.sheet),
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
