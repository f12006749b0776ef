"""A marker shown step by step, in large type."""

import asyncio
from dataclasses import dataclass, replace

from starlette.requests import Request
from starlette.responses import Response

from nesting import LayResult, Marker
from nesting.languages import Words, marked
from nesting.marker.placement import Placement, lies_on_fold, lying_shape
from nesting.web.choice import Choice, choice_of
from nesting.web.files import picture_of
from nesting.web.jobs import Job
from nesting.web.page import GONE_MARKER, Visit, visit_of
from nesting.web.problems import FieldError
from pieces.grainline import Grain

_GRAIN_REASONS = {
    Grain.LENGTHWISE: marked(
        "The grainline lies along the cloth, as far from the edge at both ends."
    ),
    Grain.CROSSWISE: marked("The grainline lies across the cloth, square to the selvage."),
    Grain.BIAS: marked("The grainline lies at 45 degrees to the selvage, on the bias."),
    Grain.FREE: marked("This piece may lie in any direction."),
}


@dataclass(frozen=True)
class Step:
    """One step of laying a marker by hand: how many are laid, the last of them, and why so."""

    number: int
    of: int
    piece: str
    reasons: tuple[str, ...]


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


def step_of(result: LayResult, number: int, words: Words) -> tuple[Step, Marker]:
    """Return a step, and the marker as far as it is laid then, from the cut end on.

    Steps beyond the last are the last, those before the first the first.
    """
    marker = result.marker
    order = sorted(marker.placements, key=lambda at: (at.stretch, _start_mm(marker, at)))
    number = min(max(number, 1), len(order))
    last = order[number - 1]
    item = marker.item_by_key[last.item]
    reasons = [words.say(_GRAIN_REASONS[item.grain])]
    if marker.bolt.has_direction or item.one_way:
        reasons.append(
            words.say("All tops point the same way: the cloth or the piece has a direction.")
        )
    else:
        reasons.append(
            words.say("Plain cloth: a piece may be turned top to bottom to save length.")
        )
    if lies_on_fold(item, marker.stretches[last.stretch].spread):
        reasons.append(words.say("Half a piece: its fold edge lies on the fold, and is not cut."))
    elif last.flipped:
        reasons.append(
            words.say("Printed side down: so the two of a pair come out as left and right.")
        )
    piece = words.say("{title}, size {size}", title=item.title, size=item.size)
    step = Step(number, len(order), piece, tuple(reasons))
    return step, replace(marker, placements=tuple(order[:number]))


def _start_mm(marker: Marker, at: Placement) -> float:
    """Return how far from the cut end a placement begins, mm."""
    item, spread = marker.item_by_key[at.item], marker.stretches[at.stretch].spread
    return float(lying_shape(item, at, spread).outline_mm[:, 0].min())
