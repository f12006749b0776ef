"""Marker files as a command takes them: read, and not beyond all measure."""

# ruff: noqa: PLC0415 - pydantic and numpy load only when there is a file to read
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from nesting.cli.options import OptionError
from pieces.lengths import LONGEST_MM

if TYPE_CHECKING:
    from nesting.marker import Marker
    from pieces.finding import Finding

LONGEST_DRAWN_MM = 1e6
"""One kilometre: rulers of more would fill the memory."""


def sensible_marker(path: Path, *, longest_mm: float = LONGEST_MM) -> "Marker":
    """Read a marker file and refuse one with a measure longer than ``longest_mm``.

    Raises
    ------
    MarkerFileError
        If the file cannot be read or is no marker file.
    OptionError
        If a length or place in it is too far out, as after a slip of the keyboard.
    """
    from nesting.marker_file import read_marker

    marker = read_marker(path)
    if not all(abs(measure_mm) <= longest_mm for measure_mm in _measures_mm(marker)):
        raise OptionError(
            f"marker file {path} holds a length or place beyond {longest_mm / 1e6:g} km; "
            "check its numbers"
        )
    return marker


def refuse_unknown_pieces(path: Path, findings: "Sequence[Finding]") -> None:
    """Refuse to draw a marker that lays what its cut list does not have.

    Raises
    ------
    OptionError
        If there is such a finding.
    """
    for finding in findings:
        if finding.code == "unknown-piece":
            raise OptionError(f"marker file {path} cannot be drawn: {finding.sentence}")


def _measures_mm(marker: "Marker") -> Iterator[float]:
    """Return every length and coordinate that a marker is drawn and judged by."""
    yield from (marker.length_mm, marker.bolt.width_mm, marker.bolt.shop_step_mm)
    for stretch in marker.stretches:
        yield from (stretch.start_mm, stretch.end_mm)
    for placement in marker.placements:
        yield from (placement.x_mm, placement.y_mm)
    for item in marker.items:
        for shape in (item.shape, item.half):
            if shape is not None:
                yield from (float(shape.outline_mm.min()), float(shape.outline_mm.max()))
                yield from (*shape.grainline.tail_mm, *shape.grainline.head_mm)
                for point in shape.fold_edge_mm or ():
                    yield from point
