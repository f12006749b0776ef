"""From a marker to the words and numbers that a page shows of it."""

from dataclasses import dataclass

from nesting import tape_rows
from nesting.answers.rows import lay_row, money
from nesting.answers.spare import spare_words
from nesting.draw.heading import bound_names
from nesting.draw.words import selection_words
from nesting.languages import Words
from nesting.marker.marker import Marker
from nesting.web.jobs import Job
from pieces.measures.format import format_both, format_length
from pieces.measures.tape import format_tape


@dataclass(frozen=True)
class Answer:
    """What a page shows of a marker.

    Parameters
    ----------
    job, number
        Which laying, and how many markers it has found so far: a picture's address.
    garment
        What is laid, and how many of it.
    shop, marker, spare
        Lengths in words: to ask for, taken by the pieces, and left over.
    bounds
        What cannot be beaten, each with what it is true of.
    utilisation
        Per cent of the cloth that becomes pieces.
    cost
        Price of the length, or empty.
    findings
        Sentences of the independent check, which are English.
    pieces
        For readers who cannot see the picture: where each piece lies.
    """

    job: str
    number: int
    garment: str
    shop: str
    marker: str
    spare: str
    bounds: tuple[tuple[str, str], ...]
    utilisation: str
    cost: str
    findings: tuple[str, ...]
    pieces: tuple[tuple[str, ...], ...]


def answer_of(job: Job, words: Words) -> Answer:
    """Return what is shown of a job that has found a marker."""
    result, bolt = job.best, job.request.bolt
    if result is None:
        raise ValueError(f"job {job.key} has found no marker yet")
    row = lay_row(job.request, result)
    price = bolt.price

    def both(length_mm: float) -> str:
        return words.figures(format_both(length_mm, bolt.units))

    return Answer(
        job=job.key,
        number=job.number,
        garment=", ".join((job.request.pattern.name, selection_words(result.marker, words))),
        shop=words.figures(format_length(result.shop_length_mm, bolt.units, up=True)),
        marker=both(result.marker_length_mm),
        spare=spare_words(result, words),
        bounds=tuple(
            (words.say(name).capitalize(), both(bound_mm))
            for name, bound_mm in bound_names(
                result.marker, (result.lower_bound.length_mm, result.open_bound.length_mm)
            )
        ),
        utilisation=f"{100 * row['utilisation']:.0f} %",
        cost=""
        if price is None
        else words.figures(money(price, price.cost(result.shop_length_mm))),
        findings=tuple(finding.sentence for finding in result.findings),
        pieces=_pieces(result.marker, words),
    )


def _pieces(marker: Marker, words: Words) -> tuple[tuple[str, ...], ...]:
    """Return where each piece lies, as on a tape."""

    def tape(length_mm: float) -> str:
        return words.figures(format_tape(max(0.0, length_mm), marker.bolt.units))

    return tuple(
        (
            f"{at.title} {at.size}",
            words.say("printed side down") if at.turned_over else words.say("printed side up"),
            tape(at.tail_mm[0]),
            words.say(
                "{length} from the {edge}", length=tape(at.tail_mm[1]), edge=words.say(at.edge)
            ),
        )
        for at in tape_rows(marker)
    )
