"""Sentences and figures that more than one part of a picture says."""

from nesting.bolt import Bolt
from nesting.marker import Marker
from nesting.spread import HALVED_ACROSS, SPREAD_WORDS, Spread
from pieces.lengths import format_both, format_metric
from pieces.widths import format_width_both

SPREAD_CAPTIONS = {
    Spread.OPEN: "open: single layer, right side up",
    Spread.LENGTHWISE: "folded lengthwise, right sides together: two layers",
    Spread.CROSSWISE: "folded crosswise, right sides together, cut ends at the left: two layers",
    Spread.TURNED: "cut across, one half turned end for end, right sides together: two layers",
    Spread.DOUBLE: "both selvages folded to the middle, right sides together: two layers",
}
SHORT_WORDS = SPREAD_WORDS | {Spread.OPEN: "open"}
OPEN_HERE = {
    Spread.LENGTHWISE: "open the cloth here: single layer, right side up",
    Spread.DOUBLE: "open the cloth here: single layer, right side up",
    Spread.CROSSWISE: "cut the cloth here; the rest lies open: single layer, right side up",
    Spread.TURNED: "cut the cloth here; the rest lies open: single layer, right side up",
}
FOLD_HERE = "fold the cloth from here on: "
HALVE_HERE = {
    Spread.CROSSWISE: "fold here: this half goes under the other",
    Spread.TURNED: "cut here; turn this half end for end, and lay it under the other",
}
WITH_NAP = "with nap: all tops this way"
WITHOUT_NAP = "without nap: tops may point either way"
UNEVEN = "uneven repeat: all tops this way"
REMINDER = "Measure your own bolt; lay out everything before cutting."


def selection_words(marker: Marker) -> str:
    """Return views and sizes, such as ``"view A, size M"`` or ``"2 x view A, size M"``."""
    return " + ".join(
        ("" if chosen.garments == 1 else f"{chosen.garments} \N{MULTIPLICATION SIGN} ")
        + f"view {chosen.view}, size {chosen.size}"
        for chosen in marker.selections
    )


def spread_caption(bolt: Bolt, spread: Spread) -> str:
    """Return how a first stretch is spread, and what washing and a plaid ask of it."""
    words = SPREAD_CAPTIONS[spread]
    if spread in HALVED_ACROSS and bolt.repeat is not None and bolt.repeat.across_mm is not None:
        words += ", the fold along the middle of a stripe"
    if bolt.shrink_along or bolt.shrink_across:
        words += "; washed first"
    return words


def direction_words(bolt: Bolt) -> str:
    """Return which way the tops of the pieces may point, and why."""
    if bolt.nap:
        return WITH_NAP
    return UNEVEN if bolt.has_direction else WITHOUT_NAP


def spread_words(marker: Marker) -> str:
    """Return how the cloth is spread, in a few words, one stretch after another.

    A lay on which nothing could be cut through both layers is open, whatever was asked for.
    """
    words = [SHORT_WORDS[stretch.spread] for stretch in marker.stretches]
    return "open, single layer" if words == ["open"] else ", then ".join(words)


def nap_words(bolt: Bolt) -> str:
    """Return ``"with nap"`` or ``"without nap"``."""
    return "with nap" if bolt.nap else "without nap"


def ask_words(marker: Marker, shop_mm: float) -> str:
    """Return what to say at the counter."""
    units = marker.bolt.units
    return (
        f"Ask for {format_both(shop_mm, units)} of cloth "
        f"{format_width_both(marker.bolt.width_mm, units)} wide"
    )


def top_words(angle_deg: float) -> str:
    """Return where the top of a piece points whose grainline arrow lies at an angle.

    Examples
    --------
    >>> top_words(0.0), top_words(-180.0), top_words(45.0)
    ('top away from the cut end', 'top to the cut end', 'top at 45 degrees')
    """
    ways = {
        0: "top away from the cut end",
        90: "top to the upper edge",
        180: "top to the cut end",
        270: "top to the lower edge",
    }
    degrees = round(angle_deg % 360.0, 1) % 360.0
    return ways.get(int(degrees) if degrees.is_integer() else -1, f"top at {degrees:g} degrees")


def metre_mark(length_mm: float) -> str:
    """Return a ruler's metric mark without idle decimals.

    Examples
    --------
    >>> metre_mark(300.0), metre_mark(1000.0), metre_mark(1500.0)
    ('30 cm', '1 m', '1.5 m')
    """
    if length_mm >= 1000.0:
        return f"{round(length_mm / 1000.0, 2):g} m"
    return format_metric(length_mm)
