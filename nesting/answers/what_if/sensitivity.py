"""How sensitive the answer is: what a bolt narrower than its label would ask for.

Bolts are often a little narrower than their label (common practice), so the width at which one
more step of the shop is needed is worth knowing before going there. Each width is laid with the
effort of the request, so it asks for what a lay of that width by itself asks for, and never for
less than a wider one. A marker of a narrower width that beats the one on the label's width is
lawful there too, and takes its place.
"""

from dataclasses import dataclass, replace
from itertools import pairwise

from nesting.answers.compare import CompareRow, laws_kept, lay_each
from nesting.answers.rows import Row
from nesting.cloth.bolt import EIGHTH_YARD_MM, TEN_CM_MM, Bolt
from nesting.cloth.spread import Spread
from nesting.errors import BoltError
from nesting.languages import ENGLISH, Words
from nesting.lay import LayRequest, LayResult, RowCallback
from nesting.marker.placement import lying_shape
from pieces.measures.format import format_both, format_length
from pieces.measures.shop_step import round_up_to_step_mm
from pieces.measures.units import MM_PER_INCH, UnitSystem
from pieces.measures.widths import format_width, format_width_both

HALF_INCH_STEPS = 4
CENTIMETRE_STEPS = 5
LEAST_TOLD_MM = 3.0
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
    keeps_to_mm
        The least width of bolt on which the label's own marker still lies, mm; None if there is no
        such marker, or on it pieces are held to folds or matched from the middle of the cloth.
    ended
        Why the widths end early, or empty.
    """

    step_mm: float
    rows: tuple[NarrowerRow, ...]
    keeps_to_mm: float | None = None
    ended: str = ""

    @property
    def thresholds(self) -> tuple[NarrowerRow, ...]:
        """The widths at which more is needed than on the next wider one, or nothing fits."""
        return tuple(
            narrow for wide, narrow in pairwise(self.rows) if narrow.steps_more != wide.steps_more
        )


def what_if_narrower(
    request: LayRequest,
    result: LayResult | None = None,
    *,
    progress: RowCallback | None = None,
) -> Sensitivity:
    """Lay the same pieces on bolts narrower by half inches down to 2 in, or by 1 cm down to 5 cm.

    Parameters
    ----------
    request
        The lay on the width of the label, with the effort that all widths are searched with.
    result
        What came of it, if it is laid already.
    progress
        Called with the number of the width, from 0, as its search goes; a true answer stops the
        search of this width and keeps its best so far.

    Raises
    ------
    NestingError, PiecesError
        Whatever :func:`nesting.answers.compare.compare_bolts` raises.
    """
    bolts, ended = _narrower(request.bolt)
    requests = tuple(replace(request, bolt=bolt) for bolt in bolts)
    if result is None:
        rows = lay_each(requests, progress=progress)
    else:
        rows = (CompareRow(request, result), *lay_each(requests[1:], progress=progress))
    label = laws_kept(rows)[0]
    step_mm = _step_mm(request.bolt)
    shops = _never_less([_shop_mm(row, step_mm) for row in (label, *rows[1:])])
    return Sensitivity(
        step_mm,
        tuple(
            NarrowerRow(row, shop, _steps_more(shop, shops[0], step_mm))
            for row, shop in zip((label, *rows[1:]), shops, strict=True)
        ),
        _keeps_to_mm(label),
        ended,
    )


def _never_less(shops: list[float | None]) -> list[float | None]:
    """Return what each width asks for, none less than a wider one: a search may have had luck."""
    told: list[float | None] = []
    for shop in shops:
        wider = [one for one in told if one is not None]
        told.append(None if shop is None else max([shop, *wider]))
    return told


def _keeps_to_mm(label: CompareRow) -> float | None:
    """Return the least width of bolt on which the label's marker lies as it is, mm."""
    if label.result is None:
        return None
    marker = label.result.marker
    bolt = marker.bolt
    crosses_middle = bolt.repeat is not None and bolt.repeat.across_mm is not None
    if crosses_middle or any(one.spread is not Spread.OPEN for one in marker.stretches):
        return None
    top_mm = max(
        float(lying_shape(marker.item_by_key[at.item], at, Spread.OPEN).outline_mm[:, 1].max())
        for at in marker.placements
    )
    return top_mm / (1.0 - bolt.shrink_across) + 2.0 * bolt.selvage_mm


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
        "step_mm": found.step_mm,
        "keeps_to_width_mm": found.keeps_to_mm,
        "rows": [
            {
                "width_mm": one.bolt.width_mm,
                "shop_length_mm": one.shop_mm,
                "shop_length": None
                if one.shop_mm is None
                else format_length(one.shop_mm, one.bolt.units, up=True),
                "steps_more": one.steps_more,
                "refusal": one.row.refusal or None,
            }
            for one in found.rows
        ],
        "ended": found.ended,
    }


def sensitivity_words(found: Sensitivity, words: Words = ENGLISH) -> tuple[str, ...]:
    """Return what to mind about the width, in a few sentences."""
    label = found.rows[0]
    units = label.bolt.units
    if label.shop_mm is None:
        return (
            words.say(
                "Nothing can be said of narrower bolts, since a piece does not go on this one."
            ),
        )
    told = [
        _threshold_words(one, label, words, is_first=number == 0)
        for number, one in enumerate(found.thresholds)
    ]
    if not told:
        width = words.figures(format_width_both(found.rows[-1].bolt.width_mm, units))
        told = [words.say("Down to {width} a narrower bolt asks for no more.", width=width)]
    if found.ended:
        told.append(words.say("Narrower bolts were not tried: {why}.", why=found.ended))
    keeps_to_mm = found.keeps_to_mm
    if keeps_to_mm is not None and keeps_to_mm < label.bolt.width_mm - LEAST_TOLD_MM:
        width = words.figures(format_width_both(_up_to_mm(keeps_to_mm, units), units))
        told.append(
            words.say("The layout found lies as it is on a bolt down to {width} wide.", width=width)
        )
    return tuple(told)


def _up_to_mm(width_mm: float, units: UnitSystem) -> float:
    """Return a width rounded up to an eighth of an inch or a millimetre, mm."""
    return round_up_to_step_mm(width_mm, MM_PER_INCH / 8 if units is UnitSystem.IMPERIAL else 1.0)


def _threshold_words(one: NarrowerRow, label: NarrowerRow, words: Words, *, is_first: bool) -> str:
    units = one.bolt.units
    width = words.figures(format_width_both(one.bolt.width_mm, units))
    if one.shop_mm is None or one.steps_more is None or label.shop_mm is None:
        return words.say(
            "At {width} it does not go on the cloth: {why}.", width=width, why=one.row.refusal
        )
    more = words.figures(format_both(one.shop_mm - label.shop_mm, units, up=True))
    if not is_first:
        return words.say("At {width}, ask for {more} more.", width=width, more=more)
    less = words.figures(format_width(label.bolt.width_mm - one.bolt.width_mm, units))
    return words.say(
        "If the bolt is {less} narrower, {width}, ask for {more} more.",
        less=less,
        width=width,
        more=more,
    )
