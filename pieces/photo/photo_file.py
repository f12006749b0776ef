"""Photographs of paper pieces: read one, or several of the same floor, as a drawing."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import shapely

from pieces.drawing.drawing import Drawing
from pieces.drawing.gather import gather
from pieces.drawing.labels import Role
from pieces.drawing.mark import Group, Mark, Marks
from pieces.errors import PhotoError
from pieces.outline.polygon import FloatArray, bounds_mm
from pieces.outline.transform import turn
from pieces.photo.accuracy import WANTED_MM, Accuracy, accuracy_of, refuse_blurred
from pieces.photo.blank_sheet import find_blank_sheet
from pieces.photo.grain import DrawnGrain, drawn_grain
from pieces.photo.ground import paper_mask
from pieces.photo.joining import frame_mm, joined
from pieces.photo.library import opencv
from pieces.photo.marks import KnownPoints, find_marks
from pieces.photo.plane import Floor, Plane, find_floor
from pieces.photo.preview import Found, preview_png
from pieces.photo.reading import ENDINGS, Photo, read_photo_file
from pieces.photo.sheets import LARGEST_PAGE_MM, PaperSheet, centred_box
from pieces.photo.tracing import TOLERANCE_MM, Traced, trace

__all__ = ["ENDINGS", "MOST_PHOTOS", "PhotoReading", "drawing_of_photos", "read_photos"]

MOST_PHOTOS = 6


@dataclass(frozen=True, eq=False, kw_only=True)
class PhotoReading:
    """What was found in photographs.

    Parameters
    ----------
    drawing
        The pieces, each with its grainline upright; up the first photograph if it has none.
    accuracy
        How far they can be trusted.
    views
        The photographs, and how each shows the floor.
    found
        The pieces where they lie on the floor.
    sheets_mm
        Corners of the sheets on the floor.
    """

    drawing: Drawing
    accuracy: Accuracy
    views: tuple[tuple[Photo, Plane], ...]
    found: tuple[Found, ...]
    sheets_mm: tuple[FloatArray, ...]

    def preview_png(self) -> bytes:
        """Return the photographs with the pieces drawn over them, a PNG file."""
        words = self.accuracy.sentence
        words = f"{words[:1].upper()}{words[1:]}."
        return preview_png(self.views, self.found, self.sheets_mm, words)


def read_photos(
    paths: Sequence[Path | str],
    *,
    sheet: PaperSheet | None = None,
    grain_deg: float | None = None,
    names: Sequence[str] = (),
) -> PhotoReading:
    """Read the pieces in one photograph, or in several that show the same pages of marks.

    Parameters
    ----------
    paths
        JPEG or PNG files, at most six.
    sheet
        The blank sheet beside the pieces; None for our printed pages of marks.
    grain_deg
        Direction of every grainline, degrees anticlockwise from the photograph's right; None to
        look for lines drawn on the pieces.
    names
        Of the pieces from left to right; numbers if empty.

    Raises
    ------
    PhotoError
        If the photographs cannot be used; the sentence says what to do.
    """
    opencv()
    if not 1 <= len(paths) <= MOST_PHOTOS:
        raise PhotoError(f"{len(paths)} photographs; give 1 to {MOST_PHOTOS}")
    photos = [read_photo_file(path) for path in paths]
    try:
        return drawing_of_photos(photos, sheet=sheet, grain_deg=grain_deg, names=names)
    except PhotoError as error:
        listed = ", ".join(str(path) for path in paths)
        raise PhotoError(f"{listed}: {error}") from error


def drawing_of_photos(
    photos: Sequence[Photo],
    *,
    sheet: PaperSheet | None = None,
    grain_deg: float | None = None,
    names: Sequence[str] = (),
) -> PhotoReading:
    """Return the pieces in photographs that were read already; see :func:`read_photos`.

    Raises
    ------
    PhotoError
        If the photographs cannot be used.
    """
    if sheet is not None and len(photos) > 1:
        raise PhotoError("several photographs are joined by printed marks; leave out --sheet")
    seen = [_known(photo, sheet) for photo in photos]
    floor = find_floor(seen, [photo.size_px for photo in photos])
    if floor is None:
        raise PhotoError("the photographs share no page of marks; each must show one of another's")
    floor = floor.upright()
    smear = max(
        refuse_blurred(photo, plane, known[0])
        for photo, plane, known in zip(photos, floor.planes, seen, strict=True)
    )
    traced = [
        _traced(photo, plane, known, floor)
        for photo, plane, known in zip(photos, floor.planes, seen, strict=True)
    ]
    outlines = joined(traced, floor.planes, list(floor.sheets_mm.values()))
    if names and len(names) != len(outlines):
        raise PhotoError(
            f"{len(outlines)} pieces were found and {len(names)} names given; give one for each, "
            "from left to right, or none"
        )
    accuracy = accuracy_of(floor, _homes(floor.planes, outlines), outlines, smear)
    grains = [_grain(photos, floor.planes, outline, grain_deg) for outline in outlines]
    names = names or [f"piece_{number}" for number in range(1, len(outlines) + 1)]
    notes = _notes(accuracy, grains, names, sheet, len(floor.sheets_mm))
    drawing = gather(_marks(outlines, grains, names, notes))
    return PhotoReading(
        drawing=drawing,
        accuracy=accuracy,
        views=tuple(zip(photos, floor.planes, strict=True)),
        found=tuple(_found(drawing, outlines, grains)),
        sheets_mm=tuple(floor.sheets_mm.values()),
    )


def _known(photo: Photo, sheet: PaperSheet | None) -> tuple[KnownPoints, ...]:
    if sheet is not None:
        return (find_blank_sheet(photo, sheet),)
    pages = find_marks(photo, centred_box(*LARGEST_PAGE_MM))
    if not pages:
        raise PhotoError(
            "no printed marks were found; lay printed pages of marks beside the pieces (nesting "
            "import --print-marks marks.pdf), or say which blank sheet lies there (--sheet a4)"
        )
    return pages


def _traced(
    photo: Photo, plane: Plane, known: Sequence[KnownPoints], floor: Floor
) -> tuple[Traced, ...]:
    frame_mm(plane)
    sheets = [floor.sheets_mm[one.sheet] for one in known]
    rings = [plane.to_px(_ring(corners, by_mm)) for corners in sheets for by_mm in (12.0, 25.0)]
    mask = paper_mask(photo, rings, [plane.to_px(corners) for corners in sheets])
    return trace(photo, mask, plane)


def _ring(corners: FloatArray, by_mm: float) -> FloatArray:
    """Return points around a sheet, ``by_mm`` away from it."""
    line = shapely.Polygon(corners).buffer(by_mm, join_style="mitre").exterior
    shares = np.linspace(0.0, 1.0, 120, endpoint=False)
    points: FloatArray = shapely.get_coordinates(
        shapely.line_interpolate_point(line, shares, normalized=True)
    )
    return points


def _homes(planes: Sequence[Plane], outlines: Sequence[FloatArray]) -> list[int]:
    """Return for each outline the photograph that shows most of it."""
    frames = [frame_mm(plane) for plane in planes]
    return [
        int(np.argmax([frame.intersection(shapely.Polygon(outline)).area for frame in frames]))
        for outline in outlines
    ]


def _grain(
    photos: Sequence[Photo], planes: Sequence[Plane], outline: FloatArray, deg: float | None
) -> DrawnGrain | None:
    if deg is None:
        found = [
            drawn_grain(photo, plane, outline) for photo, plane in zip(photos, planes, strict=True)
        ]
        lines = [one for one in found if one is not None]
        return max(
            lines, key=lambda one: np.hypot(*np.subtract(one.head_mm, one.tail_mm)), default=None
        )
    middle = shapely.get_coordinates(shapely.Polygon(outline).representative_point())[0]
    left, low, right, high = bounds_mm(outline)
    way = np.array([np.cos(np.radians(deg)), np.sin(np.radians(deg))])
    half = 0.25 * min(right - left, high - low) * way
    (x0, y0), (x1, y1) = (middle - half).tolist(), (middle + half).tolist()
    return DrawnGrain((x0, y0), (x1, y1), has_head=True, others=0)


def _notes(
    accuracy: Accuracy,
    grains: Sequence[DrawnGrain | None],
    names: Sequence[str],
    sheet: PaperSheet | None,
    pages: int,
) -> tuple[str, ...]:
    notes = [f"{accuracy.sentence}; outlines are simplified within {TOLERANCE_MM:g} mm"]
    if accuracy.error_mm > WANTED_MM:
        notes.append(
            f"that is more than {WANTED_MM:g} mm: lay pages of marks around the pieces, go nearer, "
            "or hold the camera straight above"
        )
    if sheet is not None or pages < 2:
        notes.append(
            "with one sheet the bend of the lens cannot be measured; two pages of marks or more "
            "can tell it"
        )
    for name, grain in zip(names, grains, strict=True):
        if grain is not None and not grain.has_head:
            notes.append(f'the grainline of "{name}" has no arrow head that shows, so it points up')
        if grain is not None and grain.others:
            notes.append(f'"{name}" has several long lines; the longest is taken for its grainline')
    return tuple(notes)


def _marks(
    outlines: Sequence[FloatArray],
    grains: Sequence[DrawnGrain | None],
    names: Sequence[str],
    notes: tuple[str, ...],
) -> Marks:
    """Return outlines and grainlines as the marks of a drawing, each piece with its grain upright.

    So its width and height are those that a tape measures across and along the grain.
    """
    marks, groups = [], []
    for number, (outline, grain, name) in enumerate(zip(outlines, grains, names, strict=True)):
        by_deg = 0.0 if grain is None else 90.0 - grain.angle_deg
        ring = turn(outline, by_deg)
        left, low, _, _ = bounds_mm(ring)
        groups.append(Group(name=name, origin_mm=(left, low)))
        marks.append(Mark(points_mm=ring, closed=True, role=Role.OUTLINE, group=number))
        if grain is not None:
            line = turn(np.array([grain.tail_mm, grain.head_mm]), by_deg)
            marks.append(Mark(points_mm=line, role=Role.GRAIN, group=number))
    return Marks(marks=tuple(marks), groups=tuple(groups), notes=notes)


def _found(
    drawing: Drawing, outlines: Sequence[FloatArray], grains: Sequence[DrawnGrain | None]
) -> list[Found]:
    """Return the pieces of a drawing where they lie on the floor."""
    found = []
    for drawn, outline, grain in zip(drawing.shapes, outlines, grains, strict=True):
        left, low, right, high = bounds_mm(drawn.shape.outline_mm)
        words = (drawn.name, f"{right - left:.0f} x {high - low:.0f} mm")
        if grain is None:
            arrow = np.array([drawn.shape.grainline.tail_mm, drawn.shape.grainline.head_mm])
            arrow += np.array(bounds_mm(outline)[:2])
        else:
            arrow = np.array([grain.tail_mm, grain.head_mm])
        found.append(Found(words, outline, arrow))
    return found
