"""An order for people, on standard output."""

from rich import box
from rich.table import Table
from rich.text import Text

from nesting.answers.order.order import OrderResult
from nesting.answers.order.order_tables import pieces_words, saving_words
from nesting.cli.report import print_lay
from nesting.cli.terminal import CleanConsole
from pieces.measures.format import format_both


def print_order(order: OrderResult, *, selvage_told: bool) -> None:
    """Print the lay of all, what it saves, and who gets which pieces."""
    print_lay(order.request.together, order.together, selvage_told=selvage_told)
    console = CleanConsole()
    console.print(_alone(order))
    console.print(Text(saving_words(order), style="bold green"))
    console.print(_participants(order))


def _alone(order: OrderResult) -> Table:
    table = Table(box=box.SIMPLE_HEAVY, pad_edge=False)
    for head in ("View", "Size", "Garments", "One by itself asks for"):
        table.add_column(head)
    for (view, size), result in order.alone.items():
        count = str(order.request.garments[view, size])
        length = format_both(result.shop_length_mm, order.request.bolt.units, up=True)
        table.add_row(*(Text(cell) for cell in (view, size, count, length)))
    return table


def _participants(order: OrderResult) -> Table:
    table = Table(box=box.SIMPLE_HEAVY, pad_edge=False)
    for head in ("No.", "Name", "On the pieces", "View", "Size", "Count", "Pieces"):
        table.add_column(head)
    for number, (one, label) in enumerate(
        zip(order.request.lines, order.request.labels, strict=True)
    ):
        pieces = pieces_words(order.received[number])
        cells = (str(number + 1), one.name, label, one.view, one.size, str(one.count), pieces)
        table.add_row(*(Text(cell) for cell in cells))
    return table
