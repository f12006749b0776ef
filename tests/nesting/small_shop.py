"""A small bag of two cloths whose shopping list can be worked out by hand. Lengths mm."""

from dataclasses import replace

from nesting.answers.shopping.shopping import ClothChoice, ShoppingRequest
from nesting.cloth.bolt import TEN_CM_MM, Bolt
from nesting.cloth.lay_rules import LayRules
from nesting.cloth.spread import Spread
from nesting.marker.cut_list import Selection
from pieces.measures.price import parse_price
from pieces.measures.units import UnitSystem
from pieces.pattern import ClothNeed, Notion, NotionKind, Pattern, View
from pieces.piece import Cut
from tests.small_patterns import QUICK, box, pattern, piece


def bag() -> Pattern:
    """Return a bag: two sides of 400 x 500 of shell, in view B with two of lining, and notions.

    View A, size M: two boxes 1,800 round are 1,800 of seam. View B has twice that.
    """
    side = piece("side", box(400, 500), count=2)
    inside = replace(piece("inside", box(400, 500), count=2), cuts=(Cut("shell", 2),))
    plain = pattern(side, inside)
    return replace(
        plain,
        name="Bag | of the stage",
        pieces=(side, replace(inside, cuts=(Cut("lining", 2),))),
        views=(View("A", ("side",)), View("B", ("side", "inside"))),
        cloths=(
            ClothNeed(
                "shell",
                "The outside.",
                ("canvas", "drill"),
                ask_for="Canvas, since it is firm.",
                hang="A slippery one sags.",
            ),
            ClothNeed("lining", "The inside."),
        ),
        notions=(
            Notion(
                name="button",
                detail="flat",
                counts={"M": 3},
                kind=NotionKind.BUTTON,
                size_mm=15.0,
            ),
            Notion(name="cord", lengths_mm={"M": 1200.0}, views=("B",), kind=NotionKind.CORD),
            Notion(name="thread", detail="strong", kind=NotionKind.THREAD),
        ),
        cautions=("Pins are sharp.",),
    )


def metric_bolt(width_mm: float, price: str | None = None) -> Bolt:
    """Return a plain bolt cut in steps of 10 cm."""
    return Bolt(
        width_mm=width_mm,
        price=None if price is None else parse_price(price),
        shop_step_mm=TEN_CM_MM,
        units=UnitSystem.METRIC,
    )


def asked(
    *selections: Selection,
    shell: ClothChoice | None = None,
    lining: ClothChoice | None = None,
    sheet: Pattern | None = None,
) -> ShoppingRequest:
    """Return a request for bags; shell on 1 m at 12.35, lining on 50 cm at 8, both in euros."""
    return ShoppingRequest(
        pattern=bag() if sheet is None else sheet,
        selections=selections or (Selection("B", "M"),),
        choices={
            "shell": shell or ClothChoice(metric_bolt(1000, "€12.35/m"), kind="canvas"),
            "lining": lining
            or ClothChoice(metric_bolt(500, "€8/m"), LayRules(Spread.OPEN), kind="silk"),
        },
        search=QUICK,
    )
