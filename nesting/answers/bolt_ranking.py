"""Which bolt of the shop to take: all of a list compared, ranked by what the garment costs."""

from collections.abc import Sequence
from dataclasses import dataclass

from nesting.answers.compare import CompareRow
from nesting.answers.rows import Row, compare_row, money
from nesting.cloth.bolt_list_file import ListedBolt
from nesting.languages import ENGLISH, Words
from pieces.measures.format import format_both

ROUNDING_MM = 1e-6


@dataclass(frozen=True)
class RankedBolt:
    """One bolt of a list with its lay.

    Parameters
    ----------
    name
        Of the bolt.
    row
        Its lay, or why there is none.
    lacking_mm
        How much more the lay takes than is left of the bolt, mm; 0 if there is enough.
    """

    name: str
    row: CompareRow
    lacking_mm: float

    @property
    def will_do(self) -> bool:
        """Whether the garment can be cut from it."""
        return self.row.result is not None and self.lacking_mm == 0.0


def ranked_bolts(
    listed: Sequence[ListedBolt], rows: Sequence[CompareRow]
) -> tuple[RankedBolt, ...]:
    """Return the bolts with their lays: those that will do first, in them the cheapest first.

    Bolts without a price come after those with one, the shortest length first; then those of which
    too little is left, the least lacking first; last those on which the garment does not go.

    Parameters
    ----------
    listed, rows
        The bolts, and the lay of each in the same order.
    """
    found = [
        RankedBolt(one.name, row, _lacking_mm(row)) for one, row in zip(listed, rows, strict=True)
    ]
    return tuple(sorted(found, key=_rank))


def _lacking_mm(row: CompareRow) -> float:
    left_mm = row.request.bolt.length_left_mm
    if row.result is None or left_mm is None:
        return 0.0
    lacking_mm = row.result.cut_length_mm - left_mm
    return lacking_mm if lacking_mm > ROUNDING_MM else 0.0


def _rank(one: RankedBolt) -> tuple[float, ...]:
    result, cost = one.row.result, one.row.cost
    if result is None:
        return (3.0,)
    if one.lacking_mm:
        return 2.0, one.lacking_mm
    if cost is None:
        return 1.0, result.shop_length_mm
    return 0.0, float(cost), result.shop_length_mm


def ranked_row(rank: int, one: RankedBolt) -> Row:
    """Return a bolt as plain values: its place from 1, its name, what lacks, and its lay."""
    facts = {"rank": rank, "name": one.name, "will_do": one.will_do, "lacking_mm": one.lacking_mm}
    return facts | compare_row(one.row)


def ranking_sentences(ranked: Sequence[RankedBolt], words: Words = ENGLISH) -> tuple[str, ...]:
    """Return which bolt to take, and what it saves against the next."""
    best = ranked[0]
    result = best.row.result
    if not best.will_do or result is None:
        return (words.say("None of these bolts will do."),)
    bolt, cost = best.row.request.bolt, best.row.cost
    ask = words.figures(format_both(result.shop_length_mm, bolt.units, up=True))
    if cost is None:
        told = [words.say("Take {length} of {name}.", length=ask, name=best.name)]
    else:
        price = words.figures(money(bolt.price, cost))
        told = [
            words.say("Take {length} of {name} for {cost}.", length=ask, name=best.name, cost=price)
        ]
    second = ranked[1] if len(ranked) > 1 else best
    if second.will_do and cost is not None and second.row.cost is not None:
        more = second.row.cost - cost
        if second is not best and more:
            amount = words.figures(money(bolt.price, more))
            told.append(
                words.say("The next, {name}, costs {more} more.", name=second.name, more=amount)
            )
    return tuple(told)
