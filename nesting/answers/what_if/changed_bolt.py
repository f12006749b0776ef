"""One thing about the bolt changed, and the same pieces laid again: what that costs.

Both lays are searched alike and compared as :func:`nesting.answers.compare.compare_bolts` compares
them, so a narrower bolt, or one with nap, never seems to need less.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum

from nesting.answers.compare import CompareRow, compare_bolts, laws_kept, lay_each
from nesting.answers.rows import money
from nesting.languages import ENGLISH, Words
from nesting.lay import LayRequest, LayResult, RowCallback
from pieces.measures.format import format_both
from pieces.measures.units import MM_PER_INCH, UnitSystem
from pieces.measures.widths import format_width, format_width_both

METRIC_STEP_MM = 25.0


class Change(StrEnum):
    """What may be changed."""

    NARROWER = "narrower"
    NAP = "nap"


@dataclass(frozen=True)
class Difference:
    """What one change comes to.

    Parameters
    ----------
    change
        Which one.
    asked, other
        The easier cloth and the harder one: as wide as asked and narrower, or without nap and
        with it.
    """

    change: Change
    asked: CompareRow
    other: CompareRow

    @property
    def more_mm(self) -> float | None:
        """How much more the harder cloth asks for, mm; None if either does not hold the pieces."""
        if self.asked.result is None or self.other.result is None:
            return None
        return self.other.result.shop_length_mm - self.asked.result.shop_length_mm

    @property
    def more_cost(self) -> Decimal | None:
        """The same in money, or None."""
        if self.asked.cost is None or self.other.cost is None:
            return None
        return self.other.cost - self.asked.cost


def narrower_by_mm(units: UnitSystem) -> float:
    """Return how much narrower is tried: an inch, or 2.5 cm."""
    return MM_PER_INCH if units is UnitSystem.IMPERIAL else METRIC_STEP_MM


def what_if(
    requests: Sequence[LayRequest],
    change: Change,
    *,
    known: LayResult | None = None,
    progress: RowCallback | None = None,
) -> tuple[Difference, ...]:
    """Lay each request on the easier and on the harder cloth.

    Parameters
    ----------
    requests
        At least one; all of the same garments.
    change
        An inch narrower (2.5 cm where the bolt is told in metric), or nap.
    known
        What came of the first request, if it is laid already: the change is told beside that.
    progress
        As for :func:`nesting.answers.compare.compare_bolts`.

    Raises
    ------
    BoltError
        If no cloth would be left between the selvages.
    NestingError, PiecesError
        Whatever :func:`nesting.answers.compare.compare_bolts` raises.
    """
    pairs = [_pair(request, change) for request in requests]
    asked = tuple(one for pair in pairs for one in pair)
    if known is None:
        rows = compare_bolts(asked, progress=progress)
    else:
        at = asked.index(requests[0])
        others = lay_each((*asked[:at], *asked[at + 1 :]), progress=progress)
        rows = laws_kept((*others[:at], CompareRow(requests[0], known), *others[at:]))
    return tuple(Difference(change, rows[at], rows[at + 1]) for at in range(0, len(rows), 2))


def _pair(request: LayRequest, change: Change) -> tuple[LayRequest, LayRequest]:
    bolt = request.bolt
    if change is Change.NAP:
        plain, napped = (replace(bolt, nap=nap) for nap in (False, True))
        return replace(request, bolt=plain), replace(request, bolt=napped)
    width_mm = bolt.width_mm - narrower_by_mm(bolt.units)
    return request, replace(request, bolt=replace(bolt, width_mm=width_mm))


def what_if_words(found: Difference, words: Words = ENGLISH) -> str:
    """Return what a change comes to, in length and money, in one sentence."""
    if found.asked.result is None:
        return words.say("It does not go on this cloth as it is: {why}.", why=found.asked.refusal)
    where = _where(found, words)
    if found.other.result is None:
        return words.say("{where} it does not go: {why}.", where=where, why=found.other.refusal)
    bolt = found.other.request.bolt
    ask = words.figures(format_both(found.other.result.shop_length_mm, bolt.units, up=True))
    if not found.more_mm or found.more_mm < 0.0:
        return words.say("{where} ask for {length} as well.", where=where, length=ask)
    more = words.figures(format_both(found.more_mm, bolt.units, up=True))
    if found.more_cost is None:
        return words.say(
            "{where} ask for {length}, {more} more.", where=where, length=ask, more=more
        )
    return words.say(
        "{where} ask for {length}, {more} more, and pay {cost} more.",
        where=where,
        length=ask,
        more=more,
        cost=words.figures(money(bolt.price, found.more_cost)),
    )


def _where(found: Difference, words: Words) -> str:
    bolt = found.other.request.bolt
    width = words.figures(format_width_both(bolt.width_mm, bolt.units))
    if found.change is Change.NAP:
        return words.say("With nap, on a bolt {width} wide,", width=width)
    less = words.figures(format_width(narrower_by_mm(bolt.units), bolt.units))
    return words.say("If the bolt is {less} narrower, {width},", less=less, width=width)
