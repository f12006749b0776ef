"""From what is asked to a checked marker: plan, strip, engine and judge brought together."""

from nesting.lay.any_spread import lay_items, lay_pieces
from nesting.lay.one_spread import lay_spread
from nesting.lay.request import (
    LayCallback,
    LayProgress,
    LayRequest,
    LayResult,
    SearchOptions,
    TriedSpread,
)

__all__ = [
    "LayCallback",
    "LayProgress",
    "LayRequest",
    "LayResult",
    "SearchOptions",
    "TriedSpread",
    "lay_items",
    "lay_pieces",
    "lay_spread",
]
