"""What is told of real cloth, for tables and pictures alike: design, washing, ends, flaws."""

from nesting.bolt import Bolt
from pieces.lengths import format_both
from pieces.widths import format_width


def cloth_words(bolt: Bolt) -> tuple[tuple[str, str], ...]:
    """Return what is particular about a bolt, each with its name; nothing for plain cloth.

    Examples
    --------
    >>> cloth_words(Bolt(width_mm=1143.0, shrink_along=0.03))
    (('Shrinkage', '3% along, 0% across'),)
    """
    told = []
    if bolt.repeat is not None:
        told.append(("Repeat", repeat_words(bolt)))
    if bolt.shrink_along or bolt.shrink_across:
        shares = f"{100.0 * bolt.shrink_along:.3g}% along, {100.0 * bolt.shrink_across:.3g}% across"
        told.append(("Shrinkage", shares))
    if bolt.end_allowance_mm:
        told.append(("End allowance", format_both(bolt.end_allowance_mm, bolt.units)))
    if bolt.extra_repeat_mm:
        told.append(("To begin on the repeat", format_both(bolt.extra_repeat_mm, bolt.units)))
    if bolt.length_left_mm is not None:
        told.append(("Left of the bolt", format_both(bolt.length_left_mm, bolt.units)))
    if bolt.flaws:
        told.append(("Flaws", str(len(bolt.flaws))))
    return tuple(told)


def repeat_words(bolt: Bolt) -> str:
    """Return the repeat of a bolt in words, or ``"none"``.

    Examples
    --------
    >>> from nesting.repeat import Repeat
    >>> repeat_words(Bolt(width_mm=1143.0, repeat=Repeat(along_mm=101.6, across_mm=50.8)))
    '4 in along, 2 in across, even'
    """
    if bolt.repeat is None:
        return "none"
    ways = (("along", bolt.repeat.along_mm), ("across", bolt.repeat.across_mm))
    told = [f"{format_width(mm, bolt.units)} {way}" for way, mm in ways if mm is not None]
    return ", ".join((*told, "even" if bolt.repeat.even else "uneven"))
