"""From what is asked to a checked marker: plan, strip, engine and judge brought together."""

from nesting.lay.any_spread import lay_items, lay_pieces
from nesting.lay.judging import judged
from nesting.lay.one_spread import lay_spread
from nesting.lay.progress import LayCallback, LayProgress, RowCallback, row_of
from nesting.lay.request import LayRequest, LayResult, SearchOptions, TriedSpread

__all__ = [
    "LayCallback",
    "LayProgress",
    "LayRequest",
    "LayResult",
    "RowCallback",
    "SearchOptions",
    "TriedSpread",
    "judged",
    "lay_items",
    "lay_pieces",
    "lay_spread",
    "row_of",
]
