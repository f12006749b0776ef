"""``nesting chart``: the yardage chart of a pattern."""

# ruff: noqa: PLC0415 - numba, shapely and matplotlib load only when there is something to lay
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from nesting.cli.chart_asking import (
    cell_executor,
    cells_folder,
    chart_request,
    check_cluster,
    telling_what_is_kept,
)
from nesting.cli.chart_options import ChartTyped
from nesting.cli.options import Effort, takes
from nesting.cli.outputs import PICTURE_ENDINGS, check_outputs, write_together

if TYPE_CHECKING:
    from nesting.answers.chart.chart import Chart


@takes(ChartTyped)
def chart_command(typed: ChartTyped) -> int:
    """Chart how much cloth every view and size takes, on every width, with nap and without."""
    check_outputs(typed, {"csv": (".csv",), "markdown": (".md",), "draw": PICTURE_ENDINGS})
    check_cluster(typed)
    from nesting.answers.chart.chart import make_chart
    from nesting.answers.chart.chart_tables import chart_row
    from nesting.cli import report
    from nesting.cli.chart_report import print_chart
    from nesting.cli.progress import watching_cells
    from nesting.languages import words_of

    request, notes = chart_request(typed, typed.pattern, typed.view, typed.size)
    beside = next((path for path in (typed.csv, typed.markdown, typed.draw) if path), None)
    folder = cells_folder(typed, beside)
    if folder is None:
        notes.append("finished cells are not kept; --resume FOLDER or a file to write keeps them")
    report.note(notes)
    only_fills = typed.effort is Effort.QUICK
    with (
        telling_what_is_kept(folder),
        watching_cells(quiet=typed.json, only_fills=only_fills) as watch,
        cell_executor(typed) as executor,
    ):
        chart = make_chart(request, executor=executor, folder=folder, progress=watch.cells)
    written = _write(typed, chart)
    if typed.json:
        report.print_json(chart_row(chart))
    else:
        print_chart(chart, words_of(typed.language.value))
        report.print_written(written)
    results = [row.result for row in chart.all_rows if row.result is not None]
    if not results:
        return 2
    return 1 if any(report.has_errors(result.findings) for result in results) else 0


def _write(typed: ChartTyped, chart: "Chart") -> list[Path]:
    """Write the files asked for, all or none, and return their names."""
    from nesting.answers.chart.chart_tables import chart_csv, chart_markdown
    from nesting.languages import words_of
    from pieces.files.atomic_file import write_text_atomically

    words = words_of(typed.language.value)
    writers: dict[Path, Callable[[Path], None]] = {}
    if typed.csv is not None:
        writers[typed.csv] = partial(write_text_atomically, text=chart_csv(chart))
    if typed.markdown is not None:
        writers[typed.markdown] = partial(write_text_atomically, text=chart_markdown(chart, words))
    if typed.draw is not None:
        from nesting.answers.chart.chart_picture import chart_scene
        from nesting.draw import save_scene

        writers[typed.draw] = partial(save_scene, chart_scene(chart, words))
    write_together(writers)
    return list(writers)
