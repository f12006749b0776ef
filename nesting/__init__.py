"""How much cloth to buy, from the pattern pieces themselves.

The names below are the public ones. They are loaded when first used, so that importing this package
costs nothing and the command line answers at once.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

from nesting.version import __version__ as __version__

if TYPE_CHECKING:
    from nesting.answers.chart.chart import Chart, ChartRequest, make_chart
    from nesting.answers.compare import CompareRow, compare_bolts
    from nesting.answers.costs import Explanation, explain
    from nesting.answers.fits.fits import FitsAnswer, FitsRequest, does_it_fit
    from nesting.answers.order.order import OrderLine, OrderRequest, OrderResult, lay_order
    from nesting.answers.shopping.shopping import ClothChoice, ShoppingList, ShoppingRequest, shop
    from nesting.answers.what_if.changed_bolt import Change, Difference, what_if
    from nesting.answers.what_if.sensitivity import Sensitivity, what_if_narrower
    from nesting.checks import check_marker
    from nesting.cloth.bolt import Bolt
    from nesting.cloth.flaw import Flaw
    from nesting.cloth.lay_rules import LayRules
    from nesting.cloth.repeat import Repeat
    from nesting.cloth.spread import Spread
    from nesting.draw import draw_compare, draw_marker, draw_true_size
    from nesting.lay import LayRequest, LayResult, SearchOptions, lay_pieces
    from nesting.marker.cut_list import Selection
    from nesting.marker.marker import Marker
    from nesting.marker.marker_file import read_marker, write_marker
    from nesting.marker.measure import cut_length_mm, shop_length_mm, utilisation
    from nesting.marker.tape_table import tape_rows
    from nesting.plan.bounds import LowerBound

_HOMES = {
    "Bolt": "cloth.bolt",
    "Change": "answers.what_if.changed_bolt",
    "Chart": "answers.chart.chart",
    "ChartRequest": "answers.chart.chart",
    "ClothChoice": "answers.shopping.shopping",
    "CompareRow": "answers.compare",
    "Difference": "answers.what_if.changed_bolt",
    "Explanation": "answers.costs",
    "FitsAnswer": "answers.fits.fits",
    "FitsRequest": "answers.fits.fits",
    "Flaw": "cloth.flaw",
    "LayRequest": "lay",
    "LayResult": "lay",
    "LayRules": "cloth.lay_rules",
    "LowerBound": "plan.bounds",
    "Marker": "marker.marker",
    "OrderLine": "answers.order.order",
    "OrderRequest": "answers.order.order",
    "OrderResult": "answers.order.order",
    "Repeat": "cloth.repeat",
    "SearchOptions": "lay",
    "Selection": "marker.cut_list",
    "Sensitivity": "answers.what_if.sensitivity",
    "ShoppingList": "answers.shopping.shopping",
    "ShoppingRequest": "answers.shopping.shopping",
    "Spread": "cloth.spread",
    "check_marker": "checks.marker_checks",
    "compare_bolts": "answers.compare",
    "cut_length_mm": "marker.measure",
    "does_it_fit": "answers.fits.fits",
    "draw_compare": "draw",
    "draw_marker": "draw",
    "draw_true_size": "draw",
    "explain": "answers.costs",
    "lay_order": "answers.order.order",
    "lay_pieces": "lay",
    "make_chart": "answers.chart.chart",
    "read_marker": "marker.marker_file",
    "shop": "answers.shopping.shopping",
    "shop_length_mm": "marker.measure",
    "tape_rows": "marker.tape_table",
    "utilisation": "marker.measure",
    "what_if": "answers.what_if.changed_bolt",
    "what_if_narrower": "answers.what_if.sensitivity",
    "write_marker": "marker.marker_file",
}

__all__ = [
    "Bolt",
    "Change",
    "Chart",
    "ChartRequest",
    "ClothChoice",
    "CompareRow",
    "Difference",
    "Explanation",
    "FitsAnswer",
    "FitsRequest",
    "Flaw",
    "LayRequest",
    "LayResult",
    "LayRules",
    "LowerBound",
    "Marker",
    "OrderLine",
    "OrderRequest",
    "OrderResult",
    "Repeat",
    "SearchOptions",
    "Selection",
    "Sensitivity",
    "ShoppingList",
    "ShoppingRequest",
    "Spread",
    "check_marker",
    "compare_bolts",
    "cut_length_mm",
    "does_it_fit",
    "draw_compare",
    "draw_marker",
    "draw_true_size",
    "explain",
    "lay_order",
    "lay_pieces",
    "make_chart",
    "read_marker",
    "shop",
    "shop_length_mm",
    "tape_rows",
    "utilisation",
    "what_if",
    "what_if_narrower",
    "write_marker",
]


def __getattr__(name: str) -> Any:
    """Load a public name from the module it lives in."""
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
