"""``nesting lay``: one garment on one bolt."""

# ruff: noqa: PLC0415 - numba, shapely and matplotlib load only when there is something to lay
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from nesting.cli.options import Effort, LayTyped, Nap, takes
from nesting.cli.outputs import (
    MARKER_ENDINGS,
    PICTURE_ENDINGS,
    check_output,
    write_together,
)

if TYPE_CHECKING:
    from nesting.lay import LayRequest, LayResult
    from nesting.sensitivity import Sensitivity


@takes(LayTyped)
def lay_command(typed: LayTyped) -> int:
    """Lay the pieces on one bolt and say how much cloth to ask for."""
    check_output("--out", typed.out, MARKER_ENDINGS)
    check_output("--draw", typed.draw, PICTURE_ENDINGS)
    from nesting.cli import report
    from nesting.cli.asking import bolts_of, chosen, rules_of, search_of
    from nesting.cli.progress import watching
    from nesting.lay import LayRequest, lay_pieces
    from nesting.sensitivity import sensitivity_row, sensitivity_words
    from nesting.tables import lay_row

    choice = chosen(typed)
    prices = [] if typed.price is None else [typed.price]
    (bolt,) = bolts_of(typed, [typed.width], prices, [typed.nap is Nap.WITH])
    request = LayRequest(
        pattern=choice.pattern,
        selections=choice.selections,
        cloth=choice.cloth,
        bolt=bolt,
        rules=rules_of(typed),
        search=search_of(typed),
    )
    report.note(choice.notes)
    with watching((bolt,), quiet=typed.json, only_fills=typed.effort is Effort.QUICK) as watch:
        result = lay_pieces(request, progress=watch.lay)
    narrower = _narrower(request, quiet=typed.json) if typed.what_if_narrower else None
    written = _write(typed, result)
    if typed.json:
        report.note(report.stop_note([result]))
        more = {} if narrower is None else {"what_if_narrower": sensitivity_row(narrower)}
        report.print_json(lay_row(request, result) | more)
    else:
        report.print_lay(request, result, selvage_told=typed.selvage is not None)
        for sentence in () if narrower is None else sensitivity_words(narrower):
            report.print_sentence(sentence)
        report.print_findings(result.findings)
        report.print_written(written)
    return 1 if report.has_errors(result.findings) else 0


def _narrower(request: "LayRequest", *, quiet: bool) -> "Sensitivity":
    """Lay the same on narrower bolts."""
    from nesting.cli.progress import watching
    from nesting.sensitivity import WIDTHS, what_if_narrower

    with watching((request.bolt,) * WIDTHS, quiet=quiet, only_fills=True) as watch:
        return what_if_narrower(request, progress=watch.row)


def _write(typed: LayTyped, result: "LayResult") -> list[Path]:
    """Write the marker and its picture, both or neither, and return their names."""
    writers: dict[Path, Callable[[Path], None]] = {}
    if typed.draw is not None:
        from nesting.draw import draw_marker

        bound_mm = result.lower_bound.length_mm
        writers[typed.draw] = partial(draw_marker, result.marker, lower_bound_mm=bound_mm)
    if typed.out is not None:
        from nesting.marker_file import write_marker

        writers[typed.out] = partial(write_marker, result.marker)
    write_together(writers)
    return list(writers)
