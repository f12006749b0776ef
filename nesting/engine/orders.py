"""Orders in which to lay the pieces: a few sensible ones, and small changes to one."""

import numpy as np

from nesting.engine.fill import Order
from nesting.engine.prepared import Prepared


def sensible_orders(prepared: Prepared) -> tuple[Order, ...]:
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
        Order(copies[np.argsort(-measure[copies], kind="stable")], by_right_edge)
        for measure in measures
        for by_right_edge in (False, True)
    )


def changed(order: Order, rng: np.random.Generator) -> Order:
    """Return ``order`` with two copies of different items swapped or one moved elsewhere."""
    items = order.items.copy()
    here, there = rng.integers(len(items), size=2)
    if rng.random() < 0.5:
        unlike = np.flatnonzero(items != items[here])
        if len(unlike):
            there = rng.choice(unlike)
        items[here], items[there] = items[there], items[here]
    else:
        items = np.insert(np.delete(items, here), there, items[here])
    return Order(items, order.by_right_edge != (rng.random() < 0.1))


def shuffled(prepared: Prepared, rng: np.random.Generator) -> Order:
    """Return the copies in a random order."""
    return Order(rng.permutation(prepared.copies), bool(rng.random() < 0.5))


def kicked(order: Order, rng: np.random.Generator) -> Order:
    """Return ``order`` after a handful of changes: near it, but out of its rut."""
    for _ in range(int(rng.integers(3, 9))):
        order = changed(order, rng)
    return order
