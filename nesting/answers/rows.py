"""Answers as rows of plain values, ready for JSON or a table: one row for each lay.

Lengths are mm and keep every digit; a utilisation is a share between 0 and 1.
"""

from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal
from typing import Any

from nesting.answers.compare import CompareRow
from nesting.answers.spare import spare_mm
from nesting.cloth.bolt import Bolt
from nesting.cloth.spread import Spread
from nesting.lay import LayRequest, LayResult, TriedSpread
from nesting.marker.marker import Marker
from nesting.marker.placement import pieces_cut
from nesting.plan.bounds import LowerBound, spread_bound
from pieces.finding import Finding
from pieces.measures.format import format_length
from pieces.measures.price import Price

Row = dict[str, Any]

_ANSWERS = (
    "marker_length_mm",
    "cut_length_mm",
    "shop_length_mm",
    "shop_length",
    "spare_mm",
    "utilisation",
    "lower_bound_mm",
    "lower_bound_reason",
    "open_bound_mm",
)


def finished_pieces(marker: Marker) -> int:
    """Return how many pieces come of cutting a marker, every layer counted."""
    return sum(
        sum(
            pieces_cut(
                marker.item_by_key[placement.item],
                placement,
                marker.stretches[placement.stretch].spread,
            )
        )
        for placement in marker.placements
    )


def bounds_of(marker: Marker) -> tuple[LowerBound, LowerBound] | None:
    """Return what no marker spread alike can beat, and what none can at all; None without pieces.

    Lengths are mm.
    """
    if not marker.items:
        return None
    laid_open = replace(marker.rules, spread=Spread.OPEN)
    return (
        spread_bound(marker.items, marker.bolt, marker.rules),
        spread_bound(marker.items, marker.bolt, laid_open),
    )


def money(price: Price | None, cost: Decimal) -> str:
    """Return a cost with the currency of its price.

    Examples
    --------
    >>> from pieces.measures.price import parse_price
    >>> price = parse_price("£12.50/yd")
    >>> money(price, price.cost(914.4))
    '£ 12.50'
    """
    return f"{'' if price is None else price.currency} {cost:.2f}".strip()


def finding_row(finding: Finding) -> Row:
    """Return a finding as plain values: code, severity, sentence and pieces."""
    return {
        "code": finding.code,
        "severity": finding.severity.value,
        "sentence": finding.sentence,
        "pieces": list(finding.pieces),
    }


def lay_row(request: LayRequest, result: LayResult) -> Row:
    """Return what was asked and what came of it; cost and currency only with a price."""
    bolt = request.bolt
    row = _asked(request) | {
        "marker_length_mm": result.marker_length_mm,
        "cut_length_mm": result.cut_length_mm,
        "shop_length_mm": result.shop_length_mm,
        "shop_length": format_length(result.shop_length_mm, bolt.units, up=True),
        "spare_mm": spare_mm(result),
        "utilisation": result.utilisation,
        "lower_bound_mm": result.lower_bound.length_mm,
        "lower_bound_reason": result.lower_bound.reason,
        "open_bound_mm": result.open_bound.length_mm,
        "placed": finished_pieces(result.marker),
        "findings": [finding_row(finding) for finding in result.findings],
        "seconds": result.seconds,
        "stopped_by": result.stopped_by.value,
    }
    row["spread"] = result.marker.rules.spread.value
    if result.tried:
        row["spreads"] = [_tried_row(one, bolt) for one in result.tried]
    if bolt.price is not None:
        row["cost"] = float(bolt.price.cost(result.shop_length_mm))
    return row


def _tried_row(tried: TriedSpread, bolt: Bolt) -> Row:
    """Return what one way of spreading takes, or why it is refused."""
    shop_mm = tried.shop_length_mm
    return {
        "spread": tried.spread.value,
        "marker_length_mm": tried.marker_length_mm,
        "cut_length_mm": tried.cut_length_mm,
        "shop_length_mm": shop_mm,
        "shop_length": None if shop_mm is None else format_length(shop_mm, bolt.units, up=True),
        "refusal": tried.refusal or None,
    }


def compare_row(row: CompareRow) -> Row:
    """Return a row of a comparison; one that could not be laid has empty answers and a refusal."""
    if row.result is not None:
        return lay_row(row.request, row.result) | {"refusal": None}
    answers: Row = dict.fromkeys(_ANSWERS)
    answers |= {"placed": 0, "findings": [], "seconds": None, "stopped_by": None}
    if row.request.bolt.price is not None:
        answers["cost"] = None
    return _asked(row.request) | answers | {"refusal": row.refusal}


def _asked(request: LayRequest) -> Row:
    """Return the part of a row that is known before anything is laid."""
    bolt, selections = request.bolt, request.selections
    row: Row = {
        "pattern": request.pattern.name,
        "view": _listed(selection.view for selection in selections),
        "size": _listed(selection.size for selection in selections),
        "garments": sum(selection.garments for selection in selections),
        "cloth": request.cloth,
        "width_mm": bolt.width_mm,
        "selvage_mm": bolt.selvage_mm,
        "usable_width_mm": bolt.usable_width_mm,
        "nap": nap_word(nap=bolt.nap),
        "spread": request.rules.spread.value,
        "tilt_deg": request.rules.tilt_deg,
        "gap_mm": request.rules.gap_mm,
        "shop_step_mm": bolt.shop_step_mm,
        **_real_cloth(bolt),
    }
    if bolt.price is not None:
        row |= {"price": str(bolt.price), "currency": bolt.price.currency}
    return row


def _real_cloth(bolt: Bolt) -> Row:
    """Return what is told of design, washing, ends and flaws, null where nothing is."""
    repeat = bolt.repeat
    return {
        "repeat_along_mm": None if repeat is None else repeat.along_mm,
        "repeat_across_mm": None if repeat is None else repeat.across_mm,
        "repeat_even": None if repeat is None else repeat.even,
        "cut_on_repeat": bolt.cut_on_repeat,
        "extra_repeat_mm": bolt.extra_repeat_mm,
        "shrink_along": bolt.shrink_along,
        "shrink_across": bolt.shrink_across,
        "end_allowance_mm": bolt.end_allowance_mm,
        "length_left_mm": bolt.length_left_mm,
        "flaws": [dict(vars(flaw)) for flaw in bolt.flaws],
    }


def nap_word(*, nap: bool) -> str:
    """Return ``"with"`` or ``"without"``."""
    return "with" if nap else "without"


def _listed(names: Iterable[str]) -> str:
    return ", ".join(dict.fromkeys(names))
