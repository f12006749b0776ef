"""A strip made ready for the kernels: whole units, distinct shapes, poses and no-fit polygons."""

from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
import numpy.typing as npt

from nesting.engine.depth_grids import DepthGrids, depth_grids
from nesting.engine.kernels.bundles import (
    ACROSS,
    ALONG,
    GROUP,
    HIGHEST_Y,
    LOWEST_Y,
    OFFSET,
    POSE_SHAPE,
    SIGN,
    Poses,
)
from nesting.engine.no_fit import IntArray, NoFitTable, no_fit_table, unit_scale
from nesting.engine.poses import (
    Pose,
    distinct_poses,
    item_poses,
    number_of,
    pose_of,
    shape_in_units,
)
from nesting.engine.strip import Axis, PhaseGroup, Strip
from pieces.outline.polygon import FloatArray, area_mm2, bounds_mm


@dataclass(frozen=True)
class PreparedStrip:
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
        For each item, the poses that fit across the strip: of those that make one shape, obey the
        same holds and may lie equally high, only the first.
    quantities
        Copies of each item.
    no_fit
        No-fit polygons of all ordered pairs of shapes.
    groups
        The phase groups, in the strip's unit.
    obstacle_shapes, obstacle_places
        Shape and lower left corner of what lies there from the start, shapes (k,) and (k, 2).
    fixed_reach
        How far the fixed copies reach, units; 0 if there are none.
    known_poses
        For each item, all poses that fit, whatever they have in common.
    """

    scale: float
    width: float
    shapes: tuple[IntArray, ...]
    poses: tuple[tuple[Pose, ...], ...]
    quantities: tuple[int, ...]
    no_fit: NoFitTable
    groups: tuple[PhaseGroup, ...] = ()
    obstacle_shapes: IntArray = field(default_factory=lambda: np.empty(0, np.int64))
    obstacle_places: FloatArray = field(default_factory=lambda: np.empty((0, 2)))
    fixed_reach: float = 0.0
    known_poses: tuple[tuple[Pose, ...], ...] = ()

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
    def pose_holds(self) -> FloatArray:
        """Group, offset in units and sign of each pose along and across, shape (p, 2, 3).

        The offset is that of the lower left corner of the pose's box. The group is -1 for none.
        """
        rows = np.full((len(self.pose_rows), 2, 3), -1.0)
        for row, pose in zip(rows, (pose for poses in self.poses for pose in poses), strict=True):
            for hold in pose.holds:
                axis = ALONG if self.groups[hold.group].axis is Axis.ALONG else ACROSS
                row[axis, GROUP], row[axis, SIGN] = hold.group, hold.sign
                row[axis, OFFSET] = (hold.offset - pose.corner[axis]) * self.scale
        return rows

    @cached_property
    def pose_tables(self) -> Poses:
        """What filling needs to know of the poses."""
        return Poses(
            starts=self.pose_starts,
            rows=self.pose_rows,
            holds=self.pose_holds,
            extents=self.sizes[:, 0].copy(),
        )

    @cached_property
    def every(self) -> FloatArray:
        """Length of the repeat of each phase group, units, shape (g,)."""
        return np.array([group.every for group in self.groups]) * self.scale

    @cached_property
    def first_phases(self) -> FloatArray:
        """The first phase each group allows, units, NaN where any will do, shape (g,)."""
        allowed = [np.nan if g.phases is None else g.phases[0] * self.scale for g in self.groups]
        return np.array(allowed, dtype=np.float64)

    @cached_property
    def free_groups(self) -> npt.NDArray[np.bool_]:
        """Tell for each phase group whether any phase will do, shape (g,)."""
        return np.array([group.phases is None for group in self.groups], dtype=bool)

    def random_phases(self, rng: np.random.Generator) -> FloatArray:
        """Return an allowed phase for each group at random, NaN where any will do."""
        drawn = [np.nan if g.phases is None else rng.choice(g.phases) for g in self.groups]
        return np.array(drawn, dtype=np.float64) * self.scale

    def combs(self, phases: FloatArray) -> FloatArray:
        """Return first place and repeat along, then across, of each pose at ``phases``, (p, 4).

        The repeat is 0 where a pose is held by nothing.
        """
        combs = np.zeros((len(self.pose_holds), 4))
        for axis in (ALONG, ACROSS):
            group, offset, sign = self.pose_holds[:, axis].T
            held = group >= 0
            number = group[held].astype(np.int64)
            every = self.every[number]
            first = (sign[held] * phases[number] - offset[held]) % every
            combs[held, 2 * axis : 2 * axis + 2] = np.column_stack((first, every))
        return combs

    def poses_lying(self, shapes: IntArray, places: FloatArray, phases: FloatArray) -> IntArray:
        """Return the row of the pose in which each copy lies, shape (n,).

        Of several poses that make one shape, the one whose band and holds the place obeys best.
        """
        combs = self.combs(phases)
        found = np.empty(len(shapes), dtype=np.int64)
        for copy, item in enumerate(self.copies):
            low, high = self.pose_starts[item : item + 2]
            rows = low + np.flatnonzero(self.pose_rows[low:high, POSE_SHAPE] == shapes[copy])
            off = [0.0] if len(rows) == 1 else self._off(places[copy], rows, combs)
            found[copy] = rows[int(np.argmin(off))]
        return found

    def _off(self, at: FloatArray, rows: IntArray, combs: FloatArray) -> list[float]:
        """Return how far a place lies off the band and the combs of each pose, units."""
        beyond = [_off_range(at[1], self.pose_rows[row, LOWEST_Y : HIGHEST_Y + 1]) for row in rows]
        return [off + _off_combs(at, combs[row]) for row, off in zip(rows, beyond, strict=True)]

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
    def _ranges(self) -> dict[tuple[int, int], FloatArray]:
        """Lowest and highest y, shape (k, 2), for an item and a shape: a row for each band."""
        found: dict[tuple[int, int], list[tuple[float, float]]] = {}
        for item, poses in enumerate(self.poses):
            for pose in poses:
                found.setdefault((item, pose.shape), []).append((pose.low_y, pose.high_y))
        return {key: np.array(ranges) for key, ranges in found.items()}

    def heights_of(self, shapes: IntArray, places: FloatArray) -> FloatArray:
        """Return lowest and highest y of each copy lying so, in the band nearest to it, (n, 2)."""
        heights = np.empty((len(shapes), 2))
        for copy, key in enumerate(zip(self.copies.tolist(), shapes.tolist(), strict=True)):
            ranges, y = self._ranges[key], places[copy, 1]
            nearest = 0
            if len(ranges) > 1:
                nearest = int(np.argmin([_off_range(y, limits) for limits in ranges]))
            heights[copy] = ranges[nearest]
        return heights

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
        to_lay = [poses for poses, count in zip(self.poses, self.quantities, strict=True) if count]
        longest = max(min(float(self.sizes[pose.shape, 0]) for pose in poses) for poses in to_lay)
        return max(self.least_length, longest, self.fixed_reach)

    @cached_property
    def copies(self) -> IntArray:
        """The item number of every copy to lay, in the order of the items, shape (n,)."""
        return np.repeat(np.arange(len(self.quantities)), self.quantities)


def _off_range(y: float, limits: FloatArray) -> float:
    """Return how far ``y`` lies outside of (lowest, highest), units."""
    return float(max(limits[0] - y, y - limits[1], 0.0))


def _off_combs(at: FloatArray, combs: FloatArray) -> float:
    """Return how far a place lies off the combs of a pose, units."""
    off = 0.0
    for axis in (ALONG, ACROSS):
        first, every = combs[2 * axis : 2 * axis + 2]
        if every > 0.0:
            beyond = float((at[axis] - first) % every)
            off += min(beyond, every - beyond)
    return off


def prepare(strip: Strip) -> PreparedStrip:
    """Return ``strip`` in whole units with all its no-fit polygons.

    A gap is kept by growing every outline by half of it, and the strip by as much at each edge.

    Raises
    ------
    DoesNotFitError
        If an item is wider than the strip in every pose it may take.
    """
    width = strip.width + strip.gap
    outlines = (*(item.outline for item in strip.items), *strip.regions)
    scale = unit_scale(max(width, *(_largest_extent(outline, strip.gap) for outline in outlines)))
    shapes: dict[bytes, IntArray] = {}
    known = tuple(item_poses(item, strip, scale, shapes) for item in strip.items)
    quantities = [item.quantity for item in strip.items]
    numbers, places = [], []
    names = [item.name for item in strip.items]
    for placement in strip.fixed:
        item = names.index(placement.item)
        quantities[item] -= 1
        pose = pose_of(known[item], placement)
        numbers.append(pose.shape)
        places.append((np.array([placement.x, placement.y]) + pose.corner) * scale)
    reach = [at[0] + _shape_length(shapes, n) for n, at in zip(numbers, places, strict=True)]
    for region in strip.regions:
        shape = shape_in_units(region, 0.0, False, scale, margin=strip.gap / 2)
        numbers.append(number_of(shape, shapes))
        places.append(region.min(axis=0) * scale)
    distinct = tuple(shapes.values())
    return PreparedStrip(
        scale=scale,
        width=width * scale,
        shapes=distinct,
        poses=tuple(distinct_poses(poses) for poses in known),
        quantities=tuple(quantities),
        no_fit=no_fit_table(distinct),
        groups=strip.groups,
        obstacle_shapes=np.array(numbers, dtype=np.int64),
        obstacle_places=np.array(places, dtype=np.float64).reshape(-1, 2),
        fixed_reach=max(reach, default=0.0),
        known_poses=known,
    )


def _shape_length(shapes: dict[bytes, IntArray], number: int) -> float:
    return float(list(shapes.values())[number][:, 0].max())


def _largest_extent(outline: FloatArray, gap: float) -> float:
    """Return at least how far an outline with half the gap around it reaches, however turned."""
    low_x, low_y, high_x, high_y = bounds_mm(outline)
    return float(np.hypot(high_x - low_x + gap, high_y - low_y + gap))
