"""From results to the words and numbers that the pages show."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from nesting import (
    ClothChoice,
    FitsRequest,
    LayRequest,
    LayResult,
    Marker,
    ShoppingRequest,
    compare_bolts,
    does_it_fit,
    shop,
    tape_rows,
)
from nesting.advice import advice
from nesting.compare import CompareRow
from nesting.fits_tables import answer_words, owned_words, pieces_words, way_words
from nesting.placement import Placement, lies_on_fold, lying_shape
from nesting.shopping_words import (
    ClothWords,
    NotionWords,
    cloth_words,
    finding_words,
    notion_words,
    total_words,
    units_of,
)
from nesting.tables import lay_row, money
from nesting.web.choice import Choice, FieldError, request_of
from nesting.web.jobs import Job
from nesting.web.library import Library
from pieces.errors import LengthError
from pieces.grainline import Grain
from pieces.lengths import format_both, format_length
from pieces.remnants import parse_remnant
from pieces.tape import format_tape
from pieces.widths import format_width_both

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
        Sentences of the independent check.
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


def answer_of(job: Job) -> Answer:
    """Return what is shown of a job that has found a marker."""
    result, bolt = job.best, job.request.bolt
    if result is None:
        raise ValueError(f"job {job.key} has found no marker yet")
    row = lay_row(job.request, result)
    price = bolt.price
    return Answer(
        job=job.key,
        number=job.number,
        shop=format_length(result.shop_length_mm, bolt.units),
        marker=format_both(result.marker_length_mm, bolt.units),
        bound=format_both(result.lower_bound.length_mm, bolt.units),
        utilisation=f"{100 * row['utilisation']:.0f} %",
        cost="" if price is None else money(price, price.cost(result.shop_length_mm)),
        findings=tuple(finding.sentence for finding in result.findings),
        pieces=tuple(
            (
                f"{at.title} {at.size}",
                "printed side down" if at.turned_over else "printed side up",
                format_tape(max(0.0, at.tail_mm[0]), bolt.units),
                f"{format_tape(max(0.0, at.tail_mm[1]), bolt.units)} from the {at.edge}",
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


def bolts_side_by_side(
    choice: Choice, widths: list[str], library: Library
) -> tuple[tuple[Column, ...], tuple[str, ...]]:
    """Return a column for each width with nap and without, and what follows from them.

    Raises
    ------
    FieldError
        If there are too many widths, or one cannot be read.
    NestingError, PiecesError
        As :func:`nesting.compare_bolts` raises them.
    """
    if len(widths) > MOST_WIDTHS:
        raise FieldError("with", f"{len(widths)} more bolts are too many; compare {MOST_WIDTHS}")
    requests = [
        request_of(replace(choice, width=width, nap=nap), library, effort="standard")
        for width in dict.fromkeys((choice.width, *widths))
        for nap in ("", "yes")
    ]
    rows = compare_bolts(tuple(requests))
    longest = max((row.result.shop_length_mm for row in rows if row.result), default=1.0)
    return tuple(_column(row, longest) for row in rows), tuple(advice(rows))


def _column(row: CompareRow, longest_mm: float) -> Column:
    request: LayRequest = row.request
    bolt, result = request.bolt, row.result
    return Column(
        width=format_width_both(bolt.width_mm, bolt.units),
        nap="with nap" if bolt.nap else "without nap",
        shop="" if result is None else format_length(result.shop_length_mm, bolt.units),
        cost="" if row.cost is None else money(bolt.price, row.cost),
        share=0.0 if result is None else result.shop_length_mm / longest_mm,
        refusal=row.refusal,
    )


@dataclass(frozen=True)
class Fit:
    """What a page says of cloth that is owned.

    Parameters
    ----------
    sentence
        Yes with what is left, or no with what is missing.
    fits
        Whether it does.
    shares
        For each length of cloth: which it is, and which pieces lie on it.
    ways
        What came of relaxing one rule at a time.
    """

    sentence: str
    fits: bool
    shares: tuple[tuple[str, str], ...]
    ways: tuple[str, ...]


def fit_of(choice: Choice, owned: list[str], library: Library) -> Fit:
    """Return whether a garment fits on lengths of cloth, each typed length first.

    Raises
    ------
    FieldError
        If there is no length, there are too many, or one cannot be read.
    NestingError, PiecesError
        As :func:`nesting.does_it_fit` raises them.
    """
    if not 1 <= len(owned) <= MOST_WIDTHS:
        raise FieldError("have", f"tell 1 to {MOST_WIDTHS} lengths of cloth, not {len(owned)}")
    try:
        remnants = [parse_remnant(text) for text in owned]
    except LengthError as problem:
        raise FieldError("have", str(problem)) from problem
    first = replace(choice, width=f"{remnants[0].width_mm!r}mm")
    lay = request_of(first, library, effort="standard")
    bolts = tuple(
        replace(
            lay.bolt,
            width_mm=one.width_mm,
            length_left_mm=one.length_mm,
            units=remnants[0].units,
            shop_step_mm=None,
        )
        for one in remnants
    )
    answer = does_it_fit(FitsRequest(lay=lay, owned=bolts))
    shares = [
        (owned_words(share), pieces_words(share.result.marker.items))
        for share in answer.sharing.shares
        if share.result is not None
    ]
    if not answer.fits:
        shares.append(("left over", pieces_words(answer.sharing.left_over)))
    return Fit(
        answer_words(answer),
        answer.fits,
        tuple(shares),
        tuple(way_words(way, remnants[0].units) for way in answer.ways),
    )


@dataclass(frozen=True)
class Shopping:
    """A shopping list in words."""

    cloths: tuple[ClothWords, ...]
    notions: tuple[NotionWords, ...]
    total: str
    cautions: tuple[str, ...]
    findings: tuple[str, ...]


def shopping_of(choice: Choice, bolts: Mapping[str, Choice], library: Library) -> Shopping:
    """Return the list for one garment, with the bolt typed for each cloth.

    Raises
    ------
    FieldError
        If a bolt cannot be read.
    NestingError, PiecesError
        As :func:`nesting.shop` raises them.
    """
    garment = request_of(replace(choice, width="1m"), library, effort="standard")
    choices = {
        cloth: ClothChoice(request.bolt, request.rules)
        for cloth, typed in bolts.items()
        for request in [request_of(typed, library)]
    }
    shopping = shop(
        ShoppingRequest(
            pattern=garment.pattern,
            selections=garment.selections,
            choices=choices,
            search=garment.search,
        )
    )
    units = units_of(shopping)
    return Shopping(
        tuple(cloth_words(line) for line in shopping.cloths),
        tuple(notion_words(line, units) for line in shopping.notions),
        total_words(shopping),
        shopping.cautions,
        finding_words(shopping),
    )


@dataclass(frozen=True)
class Step:
    """One step of laying a marker by hand: how many are laid, the last of them, and why so."""

    number: int
    of: int
    piece: str
    reasons: tuple[str, ...]


def step_of(result: LayResult, number: int) -> tuple[Step, Marker]:
    """Return a step, and the marker as far as it is laid then, from the cut end on.

    Steps beyond the last are the last, those before the first the first.
    """
    marker = result.marker
    order = sorted(marker.placements, key=lambda at: (at.stretch, _start_mm(marker, at)))
    number = min(max(number, 1), len(order))
    last = order[number - 1]
    item = marker.item_by_key[last.item]
    reasons = [_GRAIN_REASONS[item.grain]]
    if marker.bolt.has_direction or item.one_way:
        reasons.append("All tops point the same way: the cloth or the piece has a direction.")
    else:
        reasons.append("Plain cloth: a piece may be turned top to bottom to save length.")
    if lies_on_fold(item, marker.stretches[last.stretch].spread):
        reasons.append("Half a piece: its fold edge lies on the fold, and is not cut.")
    elif last.flipped:
        reasons.append("Printed side down: so the two of a pair come out as left and right.")
    step = Step(number, len(order), f"{item.title}, size {item.size}", tuple(reasons))
    return step, replace(marker, placements=tuple(order[:number]))


def _start_mm(marker: Marker, at: Placement) -> float:
    """Return how far from the cut end a placement begins, mm."""
    item, spread = marker.item_by_key[at.item], marker.stretches[at.stretch].spread
    return float(lying_shape(item, at, spread).outline_mm[:, 0].min())


_GRAIN_REASONS = {
    Grain.LENGTHWISE: "The grainline lies along the cloth, as far from the edge at both ends.",
    Grain.CROSSWISE: "The grainline lies across the cloth, square to the selvage.",
    Grain.BIAS: "The grainline lies at 45 degrees to the selvage, on the bias.",
    Grain.FREE: "This piece may lie in any direction.",
}
