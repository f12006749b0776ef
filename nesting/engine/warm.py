"""Compiling the kernels before the clock of a search starts."""

import numpy as np

from nesting.engine.fill import fill
from nesting.engine.orders import sensible_orders
from nesting.engine.prepared import prepare
from nesting.engine.strip import Strip, StripItem


def warm_up() -> None:
    """Call every kernel once on a tiny strip, so that each is compiled or loaded from disk.

    Compiling takes several seconds, once; :func:`nesting.kernels.jit.kernels_are_ready` tells
    beforehand whether it is due.
    """
    hook = [(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (1.0, 1.0), (0.0, 2.0)]
    item = StripItem(name="hook", outline=np.array(hook), quantity=3, turns_deg=(0.0, 180.0))
    prepared = prepare(Strip(width=4.5, items=(item,)))
    fill(prepared, sensible_orders(prepared)[0])
