"""``nesting import``: a drawing, photographs, or measures, as a pattern sheet."""

# ruff: noqa: PLC0415 - shapely, ezdxf and OpenCV load only when there is something to read
import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

from nesting.cli.drawing_options import ImportTyped
from nesting.cli.options import OptionError, read_option, takes
from nesting.cli.outputs import PICTURE_ENDINGS, Writer, check_outputs, write_together

if TYPE_CHECKING:
    from pieces.drawing.mapping_file import Mapping
    from pieces.pattern import Pattern

_PHOTO_ENDINGS = (".jpg", ".jpeg", ".png")
_DRAWINGS_ONLY = ("units", "dialect")
_PHOTOS_ONLY = ("sheet", "grain", "piece")


@dataclass(frozen=True)
class _Imported:
    """A pattern, what was assumed, how its preview is drawn, and more for machines."""

    pattern: "Pattern"
    notes: tuple[str, ...]
    preview: Writer
    row: dict[str, Any] = field(default_factory=dict)


@takes(ImportTyped)
def import_command(typed: ImportTyped) -> int:
    """Read a drawing, photographs, or pieces by measure, and write them as a pattern sheet."""
    if typed.print_marks is not None:
        return _print_marks(typed)
    sources = typed.source or []
    is_photo = bool(sources) and sources[0].suffix.lower() in _PHOTO_ENDINGS
    out = _checked_out(typed, is_photo=is_photo)
    from nesting.cli import report
    from nesting.cli.asking import checked_notes
    from nesting.cli.import_rows import pattern_row
    from pieces.sheet.pattern_file import write_pattern

    if typed.shape:
        read = _measured(typed, out)
    else:
        read = _photographed(typed, out) if is_photo else _drawn(typed)
    warnings = checked_notes(read.pattern, sources[0] if sources else out)
    targets: dict[Path, Writer] = {out: lambda moment: write_pattern(read.pattern, moment)}
    if typed.preview is not None:
        targets[typed.preview] = read.preview
    write_together(targets)
    row = {**pattern_row(read.pattern, (*read.notes, *warnings)), **read.row}
    if typed.json:
        preview = None if typed.preview is None else str(typed.preview)
        report.print_json({**row, "out": str(out), "preview": preview})
        return 0
    report.note(row["notes"])
    for one in row["pieces"]:
        size = f"{one['wide_mm']:g} x {one['tall_mm']:g} mm"
        fold = ", on the fold" if one["on_fold"] else ""
        report.print_sentence(f"{one['title']}, size {one['size']}: {size}{fold}")
    report.print_written(list(targets))
    return 0


def _checked_out(typed: ImportTyped, *, is_photo: bool) -> Path:
    """Return the sheet to write, after a look at everything typed that needs no reading.

    Raises
    ------
    OptionError
        If something is missing, or does not go with the rest.
    """
    if typed.out is None:
        raise OptionError("--out: it is missing; give the pattern sheet to write, a .toml file")
    preview = (".png",) if is_photo else PICTURE_ENDINGS
    check_outputs(typed, {"out": (".toml",), "preview": preview})
    if bool(typed.source) == bool(typed.shape):
        raise OptionError(
            "DRAWING or --shape: give a drawing, photographs, or pieces by measure, one of them"
        )
    if typed.source and len(typed.source) > 1 and not is_photo:
        raise OptionError("DRAWING: give one drawing at a time; photographs may be several")
    if typed.name is not None and not is_photo and not typed.shape:
        raise OptionError("--name: it is for pieces by measure; name a drawing in its --map")
    if is_photo:
        _refuse_typed(typed, _DRAWINGS_ONLY, "it is for drawings; leave it out with photographs")
    else:
        _refuse_typed(typed, _PHOTOS_ONLY, "it is for photographs (.jpg, .png); leave it out")
    return typed.out


def _refuse_typed(typed: ImportTyped, names: Sequence[str], why: str) -> None:
    for name in names:
        if getattr(typed, name) is not None:
            raise OptionError(f"--{name}: {why}")


def _print_marks(typed: ImportTyped) -> int:
    """Write the pages of marks."""
    if typed.source or typed.shape or typed.out or typed.preview:
        raise OptionError("--print-marks: it writes its pages and nothing else; leave out the rest")
    path = Path(str(typed.print_marks))
    check_outputs(typed, {"print_marks": (".pdf",)})
    from nesting.cli import report
    from nesting.draw import draw_mark_pages

    pages: list[int] = []
    write_together({path: lambda moment: pages.append(draw_mark_pages(moment, paper=typed.paper))})
    if typed.json:
        report.print_json({"out": str(path), "pages": pages[0], "paper": typed.paper})
        return 0
    report.print_sentence(
        f"{pages[0]} pages; print two or more of them at 100 %, and measure the line on each"
    )
    report.print_written([path])
    return 0


def _mapping(typed: ImportTyped) -> "Mapping | None":
    from pieces.drawing.mapping_file import read_mapping

    return None if typed.map is None else read_mapping(typed.map)


def _drawn(typed: ImportTyped) -> _Imported:
    from pieces.drawing.drawing_file import read_drawing
    from pieces.drawing.mapping_file import unit_mm

    size_mm = None if typed.units is None else read_option("--units", unit_mm, typed.units)
    pattern, notes = read_drawing(
        (typed.source or [])[0], unit_mm=size_mm, dialect=typed.dialect, mapping=_mapping(typed)
    )
    return _Imported(pattern, notes, _picture(pattern))


def _measured(typed: ImportTyped, out: Path) -> _Imported:
    from pieces.sheet.shape_words import pattern_of_shapes

    _refuse_typed(typed, (*_DRAWINGS_ONLY, "map"), "it is for drawings; leave it out with --shape")
    pattern = pattern_of_shapes(typed.shape or (), name=typed.name or out.stem)
    return _Imported(pattern, (), _picture(pattern))


def _photographed(typed: ImportTyped, out: Path) -> _Imported:
    from nesting.cli.import_rows import accuracy_row
    from pieces.drawing.to_pattern import pattern_of
    from pieces.files.atomic_file import write_bytes_atomically
    from pieces.photo.photo_file import read_photos
    from pieces.photo.sheets import sheet_named

    if typed.grain is not None and not (math.isfinite(typed.grain) and abs(typed.grain) <= 360.0):
        raise OptionError(f"--grain: {typed.grain:g} is out of range; it goes from -360 to 360")
    reading = read_photos(
        typed.source or (),
        sheet=None if typed.sheet is None else sheet_named(typed.sheet),
        grain_deg=typed.grain,
        names=typed.piece or (),
    )
    pattern, notes = pattern_of(
        reading.drawing, name=typed.name or out.stem, mapping=_mapping(typed)
    )
    return _Imported(
        pattern,
        notes,
        lambda moment: write_bytes_atomically(moment, reading.preview_png()),
        {"accuracy": accuracy_row(reading.accuracy)},
    )


def _picture(pattern: "Pattern") -> Writer:
    from nesting.draw import draw_pattern

    return lambda moment: draw_pattern(pattern, moment)
