"""Visitors of a page served for real: those who leave, and many at once."""

import threading
from collections.abc import Iterator

import httpx2
import pytest
from starlette.applications import Starlette

from nesting.web import make_app
from tests import serving
from tests.places import DEMO

CLOAK = "pattern=cloak&view=A&size=M&cloth=shell&width=45in"


@pytest.fixture(scope="module")
def served() -> Iterator[tuple[Starlette, str]]:
    """Return an application with the invented demo patterns, and the address of its page."""
    app = make_app(DEMO)
    with serving.served(app) as address:
        yield app, address


def test_a_job_ends_when_its_visitor_leaves(served: tuple[Starlette, str]) -> None:
    """After the first event the stream is closed; the job is told to stop, and ends."""
    app, address = served

    with httpx2.stream("GET", f"{address}/live?{CLOAK}&long=1", timeout=60) as stream:
        event = next(line for line in stream.iter_lines() if line.startswith("data: "))
        job = app.state.desk.find(event.split('"job": "')[1].split('"')[0])
        assert not job.is_over

    assert job.ended.wait(30)
    assert job.state.value == "stopped"


@pytest.mark.slow
def test_fifty_pages_at_once_are_answered_while_two_markers_are_laid(
    served: tuple[Starlette, str],
) -> None:
    """Every visitor gets the page; how soon is for a bench."""
    _, address = served
    answers: list[int] = []

    def visit() -> None:
        answers.append(httpx2.get(f"{address}/?pattern=cloak", timeout=90).status_code)

    with (
        httpx2.stream("GET", f"{address}/live?{CLOAK}&long=1", timeout=60),
        httpx2.stream("GET", f"{address}/live?{CLOAK}&nap=yes&long=1", timeout=60),
    ):
        visitors = [threading.Thread(target=visit) for _ in range(50)]
        for visitor in visitors:
            visitor.start()
        for visitor in visitors:
            visitor.join()

    assert answers == [200] * 50
