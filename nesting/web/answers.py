"""From markers and comparisons to the words and numbers that the pages show."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from nesting import Change, Difference, LayRequest, compare_bolts, tape_rows, what_if
from nesting.answers.compare import CompareRow
from nesting.answers.compare_words import advice
from nesting.answers.rows import lay_row, money
from nesting.answers.what_if.changed_bolt import what_if_words
from nesting.languages import Words, marked
from nesting.web.choice import Choice, request_of
from nesting.web.jobs import Job, Stopper
from nesting.web.library import Shelf
from nesting.web.problems import FieldError
from pieces.measures.format import format_both, format_length
from pieces.measures.tape import format_tape
from pieces.measures.widths import format_width_both

MOST_WIDTHS = 4


@dataclass(frozen=True)
class Answer:
    """What a page shows of a marker.

    Parameters
    ----------
    job, number
        Which laying, and how many markers it has found so far: a picture's address.
    shop, marker, bound
        Lengths in words: to ask for, taken by the pieces, and what no marker can beat.
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
    shop: str
    marker: str
    bound: str
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

    def tape(length_mm: float) -> str:
        return words.figures(format_tape(max(0.0, length_mm), bolt.units))

    return Answer(
        job=job.key,
        number=job.number,
        shop=words.figures(format_length(result.shop_length_mm, bolt.units)),
        marker=both(result.marker_length_mm),
        bound=both(result.lower_bound.length_mm),
        utilisation=f"{100 * row['utilisation']:.0f} %",
        cost=""
        if price is None
        else words.figures(money(price, price.cost(result.shop_length_mm))),
        findings=tuple(finding.sentence for finding in result.findings),
        pieces=tuple(
            (
                f"{at.title} {at.size}",
                words.say("printed side down") if at.turned_over else words.say("printed side up"),
                tape(at.tail_mm[0]),
                words.say(
                    "{length} from the {edge}",
                    length=tape(at.tail_mm[1]),
                    edge=words.say(at.edge),
                ),
            )
            for at in tape_rows(result.marker)
        ),
    )


@dataclass(frozen=True)
class Column:
    """One bolt of a comparison."""

    width: str
    nap: str
    shop: str
    cost: str
    share: float
    refusal: str


@dataclass(frozen=True)
class Compared:
    """Bolts side by side: their rows, and what one thing changed comes to on each."""

    rows: tuple[CompareRow, ...]
    differences: tuple[Difference, ...]

    def columns(self, words: Words) -> tuple[Column, ...]:
        """Return what is shown of each bolt."""
        laid = [row.result.shop_length_mm for row in self.rows if row.result]
        longest = max(laid, default=1.0)
        return tuple(_column(row, longest, words) for row in self.rows)

    def sentences(self, words: Words) -> tuple[str, ...]:
        """Return what follows from the comparison."""
        return (*advice(self.rows, words), *(what_if_words(one, words) for one in self.differences))


def widths_of(
    choice: Choice, typed: Sequence[str], changes: Sequence[Change], shelf: Shelf
) -> tuple[LayRequest, ...]:
    """Return a request for each width: without nap, then with it.

    Raises
    ------
    FieldError
        If there are too many widths, or one cannot be read.
    NestingError, PiecesError
        As :func:`nesting.web.choice.request_of` raises them.
    """
    if len(typed) > MOST_WIDTHS:
        raise FieldError(
            "with",
            marked("{count} more bolts are too many; compare {most}."),
            count=len(typed),
            most=MOST_WIDTHS,
        )
    widths = dict.fromkeys((choice.width, *typed))
    lays = 2 * len(widths) * (2 if Change.NARROWER in changes else 1)
    return tuple(
        request_of(replace(choice, width=width, nap=nap), shelf, lays=lays)
        for width in widths
        for nap in ("", "yes")
    )


def bolts_side_by_side(
    requests: tuple[LayRequest, ...], changes: Sequence[Change], stop: Stopper
) -> Compared:
    """Return each bolt with nap and without, and what changes come to.

    Raises
    ------
    NestingError, PiecesError
        As :func:`nesting.compare_bolts` raises them.
    """
    rows = compare_bolts(requests, progress=stop)
    differences: list[Difference] = []
    if Change.NARROWER in changes and not stop():
        differences += what_if(requests[::2], Change.NARROWER, progress=stop)
    if Change.NAP in changes:
        pairs = list(pairwise(rows))[::2]
        differences += [Difference(Change.NAP, plain, napped) for plain, napped in pairs]
    return Compared(rows, tuple(differences))


def _column(row: CompareRow, longest_mm: float, words: Words) -> Column:
    bolt, result = row.request.bolt, row.result
    return Column(
        width=words.figures(format_width_both(bolt.width_mm, bolt.units)),
        nap=words.say("with nap") if bolt.nap else words.say("without nap"),
        shop=""
        if result is None
        else words.figures(format_length(result.shop_length_mm, bolt.units)),
        cost="" if row.cost is None else words.figures(money(bolt.price, row.cost)),
        share=0.0 if result is None else result.shop_length_mm / longest_mm,
        refusal=row.refusal,
    )
