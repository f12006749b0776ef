"""What is laid in which stretch: the cut list shared out over the ways the cloth is spread.

Cut-count rules (Cutting, Sewing & Craft Alliance; Successful Sewing, lesson 8): on a lengthwise
fold one placement cuts a mirrored pair, a half piece lies with its fold edge on the fold, and a
piece wanted once is cut from a single layer. Opened out, every copy is placed on its own, half of
each pair turned over.
"""

from dataclasses import dataclass
from enum import StrEnum

from nesting.bolt import Bolt
from nesting.cut_list import CutItem
from nesting.lay_rules import LayRules, arrow_directions_deg, turns_deg
from nesting.spread import Spread
from pieces.polygon import FloatArray


class Lies(StrEnum):
    """How a piece is laid, and so what comes of one placement."""

    AS_DRAWN = "as drawn"
    TURNED_OVER = "turned over"
    BOTH_LAYERS = "both layers"
    ON_FOLD = "on fold"


@dataclass(frozen=True)
class PlannedItem:
    """A cut item to be laid ``copies`` times in one stretch."""

    item: CutItem
    lies: Lies
    copies: int

    @property
    def outline_mm(self) -> FloatArray:
        """The outline that is laid: the half on a fold, else the whole piece."""
        on_fold = self.lies is Lies.ON_FOLD and self.item.half is not None
        shape = self.item.half if on_fold and self.item.half is not None else self.item.shape
        return shape.outline_mm

    def turns_deg(self, bolt: Bolt, rules: LayRules) -> tuple[float, ...]:
        """Return the turns in which it may lie as drawn."""
        if self.lies is Lies.TURNED_OVER:
            return ()
        if self.lies is Lies.ON_FOLD:
            return (0.0,) if 0.0 in self._directions_deg(bolt) else ()
        return turns_deg(self.item.grain, bolt, rules, one_way=self.item.one_way)

    def flipped_turns_deg(self, bolt: Bolt, rules: LayRules) -> tuple[float, ...]:
        """Return the turns in which it may lie flipped.

        Through both layers it may lie either side up, since the layers mirror each other. A half
        piece flipped on its fold is the same piece pointing the other way.
        """
        if self.lies is Lies.AS_DRAWN:
            return ()
        if self.lies is Lies.ON_FOLD:
            return (0.0,) if 180.0 in self._directions_deg(bolt) else ()
        return turns_deg(self.item.grain, bolt, rules, one_way=self.item.one_way, turned_over=True)

    def _directions_deg(self, bolt: Bolt) -> tuple[float, ...]:
        return arrow_directions_deg(self.item.grain, bolt, one_way=self.item.one_way)


@dataclass(frozen=True)
class PlannedStretch:
    """What is laid on one stretch of cloth, all spread one way."""

    spread: Spread
    items: tuple[PlannedItem, ...]


def lay_plan(items: tuple[CutItem, ...], bolt: Bolt, rules: LayRules) -> tuple[PlannedStretch, ...]:
    """Return the stretches of a lay in order from the cut end, none of them empty."""
    if rules.spread is Spread.OPEN:
        return (PlannedStretch(Spread.OPEN, _singles(items, {})),)
    doubled = {item.key: _folded(item, bolt) for item in items}
    folded = tuple(planned for planned in doubled.values() if planned is not None)
    taken = {planned.item.key: planned for planned in folded}
    stretches = (
        PlannedStretch(Spread.LENGTHWISE, folded),
        PlannedStretch(Spread.OPEN, _singles(items, taken)),
    )
    return tuple(stretch for stretch in stretches if stretch.items)


def _folded(item: CutItem, bolt: Bolt) -> PlannedItem | None:
    """Return what of the item is cut through the folded cloth, if anything."""
    if item.half is not None:
        return PlannedItem(item, Lies.ON_FOLD, item.count)
    pairs = min(item.as_drawn, item.turned_over)
    if _layers_alike(item, bolt):
        pairs = item.count // 2
    return PlannedItem(item, Lies.BOTH_LAYERS, pairs) if pairs else None


def _layers_alike(item: CutItem, bolt: Bolt) -> bool:
    """Tell whether both layers give the same piece, lying lawfully in each."""
    drawn, over = (
        arrow_directions_deg(item.grain, bolt, one_way=item.one_way, turned_over=turned_over)
        for turned_over in (False, True)
    )
    return set(drawn) == set(over) and item.is_symmetric


def _singles(items: tuple[CutItem, ...], taken: dict[str, PlannedItem]) -> tuple[PlannedItem, ...]:
    """Return what is left for a single layer once the folded cloth has given its share."""
    planned = []
    for item in items:
        folded = taken.get(item.key)
        if folded is not None and folded.lies is Lies.ON_FOLD:
            continue
        layers = 0 if folded is None else folded.copies
        turned_over = max(0, item.turned_over - layers)
        as_drawn = item.count - 2 * layers - turned_over
        if as_drawn:
            planned.append(PlannedItem(item, Lies.AS_DRAWN, as_drawn))
        if turned_over:
            planned.append(PlannedItem(item, Lies.TURNED_OVER, turned_over))
    return tuple(planned)
