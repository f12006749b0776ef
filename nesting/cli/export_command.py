"""``nesting export``: a pattern or a marker as a drawing."""

# ruff: noqa: PLC0415 - shapely and ezdxf load only when there is something to write
from typing import TYPE_CHECKING

from nesting.cli.drawing_options import ExportTyped
from nesting.cli.options import OptionError, takes
from nesting.cli.outputs import check_outputs, write_together

if TYPE_CHECKING:
    from pieces.drawing.drawing import Drawing

LEFT_OUT = "notions, cautions and the words about cloths and views are not in a drawing"


@takes(ExportTyped)
def export_command(typed: ExportTyped) -> int:
    """Write the pieces of a pattern sheet, or of a marker as they lie, as a drawing."""
    check_outputs(typed, {"out": (".svg", ".dxf")})
    from nesting.cli import report
    from nesting.cli.import_rows import drawing_row
    from pieces.drawing.drawing_file import format_drawing
    from pieces.files.atomic_file import write_text_atomically

    is_marker = typed.source.suffix.lower() == ".json"
    drawing = _marker(typed) if is_marker else _pattern(typed)
    text = format_drawing(drawing, typed.out.suffix, keep_places=is_marker)
    write_together({typed.out: lambda moment: write_text_atomically(moment, text)})
    if typed.json:
        report.print_json({**drawing_row(drawing), "out": str(typed.out)})
        return 0
    if not is_marker:
        report.note([LEFT_OUT])
    report.print_written([typed.out])
    return 0


def _marker(typed: ExportTyped) -> "Drawing":
    from nesting.marker.marker_drawing import marker_drawing
    from nesting.marker.marker_file import read_marker

    if typed.size:
        raise OptionError("--size: a marker is drawn as it lies; leave it out")
    return marker_drawing(read_marker(typed.source))


def _pattern(typed: ExportTyped) -> "Drawing":
    from pieces.drawing.pattern_facts import drawing_of
    from pieces.sheet.pattern_file import read_pattern

    pattern = read_pattern(typed.source)
    return drawing_of(pattern, sizes=tuple(pattern.size(one) for one in typed.size or ()))
