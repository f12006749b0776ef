"""Thread: from the length of the seams to what is on the reel."""

import math
from collections.abc import Mapping
from types import MappingProxyType

import numpy as np

from nesting.errors import ReckoningError
from nesting.reckoning.limits import need_above_zero, need_between
from pieces.pattern import ClothNeed, Pattern
from pieces.piece import PieceShape

LOCKSTITCH, ZIGZAG = "301", "304"
STITCH_RATIOS: Mapping[str, float] = MappingProxyType(
    {"101": 5.0, "103": 4.5, LOCKSTITCH: 2.5, ZIGZAG: 5.5}
)
"""Thread over seam by stitch type: chain stitch, blind stitch, lockstitch, zigzag (*Standard
stitch type classification guide*, Coats)."""
REEL_MM = 100_000.0
"""A household reel: 100 m (common practice; longer ones are sold as well)."""
USUAL_WASTE = 0.15
"""Share of thread wasted on top: the one figure in both published ranges, 10 to 15 % (*Measuring
Actual Thread Consumption*, apparelscience.com) and 15 to 20 % (*Estimating Thread Consumption*)."""


def stitch_ratio(stitch: str = LOCKSTITCH) -> float:
    """Return the thread that one length of seam takes in a stitch type.

    Raises
    ------
    ReckoningError
        If the table has no such stitch.

    Examples
    --------
    >>> stitch_ratio("301")
    2.5
    """
    if stitch not in STITCH_RATIOS:
        known = ", ".join(STITCH_RATIOS)
        raise ReckoningError(
            f'stitch type "{stitch}" has no ratio here; it knows {known}, or unpick a test seam '
            "and give its ratio"
        )
    return STITCH_RATIOS[stitch]


def ratio_from_test_seam(seam_mm: float, *threads_mm: float) -> float:
    """Return the ratio measured by unpicking a test seam: all threads over the seam.

    Source: *Measuring Actual Thread Consumption*, apparelscience.com.

    Raises
    ------
    ReckoningError
        If no thread was measured, or a length is not above zero.

    Examples
    --------
    >>> ratio_from_test_seam(100.0, 130.0, 120.0)
    2.5
    """
    need_above_zero("test seam", seam_mm)
    if not threads_mm:
        raise ReckoningError("no thread was measured; unpick the test seam and measure each thread")
    for thread_mm in threads_mm:
        need_above_zero("unpicked thread", thread_mm)
    return sum(threads_mm) / seam_mm


def lockstitch_ratio(thickness_mm: float, stitch_mm: float) -> float:
    """Return the ratio of a lockstitch by geometry: two threads along and through the cloth.

    .. math:: k = 2 + 2 t / s

    After the formula for stitch 101 in *Sewing Thread Consumption Guide*, textileblog.com; its
    twin for the lockstitch is derived, not published.

    Parameters
    ----------
    thickness_mm
        Of all layers together, mm.
    stitch_mm
        Length of one stitch, mm.

    Raises
    ------
    ReckoningError
        If a measure is not above zero.

    Examples
    --------
    >>> lockstitch_ratio(0.625, 2.5)
    2.5
    """
    need_above_zero("thickness of the layers", thickness_mm)
    need_above_zero("stitch length", stitch_mm)
    return 2.0 + 2.0 * thickness_mm / stitch_mm


def thread_mm(seam_mm: float, *, ratio: float = 2.5, waste: float = USUAL_WASTE) -> float:
    r"""Return the thread for a length of seam.

    .. math:: t = l \cdot k \cdot (1 + w)

    Parameters
    ----------
    seam_mm
        Seams, each counted as often as it is sewn, mm.
    ratio
        Thread over seam, 1 to 30: 2.5 is the lockstitch of every household machine.
    waste
        Share added for ends and trials, 0 to 1: see :data:`USUAL_WASTE`.

    Raises
    ------
    ReckoningError
        If a measure is out of range.

    Examples
    --------
    >>> thread_mm(1000.0, waste=0.2)
    3000.0
    """
    need_above_zero("length of seams", seam_mm)
    need_between("thread over seam", ratio, 1.0, 30.0)
    need_between("share of thread wasted", waste, 0.0, 1.0)
    return seam_mm * ratio * (1.0 + waste)


def garment_thread_mm(
    seam_mm: float, *, ratio: float = 2.5, neaten_ratio: float = 5.5, waste: float = USUAL_WASTE
) -> float:
    r"""Return the thread for seams whose two raw edges are neatened as well.

    .. math:: t = l \cdot (k + 2 n) \cdot (1 + w)

    With lockstitch and zigzag a smock shirt comes to about 160 m. Published for a whole shirt are
    100 to 300 m, about 130 m for a medium one (*How Many Meters of Thread Does It Take to Make a
    Shirt?*, onlineclothingstudy.com).

    Parameters
    ----------
    seam_mm, ratio, waste
        As for :func:`thread_mm`.
    neaten_ratio
        Thread over each raw edge, 0 to 30: 5.5 for zigzag (stitch 304), 0 where edges are not
        neatened, as in a lined garment.

    Raises
    ------
    ReckoningError
        If a measure is out of range.

    Examples
    --------
    >>> garment_thread_mm(1000.0, waste=0.0)
    13500.0
    """
    need_between("thread over a neatened edge", neaten_ratio, 0.0, 30.0)
    return thread_mm(seam_mm, ratio=ratio, waste=waste) + 2.0 * seam_mm * neaten_ratio * (
        1.0 + waste
    )


def reels_needed(length_mm: float, reel_mm: float = REEL_MM) -> int:
    """Return how many whole reels hold a length of thread.

    Raises
    ------
    ReckoningError
        If a length is not above zero.

    Examples
    --------
    >>> reels_needed(162_000.0), reels_needed(100_000.0)
    (2, 1)
    """
    need_above_zero("length of thread", length_mm)
    need_above_zero("length of a reel", reel_mm)
    return math.ceil(length_mm / reel_mm - 1e-9)


def seam_length_mm(pattern: Pattern, view: str, size: str) -> float:
    """Return an estimate of all seams of one garment: half the edges of all its pieces, mm.

    Every seam joins two edges, so it is half of what is cut. Fold edges are not cut and do not
    count; a half piece counts opened out. Interfacing is fused, or caught in the seams of the
    others, so its edges are no seams. Hems and linings are counted as if every edge met another,
    and each seam as sewn once: an estimate.

    Raises
    ------
    UnknownNameError
        If the pattern has no such view or size.
    """
    pattern.size(size)
    pieces = [pattern.piece(name) for name in pattern.view(view).pieces]
    return 0.5 * sum(
        _cut_edge_mm(piece.shape(size))
        * sum(cut.count for cut in piece.cuts if _is_sewn(pattern.cloth(cut.cloth)))
        for piece in pieces
    )


def _is_sewn(need: ClothNeed) -> bool:
    """Tell whether a cloth is sewn by its edges: interfacing is not."""
    told = " ".join((need.name, need.about, *need.suggested)).casefold()
    return not any(word in told for word in ("interfacing", "fusible"))


def _cut_edge_mm(shape: PieceShape) -> float:
    """Return the length of edge around the finished piece, mm."""
    closed = np.vstack((shape.outline_mm, shape.outline_mm[:1]))
    around = float(np.linalg.norm(np.diff(closed, axis=0), axis=1).sum())
    if shape.fold_edge_mm is None:
        return around
    start, end = np.array(shape.fold_edge_mm)
    return 2.0 * (around - float(np.linalg.norm(end - start)))
