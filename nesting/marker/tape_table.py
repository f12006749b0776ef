"""Laying a marker with a tape measure: where both ends of each grainline come to lie."""

from dataclasses import dataclass

from nesting.cloth.shrinkage import washed_mm
from nesting.cloth.spread import Spread, laid_width_mm
from nesting.languages import marked
from nesting.marker.marker import Marker
from nesting.marker.placement import lying_shape, pieces_cut
from nesting.marker.whole import refuse_broken
from pieces.files.csv_text import csv_text
from pieces.measures.tape import format_tape
from pieces.measures.units import UnitSystem

HEADER = (
    "piece",
    "size",
    "pieces cut",
    "paper lies",
    "measured from",
    "grainline tail, from the cut end",
    "grainline tail, from that edge",
    "grainline head, from the cut end",
    "grainline head, from that edge",
)


@dataclass(frozen=True)
class TapeRow:
    """Where one placement lies.

    Parameters
    ----------
    title, size
        Which piece.
    cut
        How many pieces are cut there.
    turned_over
        True if the paper lies printed side down.
    edge
        The edge of the cloth that is measured from: a fold, or the selvage.
    tail_mm, head_mm
        Distances of the grainline's ends from the cut end and from that edge, mm.
    """

    title: str
    size: str
    cut: int
    turned_over: bool
    edge: str
    tail_mm: tuple[float, float]
    head_mm: tuple[float, float]


def tape_rows(marker: Marker) -> tuple[TapeRow, ...]:
    """Return where each placement lies, from the cut end on.

    Both ends of a lengthwise grainline are as far from the edge, which shows that it lies straight.

    Raises
    ------
    MarkerFileError
        If the marker is broken: see :func:`nesting.marker.whole.refuse_broken`.
    """
    refuse_broken(marker)
    bolt = marker.bolt
    selvage_mm = washed_mm(bolt.selvage_mm, bolt.shrink_across)
    rows = []
    for placement in marker.placements:
        item = marker.item_by_key[placement.item]
        spread = marker.stretches[placement.stretch].spread
        is_single_width = laid_width_mm(bolt, spread) == bolt.usable_width_mm
        beyond_mm = selvage_mm if is_single_width else 0.0
        grain = lying_shape(item, placement, spread).grainline
        (x0, y0), (x1, y1) = grain.tail_mm, grain.head_mm
        rows.append(
            TapeRow(
                item.title,
                item.size,
                sum(pieces_cut(item, placement, spread)),
                placement.flipped,
                _edge_words(spread),
                (x0, y0 + beyond_mm),
                (x1, y1 + beyond_mm),
            )
        )
    return tuple(sorted(rows, key=lambda row: (min(row.tail_mm[0], row.head_mm[0]), row.edge)))


def _edge_words(spread: Spread) -> str:
    """Return the edge that is measured from: of a double fold it is the lower of two."""
    folds = {Spread.LENGTHWISE: marked("fold"), Spread.DOUBLE: marked("lower fold")}
    return folds.get(spread, marked("lower selvage"))


def tape_csv(marker: Marker) -> str:
    """Return the rows as CSV with a header, lengths as on a tape in the units of the bolt."""
    return csv_text([HEADER, *(_tape_cells(row, marker.bolt.units) for row in tape_rows(marker))])


def _tape_cells(row: TapeRow, units: UnitSystem) -> tuple[object, ...]:
    ends = [format_tape(max(0.0, end), units) for end in (*row.tail_mm, *row.head_mm)]
    side = "printed side down" if row.turned_over else "printed side up"
    return (row.title, row.size, row.cut, side, row.edge, *ends)
