"""A strip with every copy laid, in units: what fill, separation and compaction hand on."""

from dataclasses import dataclass

import numpy as np

from nesting.engine.fill import Fill
from nesting.engine.kernels.bundles import POSE_SHAPE
from nesting.engine.no_fit import IntArray
from nesting.engine.poses import pose_of
from nesting.engine.prepared import PreparedStrip
from nesting.engine.strip import Axis, Strip, StripPlacement, nearest_phase
from nesting.errors import StripError
from pieces.outline.polygon import FloatArray


@dataclass(frozen=True, eq=False)
class Layout:
    """Where every copy lies, in the order of :attr:`PreparedStrip.copies`.

    Parameters
    ----------
    shapes
        Number of each copy's shape, shape (n,).
    places
        Lower left corner of each copy's box, shape (n, 2).
    phases
        Phase of each phase group, shape (g,).
    length
        Length of strip used.
    """

    shapes: IntArray
    places: FloatArray
    phases: FloatArray
    length: float


def layout_of(
    prepared: PreparedStrip, shapes: IntArray, places: FloatArray, phases: FloatArray
) -> Layout:
    """Return the copies laid so, with the length they and the fixed ones use."""
    length = float((places[:, 0] + prepared.sizes[shapes, 0]).max())
    return Layout(shapes, places, phases, max(length, prepared.fixed_reach))


def layout_of_fill(prepared: PreparedStrip, filled: Fill) -> Layout:
    """Return what a fill laid, brought into the order of the copies."""
    by_item = np.argsort(filled.order.items, kind="stable")
    shapes = prepared.pose_rows[filled.poses[by_item], POSE_SHAPE].astype(np.int64)
    return layout_of(prepared, shapes, filled.places[by_item], filled.phases)


def placements(prepared: PreparedStrip, strip: Strip, layout: Layout) -> tuple[StripPlacement, ...]:
    """Return where each copy lies in the strip's own unit, in the order of the items."""
    rows = prepared.poses_lying(layout.shapes, layout.places, layout.phases)
    poses = [pose for of_item in prepared.poses for pose in of_item]
    found = {(fixed.item, fixed.copy): fixed for fixed in strip.fixed}
    copy = 0
    for item in strip.items:
        for number in range(item.quantity):
            if (item.name, number) in found:
                continue
            pose = poses[rows[copy]]
            x, y = layout.places[copy] / prepared.scale - np.array(pose.corner)
            found[item.name, number] = StripPlacement(
                item.name, number, pose.turn_deg, pose.flipped, float(x), float(y)
            )
            copy += 1
    return tuple(found[item.name, n] for item in strip.items for n in range(item.quantity))


def layout_from(prepared: PreparedStrip, strip: Strip, given: tuple[StripPlacement, ...]) -> Layout:
    """Return the layout that placements describe; the reverse of :func:`placements`.

    Phases are those of the first copy that each group holds.

    Raises
    ------
    StripError
        If a copy is not placed, or lies in a pose it may not take.
    """
    where = {(placement.item, placement.copy): placement for placement in given}
    fixed = {(placement.item, placement.copy) for placement in strip.fixed}
    shapes, places = [], []
    phases = np.full(len(prepared.groups), np.nan)
    for number, item in enumerate(strip.items):
        for copy in range(item.quantity):
            if (item.name, copy) in fixed:
                continue
            if (item.name, copy) not in where:
                raise StripError(f'the start says nothing of copy {copy} of "{item.name}"')
            placement = where[item.name, copy]
            pose = pose_of(prepared.known_poses[number], placement)
            at = np.array([placement.x, placement.y])
            shapes.append(pose.shape)
            places.append((at + pose.corner) * prepared.scale)
            for hold in pose.holds:
                group = prepared.groups[hold.group]
                if np.isnan(phases[hold.group]):
                    value = at[0 if group.axis is Axis.ALONG else 1] + hold.offset
                    phases[hold.group] = nearest_phase(group, hold.sign * value) * prepared.scale
    settled = np.where(np.isnan(phases), 0.0, phases)
    return layout_of(prepared, np.array(shapes, dtype=np.int64), np.array(places), settled)
