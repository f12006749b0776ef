"""What is laid in which stretch: the cut list shared out over the ways the cloth is spread.

Cut-count rules (Cutting, Sewing & Craft Alliance; Successful Sewing, lesson 8): in two layers one
placement cuts a mirrored pair, a half piece lies with its fold edge on a fold along the cloth, a
piece wanted once is cut from a single layer, and so is a piece too wide for the folded cloth, once
that is opened out. Opened out, every copy is placed on its own, half of each pair turned over. On
cloth with a repeat each garment is planned by itself, since its pieces have to match each other
and no other garment's.
"""

from dataclasses import dataclass, replace
from enum import StrEnum
from functools import cached_property

import numpy as np

from nesting.cloth.bolt import Bolt
from nesting.cloth.lay_rules import LayRules, arrow_directions_deg, turns_deg
from nesting.cloth.spread import HALVED_ACROSS, HALVED_ALONG, Spread, bands_mm
from nesting.errors import LayError, SpreadRefusedError
from nesting.marker.cut_list import CutItem
from pieces.outline.polygon import FloatArray
from pieces.outline.transform import turn
from pieces.piece import PieceShape

ROUNDING_MM = 1e-6


class LaidAs(StrEnum):
    """How a piece is laid, and so what comes of one placement."""

    AS_DRAWN = "as drawn"
    TURNED_OVER = "turned over"
    BOTH_LAYERS = "both layers"
    ON_FOLD = "on fold"


class Alike(StrEnum):
    """What becomes, on folded cloth, of copies of a piece that are its own mirror image."""

    DOUBLED = "doubled"
    SINGLE = "single"
    AS_WITH_NAP = "as with nap"


@dataclass(frozen=True)
class PlannedItem:
    """A cut item to be laid ``copies`` times in one stretch.

    Parameters
    ----------
    item
        What is laid.
    laid_as
        How, and so what comes of one placement.
    copies
        Number of placements.
    turns_deg, flipped_turns_deg
        The turns in which it may lie as drawn, and those in which it may lie flipped, degrees.
    garment
        The garment all of them are for, or 0 where garments need not be told apart.
    """

    item: CutItem
    laid_as: LaidAs
    copies: int
    turns_deg: tuple[float, ...]
    flipped_turns_deg: tuple[float, ...]
    garment: int = 0

    @property
    def name(self) -> str:
        """What it is called in a lay; no other planned item of the lay is called so."""
        told = f", garment {self.garment}" if self.garment else ""
        return f"{self.item.key}, {self.laid_as}{told}"

    @property
    def shape(self) -> PieceShape:
        """The shape that is laid: the half on a fold, else the whole piece."""
        half = self.item.half if self.laid_as is LaidAs.ON_FOLD else None
        return self.item.shape if half is None else half

    @property
    def outline_mm(self) -> FloatArray:
        """The outline that is laid."""
        return self.shape.outline_mm

    @property
    def poses(self) -> tuple[tuple[float, bool], ...]:
        """Each way it may lie: its turn in degrees, and whether it is flipped."""
        return (
            *((turn_deg, False) for turn_deg in self.turns_deg),
            *((turn_deg, True) for turn_deg in self.flipped_turns_deg),
        )

    @cached_property
    def least_width_mm(self) -> float:
        """How much of the cloth across it takes in the turn that takes least, mm."""
        turns = (-deg if flipped else deg for deg, flipped in self.poses)
        return min(float(np.ptp(turn(self.outline_mm, deg)[:, 1])) for deg in turns)


def planned_item(
    item: CutItem, laid_as: LaidAs, copies: int, bolt: Bolt, rules: LayRules
) -> PlannedItem:
    """Return a cut item with the poses in which cloth and rules let it lie.

    Through both layers a piece may lie either side up, since the layers mirror each other. A half
    piece flipped on its fold is the same piece pointing the other way.
    """
    turns: tuple[float, ...] = ()
    flipped: tuple[float, ...] = ()
    if laid_as is LaidAs.ON_FOLD:
        turns = _turns_on_fold(item, bolt, rules, low_deg=0.0)
        flipped = _turns_on_fold(item, bolt, rules, low_deg=180.0)
    else:
        if laid_as is not LaidAs.TURNED_OVER:
            turns = turns_deg(item.grain, bolt, rules, one_way=item.one_way)
        if laid_as is not LaidAs.AS_DRAWN:
            flipped = turns_deg(item.grain, bolt, rules, one_way=item.one_way, turned_over=True)
    return PlannedItem(item, laid_as, copies, turns, flipped)


def _turns_on_fold(
    item: CutItem, bolt: Bolt, rules: LayRules, *, low_deg: float
) -> tuple[float, ...]:
    """Return 0 for the fold at the lower edge, 180 for a second one at the upper edge.

    ``low_deg`` is where the arrow points on the lower fold; on the upper one the other way.
    """
    directions = arrow_directions_deg(item.grain, bolt, one_way=item.one_way)
    turns = [0.0] if low_deg in directions else []
    if rules.spread is Spread.DOUBLE and (low_deg + 180.0) % 360.0 in directions:
        turns.append(180.0)
    return tuple(turns)


@dataclass(frozen=True)
class PlannedStretch:
    """What is laid on one stretch of cloth, all spread one way."""

    spread: Spread
    items: tuple[PlannedItem, ...]


def lay_plan(
    items: tuple[CutItem, ...], bolt: Bolt, rules: LayRules, *, alike: Alike = Alike.DOUBLED
) -> tuple[PlannedStretch, ...]:
    """Return the stretches of a lay in order from the cut end, none of them empty.

    Parameters
    ----------
    items
        The cut list.
    bolt, rules
        The cloth and how it is spread.
    alike
        What becomes of copies that are all alike on folded cloth.

    Raises
    ------
    SpreadRefusedError
        If the cloth does not permit the way of spreading.
    LayError
        If it is to be spread the best way, which is not one way.
    """
    refuse_spread(bolt, rules)
    if bolt.repeat is None:
        return _stretches(items, bolt, rules, alike)
    whole = {item.key: item for item in items}
    planned: dict[Spread, list[PlannedItem]] = {}
    for garment in sorted({garment for item in items for garment in item.garments}):
        shares = tuple(item.share() for item in items if garment in item.garments)
        for stretch in _stretches(shares, bolt, rules, alike):
            planned.setdefault(stretch.spread, []).extend(
                replace(one, item=whole[one.item.key], garment=garment) for one in stretch.items
            )
    order = dict.fromkeys((rules.spread, Spread.OPEN))
    return tuple(PlannedStretch(way, tuple(planned[way])) for way in order if way in planned)


def lay_plans(
    items: tuple[CutItem, ...], bolt: Bolt, rules: LayRules
) -> tuple[tuple[PlannedStretch, ...], ...]:
    """Return the plans of a lay that may differ in length, that of :func:`lay_plan` first.

    A mirrored pair comes of both layers of folded cloth. Copies that are all alike may come of both
    layers too, or one by one of single cloth, whichever asks for less: the second plan leaves all
    of them single, the third those that keep a direction in one layer alone.

    Raises
    ------
    SpreadRefusedError, LayError
        As for :func:`lay_plan`.
    """
    plans = [lay_plan(items, bolt, rules, alike=alike) for alike in Alike]
    return tuple(dict.fromkeys(plans))


def _stretches(
    items: tuple[CutItem, ...], bolt: Bolt, rules: LayRules, alike: Alike
) -> tuple[PlannedStretch, ...]:
    """Return the stretches that take these items, nobody asking for whom they are."""
    if rules.spread is Spread.OPEN:
        return (PlannedStretch(Spread.OPEN, _singles(items, {}, bolt, rules)),)
    doubled = {item.key: _folded(item, bolt, rules, alike) for item in items}
    folded = tuple(planned for planned in doubled.values() if planned is not None)
    taken = {planned.item.key: planned for planned in folded}
    stretches = (
        PlannedStretch(rules.spread, folded),
        PlannedStretch(Spread.OPEN, _singles(items, taken, bolt, rules)),
    )
    return tuple(stretch for stretch in stretches if stretch.items)


def refuse_spread(bolt: Bolt, rules: LayRules) -> None:
    """Refuse a way of spreading that the cloth does not permit.

    Raises
    ------
    SpreadRefusedError
        With the reason, and the ways that are left.
    LayError
        If it is to be spread the best way.
    """
    spread = rules.spread
    if spread is Spread.BEST:
        raise LayError('"best" is no way to lie; lay each way of spreading, and keep the shortest')
    if spread in HALVED_ALONG and bolt.repeat is not None:
        raise SpreadRefusedError(
            "where stripes of the second half come to lie depends on where the cloth is halved, so "
            "they cannot be promised to match; fold the cloth lengthwise, or lay it open"
        )
    if spread in HALVED_ALONG and bolt.flaws:
        raise SpreadRefusedError(
            "where a flaw of the second half comes to lie depends on where the cloth is halved, so "
            "pieces cannot be kept off it; fold the cloth lengthwise, or lay it open"
        )
    if spread is Spread.CROSSWISE and bolt.nap:
        raise SpreadRefusedError(
            "a crosswise fold turns one layer end for end, so the nap of the layers would disagree;"
            " cut the cloth across and turn one layer (turned), fold it lengthwise, or lay it open"
        )
    repeat = bolt.repeat
    if spread is Spread.DOUBLE and repeat is not None and repeat.across_mm is not None:
        raise SpreadRefusedError(
            "a repeat across comes out differently at each fold of a double fold, so pieces would "
            "not match; fold the cloth lengthwise, or lay it open"
        )


def _folded(item: CutItem, bolt: Bolt, rules: LayRules, alike: Alike) -> PlannedItem | None:
    """Return what of the item is cut through both layers, if anything.

    What is too wide for the table goes to single cloth. So does a piece that keeps one direction
    on a crosswise fold, which turns one layer end for end.
    """
    if item.half is not None and rules.spread in HALVED_ACROSS:
        planned = planned_item(item, LaidAs.ON_FOLD, item.count, bolt, rules)
    elif rules.spread is Spread.CROSSWISE and item.one_way:
        return None
    else:
        pairs = min(item.as_drawn, item.turned_over)
        if _may_double(item, bolt, alike):
            pairs = item.count // 2
        planned = planned_item(item, LaidAs.BOTH_LAYERS, pairs, bolt, rules)
    low_mm, high_mm = bands_mm(bolt, rules.spread)[0]
    is_beyond = planned.least_width_mm > high_mm - low_mm + ROUNDING_MM
    return None if is_beyond or not planned.copies else planned


def _may_double(item: CutItem, bolt: Bolt, alike: Alike) -> bool:
    """Tell whether two copies that are alike are to come of both layers."""
    if alike is Alike.SINGLE:
        return False
    cloth = replace(bolt, nap=True) if alike is Alike.AS_WITH_NAP else bolt
    return _layers_alike(item, bolt) and _layers_alike(item, cloth)


def _layers_alike(item: CutItem, bolt: Bolt) -> bool:
    """Tell whether both layers give the same piece, lying lawfully in each."""
    drawn, over = (
        arrow_directions_deg(item.grain, bolt, one_way=item.one_way, turned_over=turned_over)
        for turned_over in (False, True)
    )
    return set(drawn) == set(over) and item.is_symmetric


def _singles(
    items: tuple[CutItem, ...], taken: dict[str, PlannedItem], bolt: Bolt, rules: LayRules
) -> tuple[PlannedItem, ...]:
    """Return what is left for a single layer once the folded cloth has given its share."""
    planned = []
    for item in items:
        folded = taken.get(item.key)
        if folded is not None and folded.laid_as is LaidAs.ON_FOLD:
            continue
        layers = 0 if folded is None else folded.copies
        turned_over = max(0, item.turned_over - layers)
        as_drawn = item.count - 2 * layers - turned_over
        if as_drawn:
            planned.append(planned_item(item, LaidAs.AS_DRAWN, as_drawn, bolt, rules))
        if turned_over:
            planned.append(planned_item(item, LaidAs.TURNED_OVER, turned_over, bolt, rules))
    return tuple(planned)
