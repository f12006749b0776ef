"""What the kernels hand one another: named tuples of arrays, and what their columns hold.

Compiled code takes named tuples as it takes plain ones: they cost nothing when it runs. Lengths are
units. In comments, n is the number of copies, s of shapes, p of poses, g of phase groups.
"""

from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from nesting.engine.kernels.jit import FloatArray, IntArray

SmallIntArray = npt.NDArray[np.int32]
NumberArray = npt.NDArray[np.uint32]
Words = npt.NDArray[np.uint64]

ALONG, ACROSS = 0, 1
"""Axes of a strip: x runs along it, y across."""

LEFT, LOW, RIGHT, HIGH = 0, 1, 2, 3
"""Columns of a box, and of the sides of a copy."""


class Place(NamedTuple):
    """Where the lower left corner of a shape's box lies."""

    x: float
    y: float


class Range(NamedTuple):
    """A least and a greatest coordinate."""

    low: float
    high: float


class Comb(NamedTuple):
    """The places first, first + every, ...; with every 0, no comb: all places."""

    first: float
    every: float


class Combs(NamedTuple):
    """On which combs a pose is held along the strip and across it."""

    along: Comb
    across: Comb


class NoFit(NamedTuple):
    """No-fit polygons of all pairs of shapes, by laid shape and new shape."""

    edges: FloatArray  # (e, 4): x and y of the start, then of the end
    starts: IntArray  # (s, s, 2): first edge and one past the last
    boxes: FloatArray  # (s, s, 4): left, low, right, high


class LaidSoFar(NamedTuple):
    """What filling has laid up to now: the first ``copies`` rows; those after are not used yet."""

    copies: int
    shapes: IntArray  # (n,)
    places: FloatArray  # (n, 2)


POSE_SHAPE, LOWEST_Y, HIGHEST_Y, FIRST_X, EVERY_X, FIRST_Y, EVERY_Y = range(7)
"""Columns of a row about a pose; separation alone has the last four, its combs."""

GROUP, OFFSET, SIGN = range(3)
"""Columns of a hold of a pose along an axis; the group is -1 where nothing holds it."""


class Poses(NamedTuple):
    """The poses of all items, for filling."""

    starts: IntArray  # (items + 1,): first pose of each item
    rows: FloatArray  # (p, 3): shape, lowest y, highest y
    holds: FloatArray  # (p, 2, 3): along and across; group, offset, sign
    extents: FloatArray  # (s,): extent of each shape along x


class Groups(NamedTuple):
    """The phase groups."""

    every: FloatArray  # (g,): length of the repeat
    phases: FloatArray  # (g,): NaN while any will do


class FillOrder(NamedTuple):
    """In which order filling lays the copies."""

    items: IntArray  # (n,): item of each copy in turn
    upwards: FloatArray  # (n,): 1 to seek its place from below, -1 from above


START_X, START_Y, EDGE_X, EDGE_Y, REFLEX_AT_START, REFLEX_AT_END, INVERSE_SQUARE = range(7)
"""Columns of an edge: where it starts, where it leads, 1 where the polygon turns right at its ends,
and 1 over its squared length."""

COLUMNS_A_UNIT, COLUMN_AT_0, ROWS_A_UNIT, ROW_AT_0 = range(4)
LAST_COLUMN, LAST_ROW, CELLS_IN_ROW, FIRST_CELL = range(4, 8)
"""Columns of a lookup: how a place gives the column and the row of a grid, and those its cell.

Columns and rows a unit are below zero where the grid is that of the two shapes in opposite order.
"""

LEAST_DEPTH, LIST_START = 0, 1
"""Columns of a cell: the least depth in it, whole units or FREE, and where its list begins."""

FREE = -1
"""The least depth of a cell in which no place overlaps."""


class Grids(NamedTuple):
    """Grids over the no-fit polygons, each with a rim of free cells.

    Cells are read at random for every sample, so they are kept small.
    """

    edges: FloatArray  # (e, 7)
    pairs: IntArray  # (s, s): number of the grid
    boxes: FloatArray  # (s, s, 4): box of the no-fit polygon of fixed and moving shape
    lookups: FloatArray  # (s, s, 8): by moving and fixed shape
    cells: SmallIntArray  # (c + 1, 2)
    lists: SmallIntArray  # edges near each cell, cell by cell


class Raster(NamedTuple):
    """How a grid lies over the box of a no-fit polygon."""

    left: float
    low: float
    columns: float
    rows: float
    columns_a_unit: float
    rows_a_unit: float


NORMAL_X, NORMAL_Y, LEVEL, WEIGHT = range(4)
"""Columns of a line or half-plane: a place is in front of it where its product with the normal is
at least the level. Lines that a copy would touch have a weight as well."""


class BoxIndex(NamedTuple):
    """Which copies have a side in a bucket of an axis or before it, or in it or beyond."""

    marks: Words  # (4, buckets, words): a bit for each copy, by left, low, right and high side
    buckets_a_unit: FloatArray  # (2,): along and across


class Lying(NamedTuple):
    """Where the copies lie."""

    shapes: IntArray  # (n,)
    places: FloatArray  # (n, 2)
    sides: FloatArray  # (n, 4): left, low, right, high of each box


class Problem(NamedTuple):
    """What separation knows of the copies; of the n copies, those from m on lie still."""

    items: IntArray  # (m,): item of each copy that may move
    pose_starts: IntArray  # (items + 1,): first pose of each item
    poses: FloatArray  # (p, 7)
    sizes: FloatArray  # (s, 2): extent of each shape along x and y
    scales: FloatArray  # (n, n): what a unit of overlap of two copies counts


OVERLAPS, RAISED = 0, 1
"""Columns of the counts of a copy: how many others it overlaps, and to how many copies before it
its weight may be above the scale."""


class Pairs(NamedTuple):
    """What separation keeps of each pair of copies."""

    depths: FloatArray  # (n, n): how deep they overlap
    weights: FloatArray  # (n, n): what a unit of depth costs, at least the scale
    counts: IntArray  # (n, 2)


OTHER, CELL = 0, 1
"""Columns of a copy met: its number, and the cell of the grid in which the place lies."""


class Room(NamedTuple):
    """Room to write in while a place is looked at, so that no kernel makes an array."""

    met: NumberArray  # (n, 2): the copies that may be overlapped there
    offsets: FloatArray  # (n, 2): the place as seen from each of them
    lines: FloatArray  # (most lines, 4): on which a copy would touch its neighbours


class Board(NamedTuple):
    """All that separation works on."""

    lying: Lying
    problem: Problem
    pairs: Pairs
    grids: Grids
    room: Room
    box_index: BoxIndex


class CostTables(NamedTuple):
    """What the cost of a place is worked out from: a part of a board."""

    sizes: FloatArray
    shapes: IntArray
    places: FloatArray
    weights: FloatArray
    edges: FloatArray
    lookups: FloatArray
    cells: SmallIntArray
    lists: SmallIntArray
    room: Room
    box_index: BoxIndex


class Choice(NamedTuple):
    """A place and pose that a copy may go to, and what it would cost there."""

    pose: int  # row of the pose, -1 for none
    x: float
    y: float
    cost: float


LEAST, AT_LAST_GAIN, PASSES, STRIKES = range(4)
"""Counters of an attempt: least overlap so far, overlap at the last gain, passes since, strikes."""


class Record(NamedTuple):
    """The layout of least overlap of an attempt, and the counters of how the attempt goes."""

    shapes: IntArray  # (m,)
    places: FloatArray  # (m, 2)
    counters: FloatArray  # (4,)
