"""An order as plain values for JSON, as CSV, and in words."""

import csv
import io
from collections.abc import Sequence

from nesting.order import OrderResult, Received
from nesting.tables import Row, lay_row, money
from pieces.lengths import format_both, format_length

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
                "shop_length": format_length(result.shop_length_mm, units),
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
    """Return who gets which pieces as CSV, a line for each participant.

    A cell that a spreadsheet would take for a formula has an apostrophe before it.
    """
    stream = io.StringIO()
    table = csv.DictWriter(stream, CSV_COLUMNS, lineterminator="\n")
    table.writeheader()
    for number, row in enumerate(_lines(order)):
        told = row | {"pieces": pieces_words(order.received[number])}
        table.writerow({name: _harmless(told[name]) for name in CSV_COLUMNS})
    return stream.getvalue()


def _harmless(value: object) -> object:
    return f"'{value}" if isinstance(value, str) and value[:1] in set("=+-@\t\r") else value


def pieces_words(received: Sequence[Received]) -> str:
    """Return pieces with their counts, such as ``"2 Front; 1 Back"``, or ``"nothing"``."""
    counts: dict[str, int] = {}
    for one in received:
        counts[one.item.title] = counts.get(one.item.title, 0) + one.count
    return "; ".join(f"{count} {title}" for title, count in counts.items()) or "nothing"


def saving_words(order: OrderResult) -> str:
    """Return what cutting all together saves, in one sentence."""
    bolt, saved = order.request.bolt, order.saved_mm
    alone = format_both(order.alone_shop_mm, bolt.units)
    if saved <= 1e-6:
        return f"Each garment bought by itself asks for {alone} as well: nothing is saved."
    words = f"{format_both(saved, bolt.units)} less"
    if bolt.price is not None:
        cost = bolt.price.cost(order.alone_shop_mm) - bolt.price.cost(order.together.shop_length_mm)
        words += f", and {money(bolt.price, cost)} less to pay"
    return f"Each garment bought by itself asks for {alone} in all; together it is {words}."
