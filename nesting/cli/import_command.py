"""``nesting import``: a drawing, or measures, as a pattern sheet."""

# ruff: noqa: PLC0415 - shapely and ezdxf load only when there is something to read
from typing import TYPE_CHECKING

from nesting.cli.drawing_options import ImportTyped
from nesting.cli.options import OptionError, read_option, takes
from nesting.cli.outputs import check_output

if TYPE_CHECKING:
    from pieces.pattern import Pattern


@takes(ImportTyped)
def import_command(typed: ImportTyped) -> int:
    """Read a drawing, or pieces by measure, and write them as a pattern sheet."""
    check_output("--out", typed.out, (".toml",))
    if (typed.drawing is None) == (not typed.shape):
        raise OptionError("DRAWING or --shape: give a drawing, or pieces by measure, one of both")
    from nesting.cli import report
    from nesting.cli.asking import checked_notes
    from nesting.drawing_tables import pattern_row
    from pieces.pattern_file import write_pattern

    pattern, notes = _measured(typed) if typed.shape else _drawn(typed)
    warnings = checked_notes(pattern, typed.drawing or typed.out)
    write_pattern(pattern, typed.out)
    row = pattern_row(pattern, (*notes, *warnings))
    if typed.json:
        report.print_json({**row, "out": str(typed.out)})
        return 0
    report.note(row["notes"])
    for one in row["pieces"]:
        size = f"{one['wide_mm']:g} x {one['tall_mm']:g} mm"
        fold = ", on the fold" if one["on_fold"] else ""
        report.print_sentence(f"{one['title']}, size {one['size']}: {size}{fold}")
    report.print_written([typed.out])
    return 0


def _drawn(typed: ImportTyped) -> "tuple[Pattern, tuple[str, ...]]":
    from pieces.drawing.mapping_file import read_mapping, unit_mm
    from pieces.drawing_file import read_drawing

    if typed.name is not None:
        raise OptionError("--name: it is for pieces by measure; name a drawing in its --map")
    mapping = None if typed.map is None else read_mapping(typed.map)
    size_mm = None if typed.units is None else read_option("--units", unit_mm, typed.units)
    return read_drawing(str(typed.drawing), unit_mm=size_mm, dialect=typed.dialect, mapping=mapping)


def _measured(typed: ImportTyped) -> "tuple[Pattern, tuple[str, ...]]":
    from pieces.shape_words import pattern_of_shapes

    for name, value in (
        ("--units", typed.units),
        ("--dialect", typed.dialect),
        ("--map", typed.map),
    ):
        if value is not None:
            raise OptionError(f"{name}: it is for drawings; leave it out with --shape")
    return pattern_of_shapes(typed.shape or (), name=typed.name or typed.out.stem), ()
