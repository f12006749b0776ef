"""Sentences and figures that more than one part of a picture says."""

from nesting.cloth.bolt import Bolt
from nesting.cloth.spread import HALVED_ACROSS, SPREAD_WORDS, Spread
from nesting.languages import ENGLISH, Words, marked
from nesting.marker.marker import Marker
from pieces.measures.format import format_both, format_metric
from pieces.measures.widths import format_width_both

SPREAD_CAPTIONS = {
    Spread.OPEN: marked("open: single layer, right side up"),
    Spread.LENGTHWISE: marked("folded lengthwise, right sides together: two layers"),
    Spread.CROSSWISE: marked(
        "folded crosswise, right sides together, cut ends at the left: two layers"
    ),
    Spread.TURNED: marked(
        "cut across, one half turned end for end, right sides together: two layers"
    ),
    Spread.DOUBLE: marked("both selvages folded to the middle, right sides together: two layers"),
}
SHORT_WORDS = SPREAD_WORDS | {Spread.OPEN: marked("open")}
OPEN_HERE = {
    Spread.LENGTHWISE: marked("open the cloth here: single layer, right side up"),
    Spread.DOUBLE: marked("open the cloth here: single layer, right side up"),
    Spread.CROSSWISE: marked("cut the cloth here; the rest lies open: single layer, right side up"),
    Spread.TURNED: marked("cut the cloth here; the rest lies open: single layer, right side up"),
}
FOLD_HERE = marked("fold the cloth from here on: {how}")
HALVE_HERE = {
    Spread.CROSSWISE: marked("fold here: this half goes under the other"),
    Spread.TURNED: marked("cut here; turn this half end for end, and lay it under the other"),
}
WITH_NAP = marked("with nap: all tops this way")
WITHOUT_NAP = marked("without nap: tops may point either way")
UNEVEN = marked("uneven repeat: all tops this way")
AWAY = marked("top away from the cut end")
UPWARDS = marked("top to the upper edge")
TOWARDS = marked("top to the cut end")
DOWNWARDS = marked("top to the lower edge")
REMINDER = marked("Measure your own bolt; lay out everything before cutting.")


def selection_words(marker: Marker, words: Words = ENGLISH) -> str:
    """Return views and sizes, such as ``"view A, size M"`` or ``"2 x view A, size M"``."""
    return " + ".join(
        ("" if chosen.garments == 1 else f"{chosen.garments} \N{MULTIPLICATION SIGN} ")
        + words.say("view {view}, size {size}", view=chosen.view, size=chosen.size)
        for chosen in marker.selections
    )


def spread_caption(bolt: Bolt, spread: Spread, words: Words = ENGLISH) -> str:
    """Return how a first stretch is spread, and what washing and a plaid ask of it."""
    told = words.say(SPREAD_CAPTIONS[spread])
    if spread in HALVED_ACROSS and bolt.repeat is not None and bolt.repeat.across_mm is not None:
        told += ", " + words.say("the fold along the middle of a stripe")
    if bolt.shrink_along or bolt.shrink_across:
        told += "; " + words.say("washed first")
    return told


def direction_words(bolt: Bolt, words: Words = ENGLISH) -> str:
    """Return which way the tops of the pieces may point, and why."""
    if bolt.nap:
        return words.say(WITH_NAP)
    return words.say(UNEVEN if bolt.has_direction else WITHOUT_NAP)


def spread_words(marker: Marker, words: Words = ENGLISH) -> str:
    """Return how the cloth is spread, in a few words, one stretch after another.

    A lay on which nothing could be cut through both layers is open, whatever was asked for.
    """
    if [stretch.spread for stretch in marker.stretches] == [Spread.OPEN]:
        return words.say("open, single layer")
    told = [words.say(SHORT_WORDS[stretch.spread]) for stretch in marker.stretches]
    return words.say(", then ").join(told)


def ask_words(marker: Marker, shop_mm: float, words: Words = ENGLISH) -> str:
    """Return what to say at the counter."""
    units = marker.bolt.units
    return words.say(
        "Ask for {length} of cloth {width} wide",
        length=words.figures(format_both(shop_mm, units, up=True)),
        width=words.figures(format_width_both(marker.bolt.width_mm, units)),
    )


def top_words(angle_deg: float, words: Words = ENGLISH) -> str:
    """Return where the top of a piece points whose grainline arrow lies at an angle.

    Examples
    --------
    >>> top_words(0.0), top_words(-180.0), top_words(45.0)
    ('top away from the cut end', 'top to the cut end', 'top at 45 degrees')
    """
    degrees = round(angle_deg % 360.0, 1) % 360.0
    ways = {0.0: AWAY, 90.0: UPWARDS, 180.0: TOWARDS, 270.0: DOWNWARDS}
    if degrees in ways:
        return words.say(ways[degrees])
    return words.say("top at {degrees} degrees", degrees=words.figures(f"{degrees:g}"))


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
