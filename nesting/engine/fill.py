"""Laying a strip in a given order by bottom-left fill."""

from dataclasses import dataclass

import numpy as np

from nesting.engine.kernels.bundles import POSE_SHAPE, FillOrder, Groups, LaidSoFar
from nesting.engine.kernels.fill import fill_in_order
from nesting.engine.no_fit import IntArray
from nesting.engine.prepared import PreparedStrip
from pieces.outline.polygon import FloatArray


@dataclass(frozen=True, eq=False)
class Order:
    """An order in which to lay the copies, and which pose of an item is preferred.

    Parameters
    ----------
    items
        Item number of each copy in turn, shape (n,).
    upwards
        1 where a copy's place is sought from below, -1 from above, shape (n,).
    by_right_edge
        True to take the pose whose right edge is furthest left, False its left edge.
    phases
        Phase of each phase group, NaN to leave it to the first copy laid, shape (g,).
    """

    items: IntArray
    upwards: FloatArray
    by_right_edge: bool
    phases: FloatArray


@dataclass(frozen=True, eq=False)
class Fill:
    """A strip laid in one order, in units.

    Parameters
    ----------
    order
        The order it was laid in.
    poses
        Row number in :attr:`PreparedStrip.pose_rows` of each copy, shape (n,).
    places
        Lower left corner of each copy's box, shape (n, 2).
    phases
        Phase of each phase group, shape (g,).
    length
        Length used; infinite if the repeats left some copy no place.
    mean_reach
        Mean over the cloth in pieces of how far along the strip it lies: of two fills of one
        length, the one with less leaves more free cloth at its end.
    """

    order: Order
    poses: IntArray
    places: FloatArray
    phases: FloatArray
    length: float
    mean_reach: float

    @property
    def score(self) -> float:
        """What the order search makes smaller: mean reach, and the length beside it."""
        return self.mean_reach + 0.3 * self.length

    def is_better_than(self, other: "Fill") -> bool:
        """Tell whether this fill is shorter, or as short and leaves more room at its end."""
        return (self.length, self.mean_reach) < (other.length, other.mean_reach)


def fill(prepared: PreparedStrip, order: Order) -> Fill:
    """Lay every copy in ``order``, each at the leftmost, then lowest or highest, free place."""
    groups = Groups(every=prepared.every, phases=order.phases.copy())
    obstacles = LaidSoFar(
        copies=len(prepared.obstacle_shapes),
        shapes=prepared.obstacle_shapes,
        places=prepared.obstacle_places,
    )
    poses, places = fill_in_order(
        FillOrder(items=order.items, upwards=order.upwards),
        prepared.pose_tables,
        groups,
        obstacles,
        prepared.no_fit.arrays(),
        order.by_right_edge,
    )
    phases = np.where(np.isnan(groups.phases), 0.0, groups.phases)
    if (poses < 0).any():
        return Fill(order, poses, places, phases, np.inf, np.inf)
    shapes = prepared.pose_rows[poses, POSE_SHAPE].astype(np.int64)
    areas = prepared.areas[shapes]
    middles = places[:, 0] + prepared.sizes[shapes, 0] / 2
    mean_reach = float((areas * middles).sum() / areas.sum())
    length = float((places[:, 0] + prepared.sizes[shapes, 0]).max())
    return Fill(order, poses, places, phases, length, mean_reach)
