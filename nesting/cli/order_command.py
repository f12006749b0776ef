"""``nesting order``: a class list on one bolt."""

# ruff: noqa: PLC0415 - numba, shapely and matplotlib load only when there is something to lay
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from nesting.cli.options import Effort, Nap, takes
from nesting.cli.order_options import OrderTyped
from nesting.cli.outputs import (
    MARKER_ENDINGS,
    PICTURE_ENDINGS,
    check_outputs,
    write_together,
)

if TYPE_CHECKING:
    from nesting.answers.order.order import OrderRequest, OrderResult


@takes(OrderTyped)
def order_command(typed: OrderTyped) -> int:
    """Lay the garments of a class list on one bolt, and say who gets which pieces."""
    check_outputs(typed, {"out": MARKER_ENDINGS, "draw": PICTURE_ENDINGS, "csv": (".csv",)})
    from nesting.answers.order.order import lay_order
    from nesting.answers.order.order_tables import order_row
    from nesting.cli import report
    from nesting.cli.order_report import print_order
    from nesting.cli.progress import watching

    request, notes = _request(typed)
    report.note(notes)
    bolts = (request.bolt,) * (1 + len(request.garments))
    with watching(bolts, quiet=typed.json, only_fills=typed.effort is Effort.QUICK) as watch:
        order = lay_order(request, progress=watch.row)
    written = _write(typed, order)
    report.note(report.stop_note([order.together, *order.alone.values()]))
    if typed.json:
        report.print_json(order_row(order))
    else:
        print_order(order, selvage_told=typed.selvage is not None)
        report.print_findings(order.together.findings)
        report.print_written(written)
    return 1 if report.has_errors(order.together.findings) else 0


def _request(typed: OrderTyped) -> "tuple[OrderRequest, list[str]]":
    """Return the order, and what the person should hear about the pattern."""
    from nesting.answers.order.order import OrderRequest
    from nesting.answers.order.order_file import read_order
    from nesting.cli.asking import bolts_of, cloth_of, rules_of, search_of
    from pieces.sheet.pattern_file import read_pattern

    pattern = read_pattern(typed.pattern)
    cloth, notes = cloth_of(pattern, typed.pattern, typed.cloth)
    prices = [] if typed.price is None else [typed.price]
    (bolt,) = bolts_of(typed, [typed.width], prices, [typed.nap is Nap.WITH])
    request = OrderRequest(
        pattern=pattern,
        lines=read_order(typed.order, pattern),
        cloth=cloth,
        bolt=bolt,
        rules=rules_of(typed),
        search=search_of(typed),
    )
    return request, notes


def _write(typed: OrderTyped, order: "OrderResult") -> list[Path]:
    """Write the files asked for, all or none, and return their names."""
    writers: dict[Path, Callable[[Path], None]] = {}
    if typed.draw is not None:
        from nesting.draw import draw_marker

        together = order.together
        writers[typed.draw] = partial(
            draw_marker,
            together.marker,
            lower_bound_mm=None if together.tried else together.lower_bound.length_mm,
            open_bound_mm=together.open_bound.length_mm,
        )
    if typed.out is not None:
        from nesting.marker.marker_file import write_marker

        writers[typed.out] = partial(write_marker, order.together.marker)
    if typed.csv is not None:
        from nesting.answers.order.order_tables import order_csv
        from pieces.files.atomic_file import write_text_atomically

        writers[typed.csv] = partial(write_text_atomically, text=order_csv(order))
    write_together(writers)
    return list(writers)
