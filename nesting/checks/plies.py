"""Where each layer of cloth on the table comes from: the check's own view of a fold.

Open cloth has x from the cut end of the whole lay and y from the inner edge of its lower selvage.
"""

from dataclasses import dataclass
from typing import assert_never

import numpy as np

from nesting.checks.own_rules import cloth_width_mm
from nesting.cloth.bolt import Bolt
from nesting.cloth.spread import Spread, Stretch
from pieces.outline.polygon import FloatArray


@dataclass(frozen=True)
class Layer:
    """One layer: a point of the table lies on open cloth at ``sign * point + shift``, each axis.

    Parameters
    ----------
    sign
        1 or -1 along, and across.
    shift_mm
        Along, and across.
    """

    sign: tuple[float, float]
    shift_mm: tuple[float, float]

    @property
    def is_mirrored(self) -> bool:
        """Whether a piece cut here is the mirror image of the one on the table."""
        return self.sign[0] * self.sign[1] < 0.0

    def on_cloth(self, points_mm: FloatArray) -> FloatArray:
        """Return points of the table, shape (n, 2), where they lie on open cloth."""
        placed: FloatArray = points_mm * np.array(self.sign) + np.array(self.shift_mm)
        return placed

    def direction_deg(self, lies_deg: float) -> float:
        """Return which way something points on open cloth that points so on the table.

        Examples
        --------
        On a crosswise fold the under layer runs the other way:

        >>> Layer((-1.0, 1.0), (0.0, 0.0)).direction_deg(0.0)
        180.0
        """
        along, across = np.cos(np.radians(lies_deg)), np.sin(np.radians(lies_deg))
        there = np.degrees(np.arctan2(self.sign[1] * across, self.sign[0] * along))
        return float(there % 360.0)


_AS_IT_LIES = (1.0, 1.0)
_SIDE_TO_SIDE = (1.0, -1.0)
_END_FOR_END = (-1.0, 1.0)


def layers_at(stretch: Stretch, bolt: Bolt, height_mm: float) -> tuple[Layer, ...]:
    """Return the layers at a height of the table, first the one that lies as on open cloth.

    Examples
    --------
    On cloth 1000 mm wide and folded lengthwise, 100 mm from the fold is 600 and 400 mm:

    >>> folded = Stretch(Spread.LENGTHWISE, 0.0, 900.0)
    >>> points = np.array([(0.0, 100.0)])
    >>> layers = layers_at(folded, Bolt(width_mm=1000.0), 100.0)
    >>> [layer.on_cloth(points).tolist() for layer in layers]
    [[[0.0, 600.0]], [[0.0, 400.0]]]
    """
    width_mm = cloth_width_mm(bolt)
    half_mm = stretch.length_mm / 2.0
    match stretch.spread:
        case Spread.OPEN | Spread.BEST:
            return (Layer(_AS_IT_LIES, (0.0, 0.0)),)
        case Spread.LENGTHWISE:
            fold = (0.0, width_mm / 2.0)
            return Layer(_AS_IT_LIES, fold), Layer(_SIDE_TO_SIDE, fold)
        case Spread.DOUBLE:
            below = Layer(_AS_IT_LIES, (0.0, width_mm / 4.0))
            nearer = 0.25 if height_mm < width_mm / 4.0 else 1.25
            return below, Layer(_SIDE_TO_SIDE, (0.0, width_mm * nearer))
        case Spread.CROSSWISE:
            fold_mm = stretch.start_mm + half_mm
            return Layer(_AS_IT_LIES, (0.0, 0.0)), Layer(_END_FOR_END, (2.0 * fold_mm, 0.0))
        case Spread.TURNED:
            return Layer(_AS_IT_LIES, (0.0, 0.0)), Layer(_SIDE_TO_SIDE, (half_mm, width_mm))
        case _:
            assert_never(stretch.spread)
