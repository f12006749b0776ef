"""``nesting draw``: a picture of a marker, its pages at true size, or a table to lay it by."""

# ruff: noqa: PLC0415 - shapely and matplotlib load only when there is something to draw
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from nesting.cli.options import DrawTyped, OptionError, takes
from nesting.cli.outputs import PICTURE_ENDINGS, Writer, check_outputs, write_together

if TYPE_CHECKING:
    from nesting.marker.marker import Marker


@takes(DrawTyped)
def draw_command(typed: DrawTyped) -> int:
    """Draw a marker file as a picture, or at true size; the ending of --out says which kind."""
    pictures = (".pdf",) if typed.true_size else PICTURE_ENDINGS
    check_outputs(typed, {"out": pictures, "by_tape": (".csv",)})
    from nesting.checks import check_marker
    from nesting.cli import report
    from nesting.marker.marker_file import read_marker
    from nesting.marker.whole import refuse_broken

    marker = read_marker(typed.marker)
    refuse_broken(marker)
    findings = check_marker(marker)
    if findings:
        report.note(["the check finds something wrong with this marker; see nesting check"])
    targets = {typed.out: _pages(marker, typed) if typed.true_size else _picture(marker, typed)}
    if typed.by_tape is not None:
        targets[typed.by_tape] = _table(marker)
    write_together(targets)
    report.print_written(list(targets))
    return 0


def _picture(marker: "Marker", typed: DrawTyped) -> Writer:
    from nesting.answers.rows import bounds_of
    from nesting.draw import draw_marker
    from nesting.languages import words_of

    found = bounds_of(marker)
    this_way_mm, open_mm = (None, None) if found is None else (one.length_mm for one in found)
    return partial(
        draw_marker,
        marker,
        lower_bound_mm=this_way_mm,
        open_bound_mm=open_mm,
        words=words_of(typed.language.value),
    )


def _pages(marker: "Marker", typed: DrawTyped) -> Writer:
    from nesting.draw import draw_true_size
    from nesting.draw.papers import PAPERS
    from nesting.languages import words_of

    if typed.paper not in PAPERS:
        raise OptionError(f'--paper: "{typed.paper}" is not known; use {", ".join(PAPERS)}')

    words = words_of(typed.language.value)

    def write(moment: Path) -> None:
        draw_true_size(marker, moment, paper=typed.paper, words=words)

    return write


def _table(marker: "Marker") -> Writer:
    from nesting.marker.tape_table import tape_csv
    from pieces.files.atomic_file import write_bytes_atomically

    return lambda moment: write_bytes_atomically(moment, tape_csv(marker).encode("utf-8"))
