"""A strip made ready for the kernels: whole units, distinct shapes, poses and no-fit polygons."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from nesting.engine.depth_grids import DepthGrids, depth_grids
from nesting.engine.no_fit import (
    IntArray,
    NoFitTable,
    canonical,
    in_units,
    no_fit_table,
    unit_scale,
)
from nesting.engine.strip import HeldTo, Strip, StripItem
from nesting.errors import DoesNotFitError
from pieces.polygon import FloatArray, area_mm2, bounds_mm
from pieces.transform import place, turn


@dataclass(frozen=True)
class Pose:
    """One way an item may lie: a turn, flipped or not.

    ``shape`` is the number of the distinct shape it makes, ``low_y`` and ``high_y`` the range of
    its lower edge in units, and ``corner`` the lower left corner of its box while the item's
    reference point is at the origin, in the strip's unit.
    """

    turn_deg: float
    flipped: bool
    shape: int
    low_y: float
    high_y: float
    corner: tuple[float, float]


@dataclass(frozen=True)
class Prepared:
    """Everything the search needs, computed once.

    Parameters
    ----------
    scale
        Units in one of the strip's own unit of length.
    width
        Width of the strip, units.
    shapes
        The distinct shapes in units, each with its box's lower left corner at the origin.
    poses
        For each item, the poses that fit across the strip.
    quantities
        Copies of each item.
    no_fit
        No-fit polygons of all ordered pairs of shapes.
    """

    scale: float
    width: float
    shapes: tuple[IntArray, ...]
    poses: tuple[tuple[Pose, ...], ...]
    quantities: tuple[int, ...]
    no_fit: NoFitTable

    @cached_property
    def pose_starts(self) -> IntArray:
        """Where each item's poses begin in :attr:`pose_rows`, shape (items + 1,)."""
        return np.concatenate(([0], np.cumsum([len(poses) for poses in self.poses]))).astype(
            np.int64
        )

    @cached_property
    def pose_rows(self) -> FloatArray:
        """Shape number, lowest y, highest y of each pose, shape (p, 3)."""
        rows = [(pose.shape, pose.low_y, pose.high_y) for poses in self.poses for pose in poses]
        return np.array(rows, dtype=np.float64)

    @cached_property
    def sizes(self) -> FloatArray:
        """Extent of each shape along x and y, units, shape (shapes, 2)."""
        return np.array([shape.max(axis=0) for shape in self.shapes], dtype=np.float64)

    @cached_property
    def grids(self) -> DepthGrids:
        """Grids that tell the depth of an overlap of any two shapes."""
        return depth_grids(self.no_fit)

    @cached_property
    def overlap_scales(self) -> FloatArray:
        """What a unit of overlap of two items counts, by their sizes, shape (items, items).

        The geometric mean of the square roots of both areas, over the mean of all copies.
        """
        first = np.array([poses[0].shape for poses in self.poses])
        roots = np.sqrt(self.areas[first])
        mean = float(np.average(roots, weights=self.quantities))
        return np.sqrt(np.outer(roots, roots)) / mean

    @cached_property
    def _heights(self) -> FloatArray:
        table = np.zeros((len(self.poses), len(self.shapes), 2))
        for item, poses in enumerate(self.poses):
            for pose in poses:
                table[item, pose.shape] = pose.low_y, pose.high_y
        return table

    def heights_of(self, shapes: IntArray) -> FloatArray:
        """Return lowest and highest y of each copy lying in ``shapes``, shape (n, 2)."""
        return self._heights[self.copies, shapes]

    @cached_property
    def areas(self) -> FloatArray:
        """Area of each shape, square units, shape (shapes,)."""
        return np.array([area_mm2(shape.astype(np.float64)) for shape in self.shapes])

    @cached_property
    def least_length(self) -> float:
        """Length in units at which the pieces would cover the strip without a gap."""
        first = np.array([poses[0].shape for poses in self.poses])
        return float((self.areas[first] * np.array(self.quantities)).sum() / self.width)

    @cached_property
    def unbeatable_length(self) -> float:
        """Length in units that no packing can beat: that of the area, or of the longest item."""
        longest = max(
            min(float(self.sizes[pose.shape, 0]) for pose in poses) for poses in self.poses
        )
        return max(self.least_length, longest)

    @cached_property
    def copies(self) -> IntArray:
        """The item number of every copy to lay, in the order of the items, shape (n,)."""
        return np.repeat(np.arange(len(self.quantities)), self.quantities)


def prepare(strip: Strip) -> Prepared:
    """Return ``strip`` in whole units with all its no-fit polygons.

    Raises
    ------
    DoesNotFitError
        If an item is wider than the strip in every pose it may take.
    """
    scale = unit_scale(max(strip.width, *(_largest_extent(item) for item in strip.items)))
    shapes: dict[bytes, IntArray] = {}
    poses = tuple(_item_poses(item, strip.width, scale, shapes) for item in strip.items)
    distinct = tuple(shapes.values())
    return Prepared(
        scale=scale,
        width=strip.width * scale,
        shapes=distinct,
        poses=poses,
        quantities=tuple(item.quantity for item in strip.items),
        no_fit=no_fit_table(distinct),
    )


def _item_poses(
    item: StripItem, width: float, scale: float, shapes: dict[bytes, IntArray]
) -> tuple[Pose, ...]:
    """Return the distinct poses of ``item`` that fit, adding their shapes to ``shapes``."""
    width_units = np.floor(width * scale)
    poses: dict[int, Pose] = {}
    least_width = float("inf")
    wanted = [(turn_deg, False) for turn_deg in item.turns_deg]
    wanted += [(turn_deg, True) for turn_deg in item.flipped_turns_deg]
    for turn_deg, flipped in wanted:
        shape = _shape_in_units(item.outline, turn_deg, flipped, scale)
        height = float(shape[:, 1].max())
        least_width = min(least_width, height)
        if height > width_units + _ROUNDING:
            continue
        number = _number_of(shape, shapes)
        if number in poses:
            continue
        low_x, low_y, _, _ = bounds_mm(
            place(item.outline, turn_deg=turn_deg, flipped=flipped, x=0.0, y=0.0)
        )
        high_y = 0.0 if item.held_to is HeldTo.LOW_EDGE else max(0.0, width_units - height)
        poses[number] = Pose(turn_deg, flipped, number, 0.0, high_y, (low_x, low_y))
    if not poses:
        raise DoesNotFitError(
            f'"{item.name}" needs {least_width / scale:g} across the strip, which is {width:g} '
            "wide; allow another turn, a wider strip, or divide it by a seam"
        )
    return tuple(poses.values())


_ROUNDING = 2.0


def _shape_in_units(outline: FloatArray, turn_deg: float, flipped: bool, scale: float) -> IntArray:
    """Return the outline flipped, turned and rounded, box corner at the origin, anticlockwise.

    Quarter turns and flips are done on whole units, so that opposite poses mirror exactly.
    """
    quarters, rest_deg = divmod(turn_deg, 90.0)
    upright = turn(outline, -rest_deg if flipped else rest_deg)
    shape = in_units(upright - upright.min(axis=0), scale)
    if flipped:
        shape = shape[::-1] * np.array([-1, 1])
    for _ in range(int(quarters) % 4):
        shape = shape[:, ::-1] * np.array([-1, 1])
    return _without_repeats(shape - shape.min(axis=0))


def _without_repeats(shape: IntArray) -> IntArray:
    """Drop vertices that rounding has made equal to, or collinear with, their neighbours."""
    while True:
        into = shape - np.roll(shape, 1, axis=0)
        out = np.roll(shape, -1, axis=0) - shape
        bends = into[:, 0] * out[:, 1] - into[:, 1] * out[:, 0] != 0
        if bends.all():
            return shape
        shape = shape[bends]


def _number_of(shape: IntArray, shapes: dict[bytes, IntArray]) -> int:
    start = canonical(shape)
    shapes.setdefault(start.tobytes(), start)
    return list(shapes).index(start.tobytes())


def _largest_extent(item: StripItem) -> float:
    low_x, low_y, high_x, high_y = bounds_mm(item.outline)
    return float(np.hypot(high_x - low_x, high_y - low_y))
