"""Which way a piece may lie on the cloth.

The rules are stated for the direction of the grainline arrow on the cloth, 0 degrees pointing along
the bolt. A piece turned over is the mirror image across the warp, so its arrow takes the mirrored
directions. Nap and an uneven repeat belong to the cloth, one-way to the piece; each asks for one
direction, while an even repeat lets a piece be turned top to bottom.
Sources: with nap, the tops of all pieces point the same way; without, a piece may be turned top to
bottom (Napped Fabrics, Guideline 4.120, Sewing & Craft Alliance). Grain: both ends of the arrow at
equal distance from the selvage, so no tilt (It's Fun to Sew a Cotton School Dress, 4-H).
"""

from dataclasses import dataclass

from nesting.cloth.bolt import Bolt
from nesting.cloth.spread import Spread
from nesting.errors import LayError
from pieces.grainline import Grain

_ONE_DIRECTION = {
    Grain.LENGTHWISE: (0.0,),
    Grain.CROSSWISE: (90.0,),
    Grain.BIAS: (45.0,),
    Grain.FREE: (0.0,),
}
_ANY_DIRECTION = {
    Grain.LENGTHWISE: (0.0, 180.0),
    Grain.CROSSWISE: (90.0, 270.0),
    Grain.BIAS: (45.0, 135.0, 225.0, 315.0),
    Grain.FREE: (0.0, 90.0, 180.0, 270.0),
}
LARGEST_TILT_DEG = 10.0
LARGEST_GAP_MM = 100.0


@dataclass(frozen=True)
class LayRules:
    """How to spread the cloth and what the person allows beyond the usual.

    Parameters
    ----------
    spread
        The way the cloth is spread.
    tilt_deg
        Degrees by which the grainline may lean either way; the rule of the trade is none.
    gap_mm
        Least distance to leave between pieces and around flaws, mm: room for the scissors or for
        chalk. None is left at the edges of the cloth.

    Raises
    ------
    LayError
        If the tilt is negative or above :data:`LARGEST_TILT_DEG`, or the gap is out of range.
    """

    spread: Spread = Spread.OPEN
    tilt_deg: float = 0.0
    gap_mm: float = 0.0

    def __post_init__(self) -> None:
        """Refuse a tilt that no cloth forgives."""
        if not 0.0 <= self.tilt_deg <= LARGEST_TILT_DEG:
            raise LayError(
                f"a tilt of {self.tilt_deg:g} degrees off the grain is out of range; "
                f"it goes from 0 to {LARGEST_TILT_DEG:g}"
            )
        if not 0.0 <= self.gap_mm <= LARGEST_GAP_MM:
            raise LayError(
                f"a gap of {self.gap_mm:g} mm between pieces is out of range; "
                f"it goes from 0 to {LARGEST_GAP_MM:g} mm"
            )


def arrow_directions_deg(
    grain: Grain, bolt: Bolt, *, one_way: bool, turned_over: bool = False
) -> tuple[float, ...]:
    """Return the directions the grainline arrow may take, degrees in [0, 360).

    Parameters
    ----------
    grain
        How the piece lies to the threads.
    bolt
        The cloth; with nap, or an uneven repeat, every piece keeps one direction.
    one_way
        The piece's own flag: one direction on any cloth.
    turned_over
        True for the mirrored copy of a pair.
    """
    directions = (_ONE_DIRECTION if bolt.has_direction or one_way else _ANY_DIRECTION)[grain]
    return tuple((-deg) % 360.0 for deg in directions) if turned_over else directions


def turns_deg(
    grain: Grain, bolt: Bolt, rules: LayRules, *, one_way: bool, turned_over: bool = False
) -> tuple[float, ...]:
    """Return the turns that bring a piece, drawn with its arrow along +x, into those directions.

    A piece turned over is flipped before it is turned, which leaves its arrow pointing along -x.
    """
    arrow_deg = 180.0 if turned_over else 0.0
    allowed = arrow_directions_deg(grain, bolt, one_way=one_way, turned_over=turned_over)
    tilts = (0.0,) if rules.tilt_deg == 0.0 else (0.0, -rules.tilt_deg, rules.tilt_deg)
    turns = ((deg - arrow_deg + tilt) % 360.0 for tilt in tilts for deg in allowed)
    return tuple(dict.fromkeys(turns))
