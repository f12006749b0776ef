"""Grey levels across an edge: where it lies between the pixels, and how sharp it is."""

import numpy as np
import numpy.typing as npt

from pieces.outline.polygon import FloatArray
from pieces.photo.library import opencv
from pieces.photo.reading import Pixels

_LEAST_CONTRAST = 14.0
_BLOCK = 20_000


def crossings(
    grey: Pixels, points_px: FloatArray, out: FloatArray, reach_px: FloatArray | float
) -> tuple[FloatArray, npt.NDArray[np.bool_]]:
    """Return where, along ``out``, the level half way between inside and outside is crossed.

    Parameters
    ----------
    grey
        The photograph.
    points_px, out
        Points near the edge and unit vectors from inside to outside, shape (n, 2).
    reach_px
        How far to look each way, pixels; one number, or one for each point.

    Returns
    -------
    tuple
        Distances, shape (n,), pixels, and whether the edge is strong enough to be trusted.
    """
    reach = np.broadcast_to(np.asarray(reach_px, dtype=np.float64), (len(points_px),))
    steps, levels = sampled(grey, points_px, out, reach)
    inside = np.median(levels[:, steps <= -0.5], axis=1)
    outside = np.median(levels[:, steps >= 0.5], axis=1)
    above = levels - 0.5 * (inside + outside)[:, None]
    sign = np.sign(inside - outside)[:, None]
    above = above * sign
    falls = (above[:, :-1] > 0.0) & (above[:, 1:] <= 0.0)
    away = np.where(falls, np.abs(steps[:-1] + 0.5 * (steps[1] - steps[0])), np.inf)
    first = away.argmin(axis=1)
    row = np.arange(len(levels))
    before, after = above[row, first], above[row, first + 1]
    share = before / np.where(before - after == 0.0, 1.0, before - after)
    good = (np.abs(inside - outside) >= _LEAST_CONTRAST) & np.isfinite(away[row, first])
    at = (steps[first] + share * (steps[1] - steps[0])) * reach
    return np.where(good, at, 0.0), good


def edge_width(grey: Pixels, points_px: FloatArray, out: FloatArray, reach_px: float) -> float:
    """Return over how many pixels edges are smeared, the middle one of many.

    It is the standard deviation of the blur that would turn a sharp edge into the mean profile,
    times four: nine tenths of the step lie within 3.3 of them.
    """
    at, good = crossings(grey, points_px, out, reach_px)
    centred = points_px[good] + at[good, None] * out[good]
    if len(centred) < 8:
        return float("inf")
    steps, levels = sampled(grey, centred, out[good], np.full(len(centred), reach_px))
    inside = np.median(levels[:, steps <= -0.6], axis=1)[:, None]
    outside = np.median(levels[:, steps >= 0.6], axis=1)[:, None]
    profile = np.median((levels - outside) / (inside - outside), axis=0)
    slope = np.abs(np.gradient(profile, steps * reach_px)).max()
    return float(4.0 / (np.sqrt(2.0 * np.pi) * slope)) if slope > 0.0 else float("inf")


def sampled(
    grey: Pixels, points_px: FloatArray, out: FloatArray, reach_px: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Return steps from -1 to 1 and the levels there, shape (n, m), as shares of the reach."""
    cv = opencv()
    steps = np.linspace(-1.0, 1.0, 49)
    at = points_px[:, None, :] + (steps[:, None] * reach_px[:, None, None]) * out[:, None, :]
    maps = at.astype(np.float32)
    levels = [
        cv.remap(grey, part[..., 0], part[..., 1], cv.INTER_LINEAR, borderMode=cv.BORDER_REPLICATE)
        for part in (maps[i : i + _BLOCK] for i in range(0, len(maps), _BLOCK))
    ]
    return steps, np.concatenate(levels).astype(np.float64)
