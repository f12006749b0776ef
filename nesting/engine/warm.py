"""Compiling the kernels before the clock of a search starts."""

import numpy as np

from nesting.engine.compact import compacted
from nesting.engine.explore import Explorer, explore
from nesting.engine.fill import fill
from nesting.engine.laid import laid_by
from nesting.engine.orders import sensible_orders
from nesting.engine.prepared import prepare
from nesting.engine.strip import Axis, PhaseGroup, PhaseHold, Strip, StripItem


def warm_up(*, separation: bool = True) -> None:
    """Call the kernels once on a tiny strip, so that each is compiled or loaded from disk.

    ``separation`` tells whether the search will go on beyond filling.

    Compiling takes several seconds, once; :func:`nesting.kernels.jit.kernels_are_ready` tells
    beforehand whether it is due.
    """
    hook = np.array([(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (1.0, 1.0), (0.0, 2.0)])
    both = {(0.0, False): (PhaseHold(0, 0.0), PhaseHold(1, 0.0))}
    item = StripItem(name="hook", outline=hook, quantity=3, turns_deg=(0.0, 180.0), holds=both)
    groups = PhaseGroup(Axis.ALONG, 2.0), PhaseGroup(Axis.ACROSS, 1.0)
    prepared = prepare(Strip(width=4.5, items=(item,), groups=groups, regions=(hook + 4.0,)))
    filled = fill(prepared, sensible_orders(prepared)[0])
    if separation:
        start = laid_by(prepared, filled)
        explore(prepared, Explorer(start), seed=(0,), moves=1, seconds=None)
        compacted(prepared, start)
