"""The poses of an item: each way it may lie, and how high it may lie there."""

import math
from dataclasses import dataclass

import numpy as np
import shapely

from nesting.engine.no_fit import IntArray, canonical, in_units
from nesting.engine.strip import HeldTo, PhaseHold, Strip, StripItem, StripPlacement
from nesting.errors import DoesNotFitError, StripError
from pieces.outline.polygon import FloatArray, as_outline, bounds_mm
from pieces.outline.transform import place, turn

QUARTER_STEPS = 8
SIMPLIFIED = 0.01
_ROUNDING = 2.0


@dataclass(frozen=True)
class Pose:
    """One way an item may lie: a turn, flipped or not.

    ``shape`` is the number of the distinct shape it makes, ``low_y`` and ``high_y`` the range of
    its lower edge in units, and ``corner`` the lower left corner of its box while the item's
    reference point is at the origin, in the strip's unit. ``holds`` is what phase groups ask of it.
    """

    turn_deg: float
    flipped: bool
    shape: int
    low_y: float
    high_y: float
    corner: tuple[float, float]
    holds: tuple[PhaseHold, ...] = ()


def pose_of(poses: tuple[Pose, ...], placement: StripPlacement) -> Pose:
    """Return the pose of an item in which a placement puts it.

    Raises
    ------
    StripError
        If it is none of them.
    """
    for pose in poses:
        turned = abs((pose.turn_deg - placement.turn_deg + 180.0) % 360.0 - 180.0)
        if pose.flipped == placement.flipped and turned < 1e-9:
            return pose
    raise StripError(
        f'"{placement.item}" may not lie turned by {placement.turn_deg:g} degrees'
        f"{', flipped' if placement.flipped else ''}; that is none of its turns"
    )


def item_poses(
    item: StripItem, strip: Strip, scale: float, shapes: dict[bytes, IntArray]
) -> tuple[Pose, ...]:
    """Return the poses of ``item`` that fit, adding their shapes to ``shapes``."""
    poses: list[Pose] = []
    least_width = float("inf")
    wanted = [(turn_deg, False) for turn_deg in item.turns_deg]
    wanted += [(turn_deg, True) for turn_deg in item.flipped_turns_deg]
    for turn_deg, flipped in wanted:
        shape = shape_in_units(item.outline, turn_deg, flipped, scale, margin=strip.gap / 2)
        height = float(shape[:, 1].max())
        least_width = min(least_width, height)
        ranges = _ranges(item, (turn_deg, flipped), height, strip=strip, scale=scale)
        if not ranges:
            continue
        low_x, low_y, _, _ = bounds_mm(
            place(item.outline, turn_deg=turn_deg, flipped=flipped, x=0.0, y=0.0)
        )
        number, corner = number_of(shape, shapes), (low_x, low_y)
        holds = item.holds.get((turn_deg, flipped), ())
        poses += [Pose(turn_deg, flipped, number, *limits, corner, holds) for limits in ranges]
    if not poses:
        room = f"the strip, which is {strip.width + strip.gap:g} wide"
        if item.bands:
            room += f", within one of {len(item.bands)} bands of it"
        raise DoesNotFitError(
            f'"{item.name}" needs {least_width / scale:g} across {room}; '
            "allow another turn, a wider strip, or divide it by a seam"
        )
    return tuple(poses)


def _ranges(
    item: StripItem, pose: tuple[float, bool], height: float, *, strip: Strip, scale: float
) -> list[tuple[float, float]]:
    """Return lowest and highest y of a shape so high, in each band that it fits into, units."""
    held_to = item.pose_edges.get(pose, item.held_to)
    top = float(np.floor((strip.width + strip.gap) * scale)) - height
    found = []
    for low, high in item.bands or ((0.0, strip.width),):
        lowest = float(np.ceil(low * scale))
        highest = float(np.floor((min(high, strip.width) + strip.gap) * scale)) - height
        if highest < lowest - _ROUNDING:
            continue
        lowest, highest = min(lowest, max(0.0, highest)), max(0.0, highest)
        if held_to is HeldTo.LOW_EDGE:
            highest = 0.0
        elif held_to is HeldTo.HIGH_EDGE:
            lowest = max(0.0, top)
        if lowest <= highest:
            found.append((lowest, highest))
    return found


def distinct_poses(poses: tuple[Pose, ...]) -> tuple[Pose, ...]:
    """Return the poses less those that another one stands for: see :attr:`PreparedStrip.poses`."""
    first: dict[tuple[object, ...], Pose] = {}
    for pose in poses:
        first.setdefault((pose.shape, pose.holds, pose.low_y, pose.high_y), pose)
    return tuple(first.values())


def shape_in_units(
    outline: FloatArray, turn_deg: float, flipped: bool, scale: float, *, margin: float = 0.0
) -> IntArray:
    """Return the outline flipped, turned, grown by a margin and rounded, anticlockwise.

    The corner of its box is at the origin. It is grown as turned, so that its box grows by the
    margin and no more. Quarter turns and flips are done on whole units, so that opposite poses
    mirror exactly.
    """
    quarters, rest_deg = divmod(turn_deg, 90.0)
    upright = offset(turn(outline, -rest_deg if flipped else rest_deg), margin)
    shape = in_units(upright - upright.min(axis=0), scale)
    if flipped:
        shape = shape[::-1] * np.array([-1, 1])
    for _ in range(int(quarters) % 4):
        shape = shape[:, ::-1] * np.array([-1, 1])
    return _without_repeats(shape - shape.min(axis=0))


def offset(outline: FloatArray, distance: float) -> FloatArray:
    """Return ``outline`` grown by at least ``distance`` on all sides, by at most 2.2 % more.

    Corners become arcs of straight steps that lie outside the true arc: the geometry library may
    make a step half as long again as asked, and simplify an outline by 1 %. The box of the outline
    grows by ``distance`` and no more. Holes that growing closes off are filled.
    """
    if distance == 0.0:
        return outline
    widest_step = 1.5 * math.pi / (2 * QUARTER_STEPS)
    outside = distance * (1.0 + SIMPLIFIED) / math.cos(widest_step / 2)
    grown = shapely.Polygon(outline).buffer(outside, quad_segs=QUARTER_STEPS)
    low, high = outline.min(axis=0) - distance, outline.max(axis=0) + distance
    grown = shapely.clip_by_rect(grown, *low, *high)
    return as_outline(shapely.get_coordinates(grown.exterior)[:-1])


def _without_repeats(shape: IntArray) -> IntArray:
    """Drop vertices that rounding has made equal to, or collinear with, their neighbours."""
    while True:
        into = shape - np.roll(shape, 1, axis=0)
        out = np.roll(shape, -1, axis=0) - shape
        bends = into[:, 0] * out[:, 1] - into[:, 1] * out[:, 0] != 0
        if bends.all():
            return shape
        shape = shape[bends]


def number_of(shape: IntArray, shapes: dict[bytes, IntArray]) -> int:
    """Return the number of a shape among ``shapes``, added if it is not there yet."""
    start = canonical(shape)
    shapes.setdefault(start.tobytes(), start)
    return list(shapes).index(start.tobytes())
