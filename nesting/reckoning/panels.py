"""Straight panels of patterned cloth, and the rules of thumb for extra cloth.

A straight panel (a curtain, a skirt width) is cut to a whole number of repeats so that the next
one matches. For garments the rules of thumb disagree, so each is a function of its own: the true
extra comes from laying the pieces on the repeat.
"""

from enum import StrEnum

from nesting.reckoning.limits import (
    need_above_zero,
    need_between,
    need_count,
    need_not_negative,
    whole_times,
)
from pieces.measures.units import MM_PER_INCH, MM_PER_YARD

_DUST_MM = 1e-6


class Plaid(StrEnum):
    """How large a plaid is, for the rules that go by it."""

    SMALL_EVEN = "small, even"
    LARGE = "large"
    UNEVEN = "uneven"


def widths_needed(cover_mm: float, width_mm: float) -> int:
    """Return how many widths of cloth cover a span, rounded up.

    Source: designandmake.net, glossary, *Width*: 120 in needs three widths of 54 in.

    Raises
    ------
    ReckoningError
        If a length is not above zero.

    Examples
    --------
    >>> widths_needed(3048.0, 1371.6)
    3
    """
    need_above_zero("span to cover", cover_mm)
    need_above_zero("width of the cloth", width_mm)
    return whole_times(cover_mm, width_mm)


def matched_cut_mm(cut_mm: float, repeat_mm: float) -> float:
    r"""Return the length of one panel on cloth with a repeat: whole repeats, rounded up.

    .. math:: l = \lceil c / r \rceil \cdot r

    Source: *Figuring Pattern Repeats*, diyideas.com; *Matching Repeats*, patemeadows.com.

    Parameters
    ----------
    cut_mm
        Length of the panel with hems and seams, mm.
    repeat_mm
        Repeat along the cloth, mm.

    Raises
    ------
    ReckoningError
        If a length is not above zero.

    Examples
    --------
    1 m on a repeat of 30 cm takes four repeats:

    >>> matched_cut_mm(1000.0, 300.0)
    1200.0
    """
    need_above_zero("cut length", cut_mm)
    need_above_zero("repeat", repeat_mm)
    return whole_times(cut_mm, repeat_mm) * repeat_mm


def panels_length_mm(
    cut_mm: float, repeat_mm: float, panels: int, *, extra_repeats: float = 1.0
) -> float:
    """Return the cloth for several matched panels.

    Source: *Figuring Pattern Repeats*, diyideas.com; *How to Figure Fabric Repeat*,
    fayefortune.blogspot.com.

    Parameters
    ----------
    cut_mm, repeat_mm
        As for :func:`matched_cut_mm`.
    panels
        How many widths are cut.
    extra_repeats
        Repeats ordered on top, once for the whole order. One, so that the first cut can start
        where the pattern is wanted; 0 if the shop cuts at the right place for you.

    Raises
    ------
    ReckoningError
        If a measure is out of range.
    """
    need_count("number of panels", panels)
    need_not_negative("extra repeats", extra_repeats, "")
    return panels * matched_cut_mm(cut_mm, repeat_mm) + extra_repeats * repeat_mm


def lazy_panels_length_mm(cut_mm: float, repeat_mm: float, panels: int) -> float:
    """Return the cloth if one repeat is simply added to every panel, never less than needed.

    Source: *Curtain Sewing Instructions: Pattern Repeat Calculation*, mgrsewing.com.

    Raises
    ------
    ReckoningError
        If a measure is out of range.
    """
    need_count("number of panels", panels)
    need_above_zero("cut length", cut_mm)
    need_above_zero("repeat", repeat_mm)
    return panels * (cut_mm + repeat_mm)


def half_drop_extra_mm(cut_mm: float, repeat_mm: float, *, extra_repeats: float = 0.5) -> float:
    """Return what a half-drop repeat adds to an order of two panels or more, once.

    Every second panel starts half a repeat further up. Nothing is added where the waste of a
    matched cut already holds that half repeat. Otherwise all odd panels are cut first, then half
    a repeat is cut off, then all even panels: one half repeat for the order, not for each join.

    Sources: *Half Drop Pattern Repeats*, mydecozo.co.uk (no extra where the spare exceeds half a
    repeat); *Half drop*, ideas-for-home-decorating.com (half a repeat, once); *Half Drop Repeat
    for Curtain Fabric*, livingstonetextiles.com (a whole repeat, once, for safety).

    Parameters
    ----------
    cut_mm, repeat_mm
        As for :func:`matched_cut_mm`; the repeat is that of one width, not of the staggered pair.
    extra_repeats
        0.5, what the cutting needs; 1.0 is what suppliers sell for safety.

    Raises
    ------
    ReckoningError
        If a measure is out of range, or fewer repeats are added than the half that is needed.

    Examples
    --------
    >>> half_drop_extra_mm(2500.0, 270.0)
    0.0
    >>> half_drop_extra_mm(2600.0, 270.0)
    135.0
    """
    need_between("extra repeats for a half drop", extra_repeats, 0.5, 2.0)
    spare_mm = matched_cut_mm(cut_mm, repeat_mm) - cut_mm
    return 0.0 if spare_mm >= repeat_mm / 2.0 - _DUST_MM else extra_repeats * repeat_mm


def stacked_extra_mm(repeat_mm: float, stacked: int) -> float:
    """Return the extra for a garment: one repeat for each piece that lies along the length.

    Pieces side by side need nothing. Source: *Allow extra to match even stripes or plaids*,
    galafabrics.blogspot.com; the same rule of readers at afterthedress.blogspot.com.

    Raises
    ------
    ReckoningError
        If the repeat is not above zero, or no piece is stacked.
    """
    need_above_zero("repeat", repeat_mm)
    need_count("number of stacked pieces", stacked)
    return stacked * repeat_mm


def one_repeat_extra_mm(repeat_mm: float) -> float:
    """Return the extra of the one-repeat rule: a full repeat on top of the stated amount.

    Source: sew4home.com. It falls short where several pieces lie one after another along the
    length.

    Raises
    ------
    ReckoningError
        If the repeat is not above zero.
    """
    need_above_zero("repeat", repeat_mm)
    return repeat_mm


def half_yard_extra_mm(plaid: Plaid | None = None) -> float:
    """Return the extra of the half-yard rule.

    Sources disagree. Always half a yard: *Success With Plaids and Stripes*, S. J. Doyle,
    thriftyfun.com. At least a quarter of a yard for a small plaid, half to one yard for a large
    or uneven one: R. K. Brent, *Stitch*, autumn 2010, sewdaily.com.

    Parameters
    ----------
    plaid
        None for the rule that is always half a yard; else the size of the plaid, for which the
        least amount of the second rule is given.

    Examples
    --------
    >>> half_yard_extra_mm(), half_yard_extra_mm(Plaid.SMALL_EVEN)
    (457.2, 228.6)
    """
    return MM_PER_YARD / 4.0 if plaid is Plaid.SMALL_EVEN else MM_PER_YARD / 2.0


_BANDS = ((0.0, 0.0), (14.0, 0.10), (19.0, 0.15), (27.0, 0.20), (36.0, 0.25), (45.0, 0.30))
_LARGEST_IN, _LARGEST_SHARE, _NARROW_MORE = 54.0, 0.35, 0.10


def upholstery_extra_share(
    repeat_along_mm: float, repeat_across_mm: float, *, narrow: bool = False
) -> float:
    """Return the extra as a share of the plain amount, by the upholsterer's table.

    The two repeats are added up; 0 in asks for nothing, 14 in or less for 10 %, then 15, 20, 25,
    30 and 35 % up to 19, 27, 36, 45 and 54 in. A rough estimate for 54 in cloth.

    Source: *Patterned fabric estimate chart*, carrscorner.com, agreeing with throwmeapillow.com
    up to 36 in. A sum between two bands of the table, such as 27.5 in, counts as the upper one.

    Parameters
    ----------
    repeat_along_mm, repeat_across_mm
        Vertical and horizontal repeat, at least 0, mm.
    narrow
        True for cloth of 50 to 52 in: ten points more in every column.

    Raises
    ------
    ReckoningError
        If a repeat is negative, or both together are beyond the table's 54 in.

    Examples
    --------
    17 in and 10 in make 27 in:

    >>> upholstery_extra_share(431.8, 254.0)
    0.2
    """
    need_not_negative("repeat along", repeat_along_mm)
    need_not_negative("repeat across", repeat_across_mm)
    total_in = (repeat_along_mm + repeat_across_mm) / MM_PER_INCH
    need_between("sum of both repeats in inches", round(total_in, 6), 0.0, _LARGEST_IN)
    share = next((share for top, share in _BANDS if total_in <= top + 1e-6), _LARGEST_SHARE)
    return round(share + (_NARROW_MORE if narrow else 0.0), 2)


def with_extra_mm(length_mm: float, share: float) -> float:
    """Return a length with a share of itself added.

    Raises
    ------
    ReckoningError
        If the length is not above zero, or the share is negative.

    Examples
    --------
    >>> with_extra_mm(1000.0, 0.25)
    1250.0
    """
    need_above_zero("length", length_mm)
    need_not_negative("extra share", share, "")
    return length_mm * (1.0 + share)
