"""An order as plain values for JSON, as CSV, and in words."""

from collections.abc import Sequence

from nesting.answers.order.order import OrderResult, Received
from nesting.answers.rows import Row, lay_row, money
from nesting.languages import ENGLISH, Words
from pieces.files.csv_text import csv_table
from pieces.measures.format import format_both, format_length

CSV_COLUMNS = ("number", "label", "name", "view", "size", "count", "pieces")


def order_row(order: OrderResult) -> Row:
    """Return an order as plain values: the fields of a lay, who gets what, and each alone."""
    request, units = order.request, order.request.bolt.units
    return lay_row(request.together, order.together) | {
        "participants": [
            row | {"pieces": [_piece_row(one) for one in order.received[number]]}
            for number, row in enumerate(_lines(order))
        ],
        "alone": [
            {
                "view": view,
                "size": size,
                "garments": request.garments[view, size],
                "cut_length_mm": result.cut_length_mm,
                "shop_length_mm": result.shop_length_mm,
                "shop_length": format_length(result.shop_length_mm, units, up=True),
            }
            for (view, size), result in order.alone.items()
        ],
        "alone_shop_length_mm": order.alone_shop_mm,
        "saved_mm": order.saved_mm,
    }


def _lines(order: OrderResult) -> list[Row]:
    labels = order.request.labels
    return [
        {
            "number": number + 1,
            "label": labels[number],
            "name": one.name,
            "view": one.view,
            "size": one.size,
            "count": one.count,
        }
        for number, one in enumerate(order.request.lines)
    ]


def _piece_row(one: Received) -> Row:
    return {"piece": one.item.title, "label": one.item.size, "count": one.count}


def order_csv(order: OrderResult) -> str:
    """Return who gets which pieces as CSV, a line for each participant."""
    return csv_table(
        CSV_COLUMNS,
        (
            row | {"pieces": pieces_words(order.received[number])}
            for number, row in enumerate(_lines(order))
        ),
    )


def pieces_words(received: Sequence[Received], words: Words = ENGLISH) -> str:
    """Return pieces with their counts, such as ``"2 Front; 1 Back"``, or ``"nothing"``."""
    counts: dict[str, int] = {}
    for one in received:
        counts[one.item.title] = counts.get(one.item.title, 0) + one.count
    return "; ".join(f"{count} {title}" for title, count in counts.items()) or words.say("nothing")


def saving_words(order: OrderResult, words: Words = ENGLISH) -> str:
    """Return what cutting all together saves, in one sentence."""
    bolt, saved = order.request.bolt, order.saved_mm
    alone = words.figures(format_both(order.alone_shop_mm, bolt.units, up=True))
    if saved <= 1e-6:
        return words.say(
            "Each garment bought by itself asks for {alone} as well: nothing is saved.", alone=alone
        )
    less = words.figures(format_both(saved, bolt.units))
    if bolt.price is None:
        return words.say(
            "Each garment bought by itself asks for {alone} in all; together it is {less} less.",
            alone=alone,
            less=less,
        )
    cost = bolt.price.cost(order.alone_shop_mm) - bolt.price.cost(order.together.shop_length_mm)
    return words.say(
        "Each garment bought by itself asks for {alone} in all; together it is {less} less, and "
        "{cost} less to pay.",
        alone=alone,
        less=less,
        cost=words.figures(money(bolt.price, cost)),
    )
