"""How much cloth to buy, from the pattern pieces themselves.

The names below are the public ones. They are loaded when first used, so that importing this package
costs nothing and the command line answers at once.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from nesting.bolt import Bolt
    from nesting.bounds import LowerBound
    from nesting.checks import check_marker
    from nesting.compare import CompareRow, compare_bolts
    from nesting.cut_list import Selection
    from nesting.draw import draw_compare, draw_marker
    from nesting.flaw import Flaw
    from nesting.lay import LayRequest, LayResult, SearchOptions, lay_pieces
    from nesting.lay_rules import LayRules
    from nesting.marker import Marker
    from nesting.marker_file import read_marker, write_marker
    from nesting.measure import cut_length_mm, shop_length_mm, utilisation
    from nesting.repeat import Repeat
    from nesting.shopping import ClothChoice, ShoppingList, ShoppingRequest, shop
    from nesting.spread import Spread

__version__ = "0.1.0"

_HOMES = {
    "Bolt": "bolt",
    "ClothChoice": "shopping",
    "CompareRow": "compare",
    "Flaw": "flaw",
    "LayRequest": "lay",
    "LayResult": "lay",
    "LayRules": "lay_rules",
    "LowerBound": "bounds",
    "Marker": "marker",
    "Repeat": "repeat",
    "SearchOptions": "lay",
    "Selection": "cut_list",
    "ShoppingList": "shopping",
    "ShoppingRequest": "shopping",
    "Spread": "spread",
    "check_marker": "checks",
    "compare_bolts": "compare",
    "cut_length_mm": "measure",
    "draw_compare": "draw",
    "draw_marker": "draw",
    "lay_pieces": "lay",
    "read_marker": "marker_file",
    "shop": "shopping",
    "shop_length_mm": "measure",
    "utilisation": "measure",
    "write_marker": "marker_file",
}

__all__ = [
    "Bolt",
    "ClothChoice",
    "CompareRow",
    "Flaw",
    "LayRequest",
    "LayResult",
    "LayRules",
    "LowerBound",
    "Marker",
    "Repeat",
    "SearchOptions",
    "Selection",
    "ShoppingList",
    "ShoppingRequest",
    "Spread",
    "check_marker",
    "compare_bolts",
    "cut_length_mm",
    "draw_compare",
    "draw_marker",
    "lay_pieces",
    "read_marker",
    "shop",
    "shop_length_mm",
    "utilisation",
    "write_marker",
]


def __getattr__(name: str) -> Any:
    """Load a public name from the module it lives in."""
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
