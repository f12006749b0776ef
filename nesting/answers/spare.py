"""What is left of the length asked for: nothing, perhaps, and shops cut crooked."""

from nesting.languages import ENGLISH, Words, marked
from nesting.lay import LayResult
from pieces.measures.format import format_both
from pieces.measures.units import UnitSystem
from pieces.measures.widths import format_width

LITTLE_MM = 50.0
"""Less to spare than this is told with what people do about it (common practice)."""
_MORE = {
    UnitSystem.IMPERIAL: marked("shops cut crooked: 1/8 yd more is common practice"),
    UnitSystem.METRIC: marked("shops cut crooked: 10 cm more is common practice"),
}


def spare_mm(result: LayResult) -> float:
    """Return how much of the length asked for the lay leaves over, end allowance apart, mm."""
    return max(0.0, result.shop_length_mm - result.cut_length_mm)


def spare_words(result: LayResult, words: Words = ENGLISH) -> str:
    """Return what is to spare in the units of the bolt, and what to do if it is next to nothing."""
    bolt, spare = result.marker.bolt, spare_mm(result)
    if spare < LITTLE_MM:
        told = words.figures(format_width(spare, bolt.units))
    else:
        told = words.figures(format_both(spare, bolt.units))
    if spare >= LITTLE_MM or bolt.end_allowance_mm > 0.0:
        return told
    return words.joined(";", told, words.say(_MORE[bolt.units]))
