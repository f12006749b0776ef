"""``nesting chart``: the yardage chart of a pattern."""

# ruff: noqa: PLC0415 - numba, shapely and matplotlib load only when there is something to lay
import os
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from nesting.cli.chart_options import ChartTyped
from nesting.cli.options import Effort, Naps, OptionError, takes
from nesting.cli.outputs import PICTURE_ENDINGS, check_output, write_together

if TYPE_CHECKING:
    from nesting.chart import Chart, ChartRequest
    from pieces.lengths import UnitSystem
    from pieces.pattern import Pattern

_NAPS = {Naps.WITH: [True], Naps.WITHOUT: [False], Naps.BOTH: [False, True]}
MOST_WORKERS = 64


@takes(ChartTyped)
def chart_command(typed: ChartTyped) -> int:
    """Chart how much cloth every view and size takes, on every width, with nap and without."""
    for option, path, endings in (
        ("--csv", typed.csv, (".csv",)),
        ("--markdown", typed.markdown, (".md",)),
        ("--draw", typed.draw, PICTURE_ENDINGS),
    ):
        check_output(option, path, endings)
    from nesting.chart import make_chart
    from nesting.chart_tables import chart_row
    from nesting.cli import report
    from nesting.cli.chart_report import print_chart
    from nesting.cli.progress import watching_cells
    from nesting.errors import LayStoppedError

    request, notes = _request(typed)
    folder = _folder(typed)
    if folder is None:
        notes.append("finished cells are not kept; --resume FOLDER or a file to write keeps them")
    report.note(notes)
    workers = typed.workers or min(os.cpu_count() or 1, MOST_WORKERS)
    with watching_cells(quiet=typed.json, only_fills=typed.effort is Effort.QUICK) as watch:
        try:
            chart = make_chart(request, workers=workers, folder=folder, progress=watch.cells)
        except LayStoppedError as problem:
            kept = "nothing was kept" if folder is None else f"finished cells are kept in {folder}"
            raise LayStoppedError(f"{problem}; {kept}") from problem
    written = _write(typed, chart)
    if typed.json:
        report.print_json(chart_row(chart))
    else:
        print_chart(chart)
        report.print_written(written)
    results = [row.result for row in chart.all_rows if row.result is not None]
    if not results:
        return 2
    return 1 if any(report.has_errors(result.findings) for result in results) else 0


def _request(typed: ChartTyped) -> "tuple[ChartRequest, list[str]]":
    """Return what to chart, and what the person should hear about it."""
    from nesting.chart import ChartRequest, views_cut_from
    from nesting.cli.asking import bolts_of, checked_notes, rules_of
    from nesting.lay import SearchOptions
    from pieces.pattern_file import read_pattern

    pattern = read_pattern(typed.pattern)
    notes = checked_notes(pattern, typed.pattern)
    if typed.cloth is None and len(pattern.cloths) > 1:
        names = ", ".join(cloth.name for cloth in pattern.cloths)
        notes.append(f"cloth {pattern.cloths[0].name}, the first of {names}; --cloth chooses")
    cloth = pattern.cloth(typed.cloth or pattern.cloths[0].name).name
    effort = None if typed.effort is None else typed.effort.value
    if effort is None and typed.seconds is None:
        effort = "standard"
    request = ChartRequest(
        pattern=pattern,
        cloth=cloth,
        views=tuple(typed.view or views_cut_from(pattern, cloth)),
        sizes=_sizes(typed, pattern),
        bolts=bolts_of(typed, _widths(typed), [], _NAPS[typed.nap]),
        rules=rules_of(typed),
        search=SearchOptions(effort, typed.seconds, typed.seed, workers=1),
    )
    return request, notes


def _sizes(typed: ChartTyped, pattern: "Pattern") -> tuple[str, ...]:
    """Return the sizes asked for, smallest first."""
    chosen = [pattern.size(size) for size in typed.size or pattern.sizes]
    return tuple(sorted(chosen, key=pattern.sizes.index))


def _widths(typed: ChartTyped) -> list[str]:
    """Return the widths typed, or the usual ones."""
    if typed.width and typed.units is not None:
        raise OptionError("--units: the first --width says it already; leave one of them out")
    if typed.width:
        return typed.width
    from pieces.lengths import UnitSystem

    units = typed.units or _units_of(typed.pattern)
    if units is UnitSystem.IMPERIAL:
        return ["36in", "45in", "54in", "60in"]
    return ["90cm", "115cm", "140cm", "150cm"]


def _units_of(sheet: Path) -> "UnitSystem":
    """Return the system in which a pattern sheet, known to be good, is written."""
    import tomllib

    from pieces.lengths import typed_system

    return typed_system(f"1 {tomllib.loads(sheet.read_text(encoding='utf-8-sig'))['units']}")


def _folder(typed: ChartTyped) -> Path | None:
    """Return the folder that keeps cells, made if it was not there; None keeps nothing."""
    beside = next((path for path in (typed.csv, typed.markdown, typed.draw) if path), None)
    folder = typed.resume or (None if beside is None else beside.with_suffix(".cells"))
    if folder is None:
        return None
    try:
        folder.mkdir(exist_ok=True)
    except OSError as problem:
        raise OptionError(
            f"--resume: folder {folder} cannot be made: {problem.strerror or problem}; "
            "choose a place in a folder that exists and may be written"
        ) from problem
    return folder


def _write(typed: ChartTyped, chart: "Chart") -> list[Path]:
    """Write the files asked for, all or none, and return their names."""
    from nesting.chart_tables import chart_csv, chart_markdown
    from pieces.atomic_file import write_text_atomically

    writers: dict[Path, Callable[[Path], None]] = {}
    if typed.csv is not None:
        writers[typed.csv] = partial(write_text_atomically, text=chart_csv(chart))
    if typed.markdown is not None:
        writers[typed.markdown] = partial(write_text_atomically, text=chart_markdown(chart))
    if typed.draw is not None:
        from nesting.chart_picture import chart_scene
        from nesting.draw import save_scene

        writers[typed.draw] = partial(save_scene, chart_scene(chart))
    write_together(writers)
    return list(writers)
