"""Elastic, drawstrings and piping cord: lengths that go round a body or an edge."""

from enum import Enum

from nesting.errors import ReckoningError
from nesting.reckoning.limits import need_above_zero, need_between, need_not_negative
from pieces.measures.units import MM_PER_INCH


class WaistElastic(Enum):
    """What the elastic of a waist is cut to. Sources disagree, so one must be chosen.

    The value is what is added to the waist measure, in inches.
    """

    WAIST_AND_OVERLAP = 1.0
    """Waist and 1 in to join it (*How to Calculate an Elastic Waist Measurement*, D. Jones,
    ehow.co.uk)."""
    COMFORTABLE = -1.5
    """Waist less 1 to 2 in (sewingtrip.com, sewingteam.com); the middle of it."""
    SNUG = -3.0
    """Waist less 2 to 4 in (*How to Sew Elastic*); the middle of it."""

    @property
    def added_mm(self) -> float:
        """What is added to the waist, mm; below zero where the elastic is shorter."""
        return self.value * MM_PER_INCH


def waist_elastic_mm(waist_mm: float, rule: WaistElastic, *, join_mm: float = 0.0) -> float:
    """Return the length of elastic to cut for a waist.

    Parameters
    ----------
    waist_mm
        Body measure, mm.
    rule
        Which of the published rules; there is no default, since they differ by 4 in and elastics
        stretch differently. Try it round the wearer before sewing.
    join_mm
        Overlap to sew the ends together, mm; the first rule contains it already.

    Raises
    ------
    ReckoningError
        If a measure is out of range or nothing is left.

    Examples
    --------
    >>> waist_elastic_mm(762.0, WaistElastic.WAIST_AND_OVERLAP)
    787.4
    """
    need_above_zero("waist", waist_mm)
    need_not_negative("join", join_mm)
    length_mm = waist_mm + rule.added_mm + join_mm
    if length_mm <= 0.0:
        raise ReckoningError(
            f"a waist of {waist_mm:g} mm is too small for the rule {rule.name}, which takes "
            f"{-rule.added_mm:g} mm off; check the measure"
        )
    return length_mm


def casing_turn_mm(
    elastic_mm: float, *, ease_mm: float = MM_PER_INCH / 4, first_turn_mm: float = MM_PER_INCH / 4
) -> float:
    """Return the allowance for a turned casing: elastic, ease and the first small turn, mm.

    Source: *Make a Casing to Hold Elastic*, allpeoplequilt.com: 1 3/4 in for elastic of 1 1/2 in,
    besides a first turn of 1/4 in. Both are parameters, as thick cloth wants more.

    Raises
    ------
    ReckoningError
        If a measure is out of range.
    """
    need_above_zero("elastic width", elastic_mm)
    need_not_negative("ease of the casing", ease_mm)
    need_not_negative("first turn", first_turn_mm)
    return elastic_mm + ease_mm + first_turn_mm


def drawstring_mm(round_mm: float, *, ends_mm: float = 12 * MM_PER_INCH) -> float:
    """Return the length of a drawstring: round the widest place it must pass, and the ends.

    Source: skirt instructions, webpages.charter.net: full hip and at least 12 in. A drawstring
    on clothing for children can strangle: see :mod:`nesting.answers.shopping.cautions`.

    Raises
    ------
    ReckoningError
        If a measure is out of range.

    Examples
    --------
    >>> drawstring_mm(1000.0, ends_mm=300.0)
    1300.0
    """
    need_above_zero("measure round the body", round_mm)
    need_not_negative("ends of the drawstring", ends_mm)
    return round_mm + ends_mm


def piping_cord_mm(edge_mm: float, *, more: float = 0.05) -> float:
    """Return the cord for piped edges: their length and a little, mm.

    Source: *How Much Fabric Do I Need to Make Piping?*, sailrite.com, says "a little" without a
    number; the twentieth taken here is common practice.

    Raises
    ------
    ReckoningError
        If the edge is not above zero, or ``more`` is not from 0 to 1.
    """
    need_above_zero("length of edges", edge_mm)
    need_between("share added", more, 0.0, 1.0)
    return edge_mm * (1.0 + more)
