"""How much cloth to buy, from the pattern pieces themselves.

The names below are the public ones. They are loaded when first used, so that importing this package
costs nothing and the command line answers at once.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

from nesting.version import __version__ as __version__

if TYPE_CHECKING:
    from nesting.answers.chart.chart import Chart, ChartRequest, make_chart
    from nesting.answers.chart.chart_tables import chart_csv, chart_markdown
    from nesting.answers.compare import CompareRow, compare_bolts
    from nesting.answers.costs import Explanation, explain
    from nesting.answers.fits.fits import FitsAnswer, FitsRequest, does_it_fit
    from nesting.answers.order.order import OrderLine, OrderRequest, OrderResult, lay_order
    from nesting.answers.order.order_tables import order_csv
    from nesting.answers.rows import compare_row, lay_row
    from nesting.answers.shopping.shopping import ClothChoice, ShoppingList, ShoppingRequest, shop
    from nesting.answers.shopping.shopping_tables import shopping_csv, shopping_markdown
    from nesting.answers.what_if.changed_bolt import Change, Difference, what_if
    from nesting.answers.what_if.sensitivity import Sensitivity, what_if_narrower
    from nesting.checks.asked import Asked
    from nesting.checks.marker_checks import check_marker
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
    from nesting.marker.tape_table import tape_csv, tape_rows
    from nesting.plan.bounds import LowerBound
    from pieces.measures.parse import parse_length_mm
    from pieces.measures.price import parse_price
    from pieces.measures.units import UnitSystem
    from pieces.pattern import Pattern
    from pieces.sheet.pattern_file import read_pattern, write_pattern

_HOMES = {
    "Asked": "nesting.checks.asked",
    "Bolt": "nesting.cloth.bolt",
    "Change": "nesting.answers.what_if.changed_bolt",
    "Chart": "nesting.answers.chart.chart",
    "ChartRequest": "nesting.answers.chart.chart",
    "ClothChoice": "nesting.answers.shopping.shopping",
    "CompareRow": "nesting.answers.compare",
    "Difference": "nesting.answers.what_if.changed_bolt",
    "Explanation": "nesting.answers.costs",
    "FitsAnswer": "nesting.answers.fits.fits",
    "FitsRequest": "nesting.answers.fits.fits",
    "Flaw": "nesting.cloth.flaw",
    "LayRequest": "nesting.lay",
    "LayResult": "nesting.lay",
    "LayRules": "nesting.cloth.lay_rules",
    "LowerBound": "nesting.plan.bounds",
    "Marker": "nesting.marker.marker",
    "OrderLine": "nesting.answers.order.order",
    "OrderRequest": "nesting.answers.order.order",
    "OrderResult": "nesting.answers.order.order",
    "Pattern": "pieces.pattern",
    "Repeat": "nesting.cloth.repeat",
    "SearchOptions": "nesting.lay",
    "Selection": "nesting.marker.cut_list",
    "Sensitivity": "nesting.answers.what_if.sensitivity",
    "ShoppingList": "nesting.answers.shopping.shopping",
    "ShoppingRequest": "nesting.answers.shopping.shopping",
    "Spread": "nesting.cloth.spread",
    "UnitSystem": "pieces.measures.units",
    "chart_csv": "nesting.answers.chart.chart_tables",
    "chart_markdown": "nesting.answers.chart.chart_tables",
    "check_marker": "nesting.checks.marker_checks",
    "compare_bolts": "nesting.answers.compare",
    "compare_row": "nesting.answers.rows",
    "cut_length_mm": "nesting.marker.measure",
    "does_it_fit": "nesting.answers.fits.fits",
    "draw_compare": "nesting.draw",
    "draw_marker": "nesting.draw",
    "draw_true_size": "nesting.draw",
    "explain": "nesting.answers.costs",
    "lay_order": "nesting.answers.order.order",
    "lay_pieces": "nesting.lay",
    "lay_row": "nesting.answers.rows",
    "make_chart": "nesting.answers.chart.chart",
    "order_csv": "nesting.answers.order.order_tables",
    "parse_length_mm": "pieces.measures.parse",
    "parse_price": "pieces.measures.price",
    "read_marker": "nesting.marker.marker_file",
    "read_pattern": "pieces.sheet.pattern_file",
    "shop": "nesting.answers.shopping.shopping",
    "shop_length_mm": "nesting.marker.measure",
    "shopping_csv": "nesting.answers.shopping.shopping_tables",
    "shopping_markdown": "nesting.answers.shopping.shopping_tables",
    "tape_csv": "nesting.marker.tape_table",
    "tape_rows": "nesting.marker.tape_table",
    "utilisation": "nesting.marker.measure",
    "what_if": "nesting.answers.what_if.changed_bolt",
    "what_if_narrower": "nesting.answers.what_if.sensitivity",
    "write_marker": "nesting.marker.marker_file",
    "write_pattern": "pieces.sheet.pattern_file",
}

__all__ = [
    "Asked",
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
    "Pattern",
    "Repeat",
    "SearchOptions",
    "Selection",
    "Sensitivity",
    "ShoppingList",
    "ShoppingRequest",
    "Spread",
    "UnitSystem",
    "chart_csv",
    "chart_markdown",
    "check_marker",
    "compare_bolts",
    "compare_row",
    "cut_length_mm",
    "does_it_fit",
    "draw_compare",
    "draw_marker",
    "draw_true_size",
    "explain",
    "lay_order",
    "lay_pieces",
    "lay_row",
    "make_chart",
    "order_csv",
    "parse_length_mm",
    "parse_price",
    "read_marker",
    "read_pattern",
    "shop",
    "shop_length_mm",
    "shopping_csv",
    "shopping_markdown",
    "tape_csv",
    "tape_rows",
    "utilisation",
    "what_if",
    "what_if_narrower",
    "write_marker",
    "write_pattern",
]


def __getattr__(name: str) -> Any:
    """Load a public name from the module it lives in."""
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(_HOMES[name]), name)


def __dir__() -> list[str]:
    """Return the public names, for those who look with Tab."""
    return sorted([*__all__, "__version__"])
