"""``nesting draw``: a picture of a marker."""

# ruff: noqa: PLC0415 - shapely and matplotlib load only when there is something to draw
from nesting.cli.options import DrawTyped, takes
from nesting.cli.outputs import PICTURE_ENDINGS, check_output, write_together


@takes(DrawTyped)
def draw_command(typed: DrawTyped) -> int:
    """Draw a marker file as a picture; the ending of --out says which kind."""
    check_output("--out", typed.out, PICTURE_ENDINGS)
    from nesting.checks import check_marker
    from nesting.cli import report
    from nesting.draw import draw_marker
    from nesting.marker_file import read_marker
    from nesting.tables import bound_of

    marker = read_marker(typed.marker)
    findings = check_marker(marker)
    if findings:
        report.note(["the check finds something wrong with this marker; see nesting check"])
    bound = bound_of(marker)
    bound_mm = None if bound is None else bound.length_mm
    write_together({typed.out: lambda moment: draw_marker(marker, moment, lower_bound_mm=bound_mm)})
    report.print_written([typed.out])
    return 0
