"""The bolt of cloth on the counter."""

from dataclasses import dataclass

from nesting.errors import BoltError
from pieces.lengths import MM_PER_YARD, Price, UnitSystem, round_up_to_step_mm
from pieces.widths import format_width

EIGHTH_YARD_MM = MM_PER_YARD / 8
TEN_CM_MM = 100.0


@dataclass(frozen=True, kw_only=True)
class Bolt:
    """What matters about a bolt: how wide it is, whether it has a direction, what it costs.

    Parameters
    ----------
    width_mm
        Width from edge to edge, mm, above zero.
    selvage_mm
        Width of the selvage on each side, mm: cloth that is paid for and not cut into.
    nap
        True if the cloth looks different held up or down: pile, brushed or one-way print.
    price
        Money per length, or None if it was not told.
    shop_step_mm
        The steps in which the shop cuts, mm: an eighth of a yard, or 10 cm.
    units
        The system in which the person thinks of this bolt.

    Raises
    ------
    BoltError
        If a number is out of range or the selvages leave no cloth.
    """

    width_mm: float
    selvage_mm: float = 0.0
    nap: bool = False
    price: Price | None = None
    shop_step_mm: float = EIGHTH_YARD_MM
    units: UnitSystem = UnitSystem.IMPERIAL

    def __post_init__(self) -> None:
        """Refuse a bolt that cannot be."""
        if not 0.0 < self.width_mm < float("inf"):
            raise BoltError(f"bolt width {self.width_mm} mm is not a number above zero")
        if not 0.0 <= self.selvage_mm < float("inf"):
            raise BoltError(f"selvage {self.selvage_mm} mm is not a number of at least zero")
        if not 0.0 < self.shop_step_mm < float("inf"):
            raise BoltError(f"shop step {self.shop_step_mm} mm is not a number above zero")
        if self.usable_width_mm <= 0.0:
            raise BoltError(
                f"two selvages of {format_width(self.selvage_mm, self.units)} leave nothing of "
                f"{format_width(self.width_mm, self.units)} of cloth; check both measures"
            )

    @property
    def usable_width_mm(self) -> float:
        """Width that pieces may lie on: the bolt's less both selvages, mm."""
        return self.width_mm - 2 * self.selvage_mm

    def shop_length_mm(self, length_mm: float) -> float:
        """Return the length to ask for: ``length_mm`` rounded up to the shop's step."""
        return round_up_to_step_mm(length_mm, self.shop_step_mm)
