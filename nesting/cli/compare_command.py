"""``nesting compare``: the same garment on several bolts."""

# ruff: noqa: PLC0415 - numba, shapely and matplotlib load only when there is something to lay
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from nesting.cli.options import CompareTyped, Effort, Naps, takes
from nesting.cli.outputs import PICTURE_ENDINGS, check_output, write_together

if TYPE_CHECKING:
    from nesting.compare import CompareRow

_NAPS = {Naps.WITH: [True], Naps.WITHOUT: [False], Naps.BOTH: [False, True]}


@takes(CompareTyped)
def compare_command(typed: CompareTyped) -> int:
    """Lay the pieces on several bolts and say which needs less, and which costs less."""
    check_output("--draw", typed.draw, PICTURE_ENDINGS)
    from nesting.advice import advice
    from nesting.cli import report
    from nesting.cli.asking import bolts_of, chosen, rules_of, search_of
    from nesting.cli.progress import watching
    from nesting.compare import compare_bolts
    from nesting.lay import LayRequest
    from nesting.tables import compare_row

    choice = chosen(typed)
    bolts = bolts_of(typed, typed.width, typed.price or [], _NAPS[typed.nap])
    requests = tuple(
        LayRequest(
            pattern=choice.pattern,
            selections=choice.selections,
            cloth=choice.cloth,
            bolt=bolt,
            rules=rules_of(typed),
            search=search_of(typed),
        )
        for bolt in bolts
    )
    report.note(choice.notes)
    with watching(bolts, quiet=typed.json, only_fills=typed.effort is Effort.QUICK) as watch:
        rows = compare_bolts(requests, progress=watch.row)
    results = [row.result for row in rows if row.result is not None]
    report.note(report.stop_note(results))
    written = _write(typed.draw, rows)
    if typed.json:
        report.print_json(
            {"rows": [compare_row(row) for row in rows], "advice": list(advice(rows))}
        )
    else:
        report.print_compare(rows, advice(rows))
        report.print_written(written)
    if not results:
        return 2
    return 1 if any(report.has_errors(result.findings) for result in results) else 0


def _write(path: Path | None, rows: "Sequence[CompareRow]") -> list[Path]:
    """Draw the rows that could be laid, if a picture was asked for and there is one to draw."""
    from nesting.cli.report import row_heading

    entries = [
        (row_heading(row.request), row.result.marker, row.result.lower_bound.length_mm)
        for row in rows
        if row.result is not None
    ]
    if path is None or not entries:
        return []
    from nesting.draw import draw_compare

    write_together({path: lambda moment: draw_compare(entries, moment)})
    return [path]
