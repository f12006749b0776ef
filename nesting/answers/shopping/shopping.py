"""The shopping list: every cloth that the garments take, each on its own bolt, and the notions."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from nesting.answers.shopping.cautions import child_cautions
from nesting.cloth.bolt import Bolt
from nesting.cloth.lay_rules import LayRules
from nesting.errors import DoesNotFitError, LayError, ShoppingError, SpreadRefusedError
from nesting.lay import (
    LayProgress,
    LayRequest,
    LayResult,
    RowCallback,
    SearchOptions,
    lay_pieces,
    row_of,
)
from nesting.marker.cut_list import Selection
from nesting.reckoning.thread import (
    USUAL_WASTE,
    garment_thread_mm,
    reels_needed,
    seam_length_mm,
)
from pieces.pattern import ClothNeed, Notion, NotionKind, Pattern


@dataclass(frozen=True)
class ClothChoice:
    """The bolt chosen for one cloth of the pattern, and how it is spread.

    Parameters
    ----------
    bolt, rules
        As for a lay.
    kind
        What cloth it is, such as ``"wide corduroy"``; empty if it was not told.
    """

    bolt: Bolt
    rules: LayRules = field(default_factory=LayRules)
    kind: str = ""


@dataclass(frozen=True, kw_only=True)
class ShoppingRequest:
    """Everything that decides a shopping list.

    Parameters
    ----------
    pattern, selections
        What is sewn: one garment or several.
    choices
        The bolt for each cloth, by the name of the cloth; cloths that no selection uses are
        left out of the list.
    search
        Effort, time limit for all cloths together, seed and workers.
    thread_ratio, neaten_ratio, thread_waste
        Thread over seam, thread over each raw edge that is neatened, and share wasted on top, for
        thread that the sheet gives no length of. 2.5 is the lockstitch of household machines, 5.5
        their zigzag; sources name a waste of 10 to 20 %.

    Raises
    ------
    ReckoningError
        If the settings for thread are out of range.
    """

    pattern: Pattern
    selections: tuple[Selection, ...]
    choices: Mapping[str, ClothChoice]
    search: SearchOptions = field(default_factory=SearchOptions)
    thread_ratio: float = 2.5
    neaten_ratio: float = 5.5
    thread_waste: float = USUAL_WASTE

    def __post_init__(self) -> None:
        """Refuse settings for thread before any time is spent on laying."""
        self.thread_mm(1.0)

    def thread_mm(self, seam_mm: float) -> float:
        """Return the thread that so much seam takes, mm."""
        return garment_thread_mm(
            seam_mm,
            ratio=self.thread_ratio,
            neaten_ratio=self.neaten_ratio,
            waste=self.thread_waste,
        )


@dataclass(frozen=True)
class ClothLine:
    """One cloth to buy.

    Parameters
    ----------
    need
        What the pattern says of it.
    choice
        The bolt it is bought from.
    request, result
        The lay that says how much.
    """

    need: ClothNeed
    choice: ClothChoice
    request: LayRequest
    result: LayResult

    @property
    def cost(self) -> Decimal | None:
        """Price of the shop length, rounded to hundredths; None without a price."""
        price = self.choice.bolt.price
        return None if price is None else price.cost(self.result.shop_length_mm)

    @property
    def is_suggested(self) -> bool | None:
        """Whether the bolt is of a kind the pattern suggests; None if neither says what it is."""
        if not self.choice.kind or not self.need.suggested:
            return None
        return self.choice.kind.casefold() in {kind.casefold() for kind in self.need.suggested}


@dataclass(frozen=True)
class NotionLine:
    """One notion to buy: a number of it, a length of it, or an estimated length.

    Parameters
    ----------
    notion
        What the pattern says of it.
    count, length_mm
        How much for all garments together; a length in mm.
    is_estimate
        True if the length was worked out from the seams.
    """

    notion: Notion
    count: int | None = None
    length_mm: float | None = None
    is_estimate: bool = False

    @property
    def reels(self) -> int | None:
        """Reels of thread to buy, each of :data:`~nesting.reckoning.thread.REEL_MM`; else None."""
        if self.notion.kind is not NotionKind.THREAD or self.length_mm is None:
            return None
        return reels_needed(self.length_mm)


@dataclass(frozen=True)
class ShoppingList:
    """All there is to buy.

    Parameters
    ----------
    request
        What was asked.
    cloths, notions
        In the order of the pattern sheet.
    cautions
        Those of the sheet, then those for children.
    """

    request: ShoppingRequest
    cloths: tuple[ClothLine, ...]
    notions: tuple[NotionLine, ...]
    cautions: tuple[str, ...]

    @property
    def totals(self) -> Mapping[str, Decimal]:
        """Cost of all priced cloths for each currency, in order of first mention."""
        totals: dict[str, Decimal] = {}
        for line in self.cloths:
            price, cost = line.choice.bolt.price, line.cost
            if price is not None and cost is not None:
                totals[price.currency] = totals.get(price.currency, Decimal(0)) + cost
        return totals

    @property
    def unpriced(self) -> tuple[str, ...]:
        """Names of the cloths without a price."""
        return tuple(line.need.name for line in self.cloths if line.cost is None)


def shop(request: ShoppingRequest, *, progress: RowCallback | None = None) -> ShoppingList:
    """Lay every cloth that the selections use on its bolt, and add up what to buy.

    Parameters
    ----------
    request
        What is sewn, from which bolts.
    progress
        Called with the number of the cloth, from 0, as its search goes; a true answer stops the
        search of this cloth and keeps its best so far.

    Raises
    ------
    ShoppingError
        If a cloth has no bolt or a bolt is for a cloth the pattern does not have.
    DoesNotFitError
        If a piece is too wide for its bolt; the sentence names the cloth.
    NestingError, PiecesError
        Whatever :func:`nesting.lay.lay_pieces` raises.
    """
    needs = cloths_needed(request)
    share = len(needs)
    lines = tuple(
        _cloth_line(request, need, share, row_of(progress, number))
        for number, need in enumerate(needs)
    )
    return ShoppingList(request, lines, _notion_lines(request), _cautions(request))


def cloths_needed(request: ShoppingRequest) -> tuple[ClothNeed, ...]:
    """Return the cloths that some selection uses, in the order of the sheet.

    Raises
    ------
    LayError
        If nothing is selected.
    ShoppingError
        If one of them has no bolt, or a bolt is for a cloth the pattern does not have.
    """
    pattern = request.pattern
    if not request.selections:
        raise LayError("nothing to sew is chosen; choose a view and a size")
    for selection in request.selections:
        pattern.size(selection.size)
    used = {need.name for one in request.selections for need in pattern.cloths_for(one.view)}
    needs = tuple(need for need in pattern.cloths if need.name in used)
    known = [need.name for need in pattern.cloths]
    unknown = [name for name in request.choices if name not in known]
    if unknown:
        raise ShoppingError(
            f'no cloth "{unknown[0]}" in "{pattern.name}"; its cloths are {", ".join(known)}'
        )
    missing = [need.name for need in needs if need.name not in request.choices]
    if missing:
        raise ShoppingError(
            f"no bolt for {' and '.join(missing)}; these garments take "
            f"{', '.join(need.name for need in needs)}, and each needs its own bolt"
        )
    return needs


def _cloth_line(
    request: ShoppingRequest,
    need: ClothNeed,
    share: int,
    told: Callable[[LayProgress], bool | None] | None,
) -> ClothLine:
    """Lay one cloth, with its share of the time if that is limited."""
    choice, search = request.choices[need.name], request.search
    seconds = None if search.seconds is None else search.seconds / share
    lay = LayRequest(
        pattern=request.pattern,
        selections=request.selections,
        cloth=need.name,
        bolt=choice.bolt,
        rules=choice.rules,
        search=SearchOptions(search.effort, seconds, search.seed, search.workers),
    )
    try:
        return ClothLine(need, choice, lay, lay_pieces(lay, progress=told))
    except (DoesNotFitError, SpreadRefusedError) as refusal:
        raise type(refusal)(f"{need.name}: {refusal}") from refusal


def _notion_lines(request: ShoppingRequest) -> tuple[NotionLine, ...]:
    """Return all notions, equal ones added up, and thread last if the sheet forgot it."""
    lines: dict[int, NotionLine] = {}
    order = {id(notion): number for number, notion in enumerate(request.pattern.notions)}
    forgotten = Notion(name="thread", detail="all-purpose, to match", kind=NotionKind.THREAD)
    for selection in request.selections:
        notions = request.pattern.notions_for(selection.view)
        if not any(notion.kind is NotionKind.THREAD for notion in notions):
            notions = (*notions, forgotten)
        for notion in notions:
            number = order.setdefault(id(notion), len(order))
            more = _notion_line(request, selection, notion)
            lines[number] = more if number not in lines else _added(lines[number], more)
    return tuple(lines[number] for number in sorted(lines))


def _notion_line(request: ShoppingRequest, selection: Selection, notion: Notion) -> NotionLine:
    times, size = selection.garments, selection.size
    count = None if notion.counts is None else notion.counts[size] * times
    if notion.lengths_mm is not None:
        return NotionLine(notion, count, notion.lengths_mm[size] * times)
    if notion.kind is not NotionKind.THREAD:
        return NotionLine(notion, count)
    seam_mm = seam_length_mm(request.pattern, selection.view, size) * times
    return NotionLine(notion, count, request.thread_mm(seam_mm), is_estimate=True)


def _added(one: NotionLine, more: NotionLine) -> NotionLine:
    """Return two lines of one notion as a single line: both have the same amounts or none."""
    return NotionLine(
        one.notion,
        None if one.count is None or more.count is None else one.count + more.count,
        None if one.length_mm is None or more.length_mm is None else one.length_mm + more.length_mm,
        one.is_estimate,
    )


def _cautions(request: ShoppingRequest) -> tuple[str, ...]:
    """Return the cautions of the sheet and those for children, each once."""
    views = dict.fromkeys(selection.view for selection in request.selections)
    for_children = (told for view in views for told in child_cautions(request.pattern, view))
    return tuple(dict.fromkeys((*request.pattern.cautions, *for_children)))
