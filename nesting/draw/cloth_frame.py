"""Where the edges of the cloth are in a picture: the frame that pieces and rulers share.

In the frame x = 0 is the cut end. A stretch folded lengthwise has its fold at y = 0 and both
selvages at the top; one folded double has folds at y = 0 and at the top. An open stretch beside it
is drawn as the table shows it: what lay on top is turned back over the folds, so the cloth reaches
as far below y = 0. Where the cloth is halved along, both halves are drawn, the second as what goes
under the first, so that x is always a length of cloth.
"""

from dataclasses import dataclass

from nesting.cloth.shrinkage import washed_mm
from nesting.cloth.spread import HALVED_ACROSS, HALVED_ALONG, Spread, Stretch, laid_width_mm
from nesting.errors import DrawError, EmptyMarkerError
from nesting.marker.marker import Marker
from nesting.marker.measure import shop_length_mm

LONGEST_DRAWN_MM = 1e6


@dataclass(frozen=True)
class ClothFrame:
    """The cloth of one marker, mm.

    Raises
    ------
    EmptyMarkerError
        If the marker has no stretch or nothing is placed on it.
    DrawError
        If it lays what its cut list does not have, or measures more than a kilometre.
    """

    marker: Marker

    def __post_init__(self) -> None:
        """Refuse a marker on which there is nothing to draw."""
        if not self.marker.stretches or not self.marker.placements:
            raise EmptyMarkerError(
                "nothing is placed on this marker, so there is nothing to draw; lay it first"
            )
        self._refuse_stray_pieces()
        self._refuse_great_length()

    def _refuse_stray_pieces(self) -> None:
        stretches = range(len(self.marker.stretches))
        for placement in self.marker.placements:
            if placement.item not in self.marker.item_by_key or placement.stretch not in stretches:
                raise DrawError(
                    f'"{placement.item}" is laid, in stretch {placement.stretch}, and the marker '
                    "has no such piece or stretch; check the marker"
                )

    def _refuse_great_length(self) -> None:
        marker = self.marker
        ends_mm = [marker.length_mm, marker.bolt.width_mm, shop_length_mm(marker)]
        ends_mm += [abs(at.x_mm) for at in marker.placements]
        ends_mm += [abs(at.y_mm) for at in marker.placements]
        if max(ends_mm) > LONGEST_DRAWN_MM:
            raise DrawError(
                f"the marker measures {max(ends_mm) / 1e6:g} km, and pictures go up to "
                f"{LONGEST_DRAWN_MM / 1e6:g} km; check its numbers"
            )

    @property
    def is_folded_first(self) -> bool:
        """Whether the lay begins with cloth folded along its lower edge."""
        return self.marker.stretches[0].spread in HALVED_ACROSS

    @property
    def shop_mm(self) -> float:
        """Length to ask for at the counter."""
        return shop_length_mm(self.marker)

    @property
    def cut_mm(self) -> float:
        """Where that length ends in the picture, which shows the cloth washed."""
        return washed_mm(self.shop_mm, self.marker.bolt.shrink_along)

    @property
    def selvage_mm(self) -> float:
        """Width of each selvage in the picture."""
        return washed_mm(self.marker.bolt.selvage_mm, self.marker.bolt.shrink_across)

    def lift_mm(self, stretch: Stretch) -> float:
        """Return where the lower usable edge of a stretch lies in the frame."""
        if stretch.spread in HALVED_ACROSS:
            return 0.0
        spreads = {one.spread for one in self.marker.stretches}
        usable_mm = self.marker.bolt.usable_width_mm
        if Spread.LENGTHWISE in spreads:
            return -usable_mm / 2.0
        return -usable_mm / 4.0 if Spread.DOUBLE in spreads else 0.0

    def low_mm(self, stretch: Stretch) -> float:
        """Return the lower edge of the cloth: the fold, or the outer edge of the selvage."""
        selvage = 0.0 if stretch.spread in HALVED_ACROSS else self.selvage_mm
        return self.lift_mm(stretch) - selvage

    def high_mm(self, stretch: Stretch) -> float:
        """Return the upper edge of the cloth: the outer edge of the selvage, or a second fold."""
        width = laid_width_mm(self.marker.bolt, stretch.spread)
        selvage = 0.0 if stretch.spread is Spread.DOUBLE else self.selvage_mm
        return self.lift_mm(stretch) + width + selvage

    def halved_mm(self, stretch: Stretch) -> float | None:
        """Return where cloth halved along is folded or cut, or None for other cloth."""
        if stretch.spread not in HALVED_ALONG:
            return None
        return stretch.start_mm + stretch.table_mm

    @property
    def bottom_mm(self) -> float:
        """Lowest edge of the cloth."""
        return min(self.low_mm(stretch) for stretch in self.marker.stretches)

    @property
    def top_mm(self) -> float:
        """Highest edge of the cloth."""
        return max(self.high_mm(stretch) for stretch in self.marker.stretches)

    def runs(self) -> tuple[tuple[Stretch, float, float], ...]:
        """Return each stretch with the x where its cloth starts and ends; the last to the cut."""
        last = len(self.marker.stretches) - 1
        return tuple(
            (stretch, stretch.start_mm, self.cut_mm if i == last else stretch.end_mm)
            for i, stretch in enumerate(self.marker.stretches)
        )
