"""How sensitive the answer is: what a bolt narrower than its label would ask for.

Bolts are often a little narrower than their label (common practice), so the width at which one
more step of the shop is needed is worth knowing before going there. Each width is a real lay by a
quick search; all are compared with a quick lay on the width of the label, so like is compared with
like.
"""

from dataclasses import dataclass, replace
from itertools import pairwise

from nesting.answers.compare import CompareRow, compare_bolts
from nesting.answers.rows import Row
from nesting.cloth.bolt import EIGHTH_YARD_MM, TEN_CM_MM, Bolt
from nesting.errors import BoltError
from nesting.lay import LayRequest, RowCallback, SearchOptions
from pieces.measures.format import format_both, format_length
from pieces.measures.shop_step import round_up_to_step_mm
from pieces.measures.units import MM_PER_INCH, UnitSystem
from pieces.measures.widths import format_width, format_width_both

HALF_INCH_STEPS = 4
CENTIMETRE_STEPS = 5
WIDTHS = 1 + max(HALF_INCH_STEPS, CENTIMETRE_STEPS)
"""No more widths are laid than these."""


@dataclass(frozen=True)
class NarrowerRow:
    """What one width asks for.

    Parameters
    ----------
    row
        Its lay, or why a piece does not go on it.
    shop_mm
        What to ask for in the steps compared, mm, or None.
    steps_more
        Steps of the shop above what the width of the label asks for, or None.
    """

    row: CompareRow
    shop_mm: float | None
    steps_more: int | None

    @property
    def bolt(self) -> Bolt:
        """The cloth of that width."""
        return self.row.request.bolt


@dataclass(frozen=True)
class Sensitivity:
    """What narrower bolts ask for.

    Parameters
    ----------
    step_mm
        Step in which lengths are compared: that of the shop, or an eighth of a yard or 10 cm where
        it cuts any length.
    rows
        The width of the label first, then narrower ones.
    ended
        Why the widths end early, or empty.
    """

    step_mm: float
    rows: tuple[NarrowerRow, ...]
    ended: str = ""

    @property
    def thresholds(self) -> tuple[NarrowerRow, ...]:
        """The widths at which more is needed than on the next wider one, or nothing fits."""
        return tuple(
            narrow for wide, narrow in pairwise(self.rows) if narrow.steps_more != wide.steps_more
        )


def what_if_narrower(request: LayRequest, *, progress: RowCallback | None = None) -> Sensitivity:
    """Lay the same pieces on bolts narrower by half inches down to 2 in, or by 1 cm down to 5 cm.

    Parameters
    ----------
    request
        The lay on the width of the label. Its effort is not used.
    progress
        Called with the number of the width, from 0, as its search goes; a true answer stops the
        search of this width and keeps its best so far.

    Raises
    ------
    NestingError, PiecesError
        Whatever :func:`nesting.answers.compare.compare_bolts` raises.
    """
    bolts, ended = _narrower(request.bolt)
    search = SearchOptions("quick", None, request.search.seed, request.search.workers)
    rows = compare_bolts(
        tuple(replace(request, bolt=bolt, search=search) for bolt in bolts), progress=progress
    )
    step_mm = _step_mm(request.bolt)
    shops = [_shop_mm(row, step_mm) for row in rows]
    return Sensitivity(
        step_mm,
        tuple(
            NarrowerRow(row, shop, _steps_more(shop, shops[0], step_mm))
            for row, shop in zip(rows, shops, strict=True)
        ),
        ended,
    )


def _narrower(bolt: Bolt) -> tuple[list[Bolt], str]:
    """Return the bolt and narrower ones, and why they end early if they do."""
    imperial = bolt.units is UnitSystem.IMPERIAL
    less_mm, count = (MM_PER_INCH / 2, HALF_INCH_STEPS) if imperial else (10.0, CENTIMETRE_STEPS)
    bolts = [bolt]
    for number in range(1, count + 1):
        try:
            bolts.append(replace(bolt, width_mm=bolt.width_mm - number * less_mm))
        except BoltError as problem:
            return bolts, str(problem)
    return bolts, ""


def _step_mm(bolt: Bolt) -> float:
    if bolt.shop_step_mm is not None:
        return bolt.shop_step_mm
    return EIGHTH_YARD_MM if bolt.units is UnitSystem.IMPERIAL else TEN_CM_MM


def _shop_mm(row: CompareRow, step_mm: float) -> float | None:
    return None if row.result is None else round_up_to_step_mm(row.result.cut_length_mm, step_mm)


def _steps_more(shop_mm: float | None, label_mm: float | None, step_mm: float) -> int | None:
    if shop_mm is None or label_mm is None:
        return None
    return round((shop_mm - label_mm) / step_mm)


def sensitivity_row(found: Sensitivity) -> Row:
    """Return what narrower bolts ask for as plain values; lengths are mm."""
    return {
        "effort": "quick",
        "step_mm": found.step_mm,
        "rows": [
            {
                "width_mm": one.bolt.width_mm,
                "shop_length_mm": one.shop_mm,
                "shop_length": None
                if one.shop_mm is None
                else format_length(one.shop_mm, one.bolt.units),
                "steps_more": one.steps_more,
                "refusal": one.row.refusal or None,
            }
            for one in found.rows
        ],
        "ended": found.ended,
    }


def sensitivity_words(found: Sensitivity) -> tuple[str, ...]:
    """Return what to mind about the width, in a few sentences."""
    label = found.rows[0]
    units = label.bolt.units
    if label.shop_mm is None:
        return ("Nothing can be said of narrower bolts, since a piece does not go on this one.",)
    told = [
        _threshold_words(one, label, is_first=number == 0)
        for number, one in enumerate(found.thresholds)
    ]
    if not told:
        width = format_width_both(found.rows[-1].bolt.width_mm, units)
        told = [f"Down to {width} a narrower bolt asks for no more."]
    if found.ended:
        told.append(f"Narrower bolts were not tried: {found.ended}.")
    quick = format_both(label.shop_mm, units)
    told.append(f"This rests on quick layouts, which ask for {quick} on the width of the label.")
    return tuple(told)


def _threshold_words(one: NarrowerRow, label: NarrowerRow, *, is_first: bool) -> str:
    units = one.bolt.units
    width = format_width_both(one.bolt.width_mm, units)
    if one.shop_mm is None or one.steps_more is None or label.shop_mm is None:
        return f"At {width} it does not go on the cloth: {one.row.refusal}."
    more = format_both(one.shop_mm - label.shop_mm, units)
    less = format_width(label.bolt.width_mm - one.bolt.width_mm, units)
    start = f"If the bolt is {less} narrower, {width}" if is_first else f"At {width}"
    return f"{start}, ask for {more} more."
