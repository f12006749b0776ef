"""Tolerances that several kernels share, all in units.

A unit is at most 2**-28 of the width of the strip or of its largest outline, whichever is more (see
:func:`nesting.engine.no_fit.unit_scale`): on cloth 1.5 m wide, a touch is less than 0.0004 mm.
"""

LATTICE = 64.0
"""Places that filling finds are snapped to multiples of this, so that pieces meet exactly."""

TOUCH = 64.0
"""An overlap no deeper than this counts as touching. It pays for the snap to the lattice."""

NEARLY_TOUCHING = 8.0 * TOUCH
"""Nearer than this to an edge, the direction away from it is taken from the edge itself."""

ROUNDING = 1e-3
"""A place that lies off a comb, or off the end of a range, by no more than this counts as on it."""
