"""Orders in which to lay the pieces: a few sensible ones, and small changes to one."""

from dataclasses import replace
from typing import TypeVar

import numpy as np

from nesting.engine.fill import Order
from nesting.engine.no_fit import IntArray
from nesting.engine.prepared import PreparedStrip
from pieces.outline.polygon import FloatArray

Values = TypeVar("Values", IntArray, FloatArray)


def sensible_orders(prepared: PreparedStrip) -> tuple[Order, ...]:
    """Return orders from largest to smallest by area, length, width, box and half perimeter.

    Cutters lay the largest pieces first and fit the small ones in between (common practice).
    """
    first = np.array([poses[0].shape for poses in prepared.poses])
    extents = prepared.sizes[first]
    measures = (
        prepared.areas[first],
        extents[:, 0],
        extents[:, 1],
        extents[:, 0] * extents[:, 1],
        extents[:, 0] + extents[:, 1],
    )
    copies = prepared.copies
    return tuple(
        Order(
            copies[np.argsort(-measure[copies], kind="stable")],
            np.ones(len(copies)),
            by_right_edge,
            prepared.first_phases,
        )
        for measure in measures
        for by_right_edge in (False, True)
    )


def changed(order: Order, rng: np.random.Generator) -> Order:
    """Return ``order`` changed a little.

    Two copies of different items are swapped, or one is moved elsewhere, or one seeks its place
    from the other side.
    """
    items, upwards = order.items, order.upwards
    here, there = rng.integers(len(items), size=2)
    kind = rng.random()
    if kind < 0.48:
        unlike = np.flatnonzero(items != items[here])
        there = rng.choice(unlike) if len(unlike) else there
        items = _swapped(items, here, there)
        upwards = _swapped(upwards, here, there)
    elif kind < 0.95:
        items = np.insert(np.delete(items, here), there, items[here])
        upwards = np.insert(np.delete(upwards, here), there, upwards[here])
    else:
        upwards = upwards.copy()
        upwards[here] *= -1.0
    return replace(
        order,
        items=items,
        upwards=upwards,
        by_right_edge=order.by_right_edge != (rng.random() < 0.1),
    )


def _swapped(values: Values, here: int, there: int) -> Values:
    swapped = values.copy()
    swapped[here], swapped[there] = values[there], values[here]
    return swapped


def shuffled(prepared: PreparedStrip, rng: np.random.Generator) -> Order:
    """Return the copies in a random order; one time in four, some seek from above."""
    copies = rng.permutation(prepared.copies)
    share_from_above = 0.2 if rng.random() < 0.25 else 0.0
    upwards = np.where(rng.random(len(copies)) < share_from_above, -1.0, 1.0)
    by_right_edge = bool(rng.random() < 0.5)
    return Order(copies, upwards, by_right_edge, prepared.random_phases(rng))


def changed_often(order: Order, rng: np.random.Generator) -> Order:
    """Return ``order`` after three to eight changes, to get away from it but not far."""
    for _ in range(int(rng.integers(3, 9))):
        order = changed(order, rng)
    return order
