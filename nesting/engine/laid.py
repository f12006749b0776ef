"""A strip with every copy laid, in units: what fill, separation and compaction hand on."""

from dataclasses import dataclass

import numpy as np

from nesting.engine.fill import Fill
from nesting.engine.no_fit import IntArray
from nesting.engine.prepared import Prepared
from nesting.engine.strip import Strip, StripPlacement
from pieces.polygon import FloatArray


@dataclass(frozen=True, eq=False)
class Laid:
    """Where every copy lies, in the order of :attr:`Prepared.copies`.

    Parameters
    ----------
    shapes
        Number of each copy's shape, shape (n,).
    places
        Lower left corner of each copy's box, shape (n, 2).
    length
        Length of strip used.
    """

    shapes: IntArray
    places: FloatArray
    length: float


def laid(prepared: Prepared, shapes: IntArray, places: FloatArray) -> Laid:
    """Return the copies laid so, with the length they use."""
    length = float((places[:, 0] + prepared.sizes[shapes, 0]).max())
    return Laid(shapes, places, length)


def laid_by(prepared: Prepared, filled: Fill) -> Laid:
    """Return what a fill laid, brought into the order of the copies."""
    by_item = np.argsort(filled.order.items, kind="stable")
    shapes = prepared.pose_rows[filled.poses[by_item], 0].astype(np.int64)
    return laid(prepared, shapes, filled.places[by_item])


def placements(prepared: Prepared, strip: Strip, laid: Laid) -> tuple[StripPlacement, ...]:
    """Return where each copy lies in the strip's own unit, in the order of the items."""
    found = []
    copy = 0
    for number, item in enumerate(strip.items):
        pose_of = {pose.shape: pose for pose in prepared.poses[number]}
        for of_item in range(item.quantity):
            pose = pose_of[int(laid.shapes[copy])]
            x, y = laid.places[copy] / prepared.scale - np.array(pose.corner)
            found.append(
                StripPlacement(item.name, of_item, pose.turn_deg, pose.flipped, float(x), float(y))
            )
            copy += 1
    return tuple(found)
