"""How far a photograph can be trusted, and when it cannot be."""

from dataclasses import dataclass

import numpy as np

from pieces.errors import PhotoError
from pieces.outline.polygon import FloatArray
from pieces.photo.marks import KnownPoints
from pieces.photo.plane import Floor, Plane
from pieces.photo.profiles import edge_width
from pieces.photo.reading import Photo
from pieces.photo.tracing import TOLERANCE_MM

LEAST_PX_PER_MM = 0.8
MOST_SMEAR_MM = 4.0
WANTED_MM, MOST_DOUBT_MM = 2.0, 10.0
_EDGE_PX = 0.5
_FLAT_MM = 1.0
"""How far an edge may be off because paper never lies quite flat (an allowance of ours)."""


@dataclass(frozen=True)
class Accuracy:
    """What is known of the exactness of outlines from photographs.

    Parameters
    ----------
    mm_per_px
        Millimetres that a pixel shows, at the worst place of a piece.
    misfit_px, misfit_mm
        Root mean square of what the marks miss; None for a blank sheet, whose four corners
        always fit.
    smear_mm
        Over how much sharp edges are smeared.
    error_mm
        Estimated error of the edge: nineteen places of twenty are better.
    """

    mm_per_px: float
    misfit_px: float | None
    misfit_mm: float | None
    smear_mm: float
    error_mm: float

    @property
    def sentence(self) -> str:
        """The figures, in one sentence."""
        marks = "" if self.misfit_mm is None else f", marks miss by {self.misfit_mm:.2f} mm"
        return (
            f"a pixel shows {self.mm_per_px:.2f} mm{marks}, and the edges are right within about "
            f"{self.error_mm:.1f} mm"
        )


def refuse_blurred(photo: Photo, plane: Plane, known: KnownPoints) -> float:
    """Return over how many mm the edges of a sheet or its marks are smeared.

    Raises
    ------
    PhotoError
        If it is too much to cut by.
    """
    quads = known.at_px.reshape(-1, 4, 2)
    widths = []
    for pair in (0, 1):
        points, out = [], []
        for quad in quads:
            middle = quad.mean(axis=0)
            for side in (pair, pair + 2):
                start, end = quad[side], quad[(side + 1) % 4]
                along = (end - start) / max(float(np.linalg.norm(end - start)), 1e-9)
                square = np.array([along[1], -along[0]])
                square *= np.sign(square @ (0.5 * (start + end) - middle)) or 1.0
                shares = np.linspace(0.25, 0.75, 12)[:, None]
                points.append(start + shares * (end - start))
                out.append(np.repeat(square[None, :], 12, axis=0))
        cell = float(np.linalg.norm(quads[0][0] - quads[0][1])) / 8.0
        scale = float(plane.px_per_mm(plane.to_mm(quads[0].mean(axis=0, keepdims=True)))[0])
        reach = min(cell, 6.0 * scale)
        widths.append(
            edge_width(photo.grey, np.concatenate(points), np.concatenate(out), reach) / scale
        )
    smear = max(widths)
    if smear > MOST_SMEAR_MM:
        told = f"smeared over {smear:.1f} mm" if np.isfinite(smear) else "not to be seen"
        raise PhotoError(
            f"the photograph is blurred: edges are {told}, and {MOST_SMEAR_MM:g} mm is the limit; "
            "hold the camera still, in more light, and let it focus"
        )
    return smear


def accuracy_of(
    floor: Floor, homes: list[int], outlines_mm: list[FloatArray], smear_mm: float
) -> Accuracy:
    """Return the figures, the worst piece counting.

    Parameters
    ----------
    floor
        Where the cameras were.
    homes
        For each outline the photograph that shows most of it.
    outlines_mm
        Of the pieces, shape (n, 2) each.
    smear_mm
        From :func:`refuse_blurred`.

    Raises
    ------
    PhotoError
        If the pixels are too few, or the error would be beyond all use.
    """
    scales, errors = [], []
    for home, outline in zip(homes, outlines_mm, strict=True):
        scale = floor.planes[home].px_per_mm(outline)
        doubt = 2.0 * floor.doubt_mm(home, outline)
        scales.append(float(scale.min()))
        every = np.sqrt(doubt**2 + (_EDGE_PX / scale) ** 2 + TOLERANCE_MM**2 + _FLAT_MM**2)
        errors.append(float(np.quantile(every, 0.95)))
    least, error, misfit = min(scales), max(errors), floor.misfit_px
    if least < LEAST_PX_PER_MM:
        raise PhotoError(
            f"a millimetre of a piece has {least:.2f} pixels, and {LEAST_PX_PER_MM:g} are needed; "
            "go nearer, or send the original photograph"
        )
    if error > MOST_DOUBT_MM:
        raise PhotoError(
            f"the outlines may be {error:.0f} mm off so far from the sheet; lay it beside the "
            "pieces, or pages of marks around them"
        )
    return Accuracy(
        mm_per_px=1.0 / least,
        misfit_px=misfit,
        misfit_mm=None if misfit is None else misfit / float(np.median(scales)),
        smear_mm=smear_mm,
        error_mm=error,
    )
