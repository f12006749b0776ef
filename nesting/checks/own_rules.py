"""The judge's own rules of the cloth, written anew from the words of the trade.

Nothing here is taken from the code that lays: bolt, rules and cut list are read as data alone, so
that a rule the maker has wrong is not wrong here as well. Sources, each beside what it says:

- *Napped Fabrics*, Guideline 4.120, Sewing & Craft Alliance: with nap the tops of all pieces point
  one way; without, a piece may be turned top to bottom.
- *Successful Sewing*, lesson 8, Goodheart-Willcox: a design that is no mirror image of itself is
  laid as napped cloth is; in two layers one placement cuts a pair.
- *It's Fun to Sew a Cotton School Dress*, 4-H: both ends of the arrow are equally far from the
  selvage, so a grainline does not lean.
- *Cutting*, Sewing & Craft Alliance: what is drawn as a half lies on a fold along the cloth and
  comes out as one piece.
- Usable width is the width less both selvages (silverbobbin.com; katieskitchenblog.com).
- AATCC TM135: shrinkage is (before - after) / before, along and across each by itself.
- Bias is at 45 degrees to the warp, and a piece turned over has the other diagonal (common
  practice). A shop cuts in steps and rounds up (akindcloth.co.uk).
"""

import math

from nesting.cloth.bolt import Bolt
from nesting.cloth.repeat import Axis
from nesting.cloth.spread import Spread, Stretch
from nesting.marker.cut_list import CutItem
from nesting.marker.placement import Placement
from pieces.grainline import Grain

_TOP_DEG = {Grain.LENGTHWISE: 0.0, Grain.CROSSWISE: 90.0, Grain.BIAS: 45.0, Grain.FREE: 0.0}
"""Where the top of a piece points on cloth with nap, anticlockwise from the warp."""
_AGAIN_DEG = {Grain.LENGTHWISE: 180.0, Grain.CROSSWISE: 180.0, Grain.BIAS: 90.0, Grain.FREE: 90.0}
"""After how many degrees a piece lies on its grain again."""
FOLD_ALONG = (Spread.LENGTHWISE, Spread.DOUBLE)
"""Two layers with a fold along the cloth: the table is half as wide."""
SECOND_HALF = (Spread.CROSSWISE, Spread.TURNED)
"""Two layers, the second from the second half of the length: the table is half as long."""
_ROUNDED_MM = 1e-6


def keeps_one_direction(bolt: Bolt) -> bool:
    """Tell whether cloth looks different held up or down: pile, or a design without a mirror."""
    return bolt.nap or (bolt.repeat is not None and not bolt.repeat.even)


def top_deg(grain: Grain) -> float:
    """Return where the top of a piece points that is drawn side up on napped cloth, degrees."""
    return _TOP_DEG[grain]


def off_top_deg(points_deg: float, grain: Grain, *, turned_over: bool) -> float:
    """Return by how much a piece misses the one direction of napped cloth, 0 to 180 degrees.

    A piece turned over is the mirror image, so the other way round the warp is right for it.
    """
    as_drawn_deg = -points_deg if turned_over else points_deg
    return abs((as_drawn_deg - _TOP_DEG[grain] + 180.0) % 360.0 - 180.0)


def off_grain_deg(points_deg: float, grain: Grain, *, turned_over: bool) -> float:
    """Return by how much an arrow leans from the threads it should run along, whichever way up."""
    as_drawn_deg = -points_deg if turned_over else points_deg
    again = _AGAIN_DEG[grain]
    return abs((as_drawn_deg - _TOP_DEG[grain] + again / 2.0) % again - again / 2.0)


def left_by_washing_mm(length_mm: float, share: float) -> float:
    """Return a length less the share that washing takes, mm."""
    return length_mm - share * length_mm


def cloth_width_mm(bolt: Bolt) -> float:
    """Return the width between the selvages, once washed, mm."""
    between_mm = bolt.width_mm - bolt.selvage_mm - bolt.selvage_mm
    return left_by_washing_mm(between_mm, bolt.shrink_across)


def table_width_mm(bolt: Bolt, spread: Spread) -> float:
    """Return how wide the cloth lies on the table, mm: half of it where a fold runs along."""
    width_mm = cloth_width_mm(bolt)
    return width_mm / 2.0 if spread in FOLD_ALONG else width_mm


def table_length_mm(stretch: Stretch) -> float:
    """Return how much of the table a stretch covers, mm."""
    return stretch.length_mm / 2.0 if stretch.spread in SECOND_HALF else stretch.length_mm


def washed_repeat_mm(bolt: Bolt, axis: Axis) -> float | None:
    """Return the repeat of the washed cloth along or across, mm, or None."""
    if bolt.repeat is None:
        return None
    if axis is Axis.ALONG:
        raw_mm, share = bolt.repeat.along_mm, bolt.shrink_along
    else:
        raw_mm, share = bolt.repeat.across_mm, bolt.shrink_across
    return None if raw_mm is None else left_by_washing_mm(raw_mm, share)


def off_repeat_mm(apart_mm: float, repeat_mm: float) -> float:
    """Return how far two places are from lying whole repeats apart, 0 to half a repeat, mm."""
    return abs(math.remainder(apart_mm, repeat_mm))


def begins_on_mm(bolt: Bolt) -> float:
    """Return the repeat that is bought so that the lay can begin on the design, mm, or 0."""
    along_mm = None if bolt.repeat is None else bolt.repeat.along_mm
    return 0.0 if bolt.cut_on_repeat or along_mm is None else along_mm


def taken_mm(bolt: Bolt, marker_mm: float) -> float:
    """Return the length of unwashed cloth of a marker, mm.

    So much that, once washed, the marker and what is kept at the end are left of it; and beside
    it the repeat to begin on.
    """
    return (marker_mm + bolt.end_allowance_mm) / (1.0 - bolt.shrink_along) + begins_on_mm(bolt)


def asked_for_mm(bolt: Bolt, length_mm: float) -> float | None:
    """Return what to ask for at the counter, mm, or None if the steps are too fine to count.

    The next step of the shop, or all that is left where the last step reaches beyond it.
    """
    step_mm, left_mm = bolt.shop_step_mm, bolt.length_left_mm
    if step_mm is None:
        return length_mm
    if not length_mm / step_mm < 1e9:
        return None
    steps = math.floor(length_mm / step_mm)
    while length_mm - steps * step_mm > _ROUNDED_MM:
        steps += 1
    whole_mm = steps * step_mm
    if left_mm is not None and length_mm <= left_mm < whole_mm:
        return left_mm
    return whole_mm


def is_half_on_fold(item: CutItem, spread: Spread) -> bool:
    """Tell whether a piece is laid as a half with its fold edge on a fold of the cloth."""
    return item.half is not None and spread in FOLD_ALONG


def comes_out(item: CutItem, placement: Placement, spread: Spread) -> tuple[int, int]:
    """Return how many pieces, as drawn and turned over, are cut where one outline lies."""
    if is_half_on_fold(item, spread):
        return 1, 0
    if spread in FOLD_ALONG or spread in SECOND_HALF:
        return 1, 1
    return int(not placement.flipped), int(placement.flipped)
