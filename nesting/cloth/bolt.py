"""The bolt of cloth on the counter."""

from dataclasses import dataclass

from nesting.cloth.flaw import Flaw
from nesting.cloth.repeat import Axis, Repeat
from nesting.cloth.shrinkage import check_shrinkage, unwashed_mm, washed_mm
from nesting.errors import BoltError
from pieces.measures.format import format_both
from pieces.measures.price import Price
from pieces.measures.shop_step import round_up_to_step_mm
from pieces.measures.units import MM_PER_YARD, UnitSystem
from pieces.measures.widths import format_width

EIGHTH_YARD_MM = MM_PER_YARD / 8
TEN_CM_MM = 100.0


@dataclass(frozen=True, kw_only=True)
class Bolt:
    """What matters about a bolt: its width and direction, its design and faults, its price.

    All measures are those of the cloth in the shop, before it is washed. A marker lies on washed
    cloth: its width is :attr:`usable_width_mm`, its repeat :attr:`laid_repeat`.

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
        The steps in which the shop cuts, mm: an eighth of a yard, or 10 cm. None if it cuts any
        length.
    units
        The system in which the person thinks of this bolt.
    repeat
        Stripes, checks or plaid to be matched, or None for cloth without a design.
    cut_on_repeat
        True where the shop cuts at the place of the repeat that the person chooses. Elsewhere one
        repeat more is bought, so that the lay can begin where its design wants it: nobody can
        choose where the bolt was cut last ("plus one repeat on the order", Figuring Pattern
        Repeats, diyideas.com).
    flaws
        Rectangles to keep off.
    shrink_along, shrink_across
        Shares of length and width that washing takes, from 0 to below 0.5.
    end_allowance_mm
        Cloth kept beyond the last piece of the lay, washed cloth, mm.
    length_left_mm
        How much of this bolt is left, mm, or None if there is enough.

    Raises
    ------
    BoltError
        If a number is out of range, the selvages leave no cloth, a flaw lies outside it, or a
        repeat is longer than the cloth.
    """

    width_mm: float
    selvage_mm: float = 0.0
    nap: bool = False
    price: Price | None = None
    shop_step_mm: float | None = EIGHTH_YARD_MM
    units: UnitSystem = UnitSystem.IMPERIAL
    repeat: Repeat | None = None
    cut_on_repeat: bool = False
    flaws: tuple[Flaw, ...] = ()
    shrink_along: float = 0.0
    shrink_across: float = 0.0
    end_allowance_mm: float = 0.0
    length_left_mm: float | None = None

    def __post_init__(self) -> None:
        """Refuse a bolt that cannot be."""
        self._check_numbers()
        check_shrinkage(self.shrink_along, "along")
        check_shrinkage(self.shrink_across, "across")
        if self.usable_width_mm <= 0.0:
            raise BoltError(
                f"two selvages of {self._words(self.selvage_mm)} leave nothing of "
                f"{self._words(self.width_mm)} of cloth; check both measures"
            )
        self._check_repeat()
        for flaw in self.flaws:
            self._check_flaw(flaw)

    @property
    def usable_width_mm(self) -> float:
        """Width that pieces may lie on: less both selvages, then shrunk by washing, mm."""
        return washed_mm(self.width_mm - 2 * self.selvage_mm, self.shrink_across)

    @property
    def laid_repeat(self) -> Repeat | None:
        """The repeat as the marker meets it: shrunk by washing like the cloth."""
        if self.repeat is None:
            return None
        along_mm, across_mm = self.repeat.along_mm, self.repeat.across_mm
        return Repeat(
            along_mm=None if along_mm is None else washed_mm(along_mm, self.shrink_along),
            across_mm=None if across_mm is None else washed_mm(across_mm, self.shrink_across),
            even=self.repeat.even,
        )

    @property
    def has_direction(self) -> bool:
        """Whether every piece keeps one direction: nap, or an uneven repeat."""
        return self.nap or (self.repeat is not None and not self.repeat.even)

    @property
    def extra_repeat_mm(self) -> float:
        """The repeat bought beside the lay so that it may begin where it should, mm, or 0."""
        if self.cut_on_repeat or self.repeat is None or self.repeat.along_mm is None:
            return 0.0
        return self.repeat.along_mm

    def cut_length_mm(self, marker_mm: float) -> float:
        """Return the length of unwashed cloth that a marker of ``marker_mm`` takes, mm.

        The marker and the end allowance, divided by what washing leaves, and one repeat where the
        lay must begin at a certain place of the design and the shop cuts at any.

        Examples
        --------
        A marker of 1900 mm with 50 mm at the end, on cloth that loses a fortieth of its length:

        >>> bolt = Bolt(width_mm=1000.0, shrink_along=0.025, end_allowance_mm=50.0)
        >>> bolt.cut_length_mm(1900.0)
        2000.0
        """
        washed = marker_mm + self.end_allowance_mm
        return unwashed_mm(washed, self.shrink_along) + self.extra_repeat_mm

    def shop_length_mm(self, length_mm: float) -> float:
        """Return the length to ask for: ``length_mm`` rounded up to the shop's step.

        Where the last step would reach beyond what is left of the bolt, ask for all that is left.
        """
        rounded = length_mm
        if self.shop_step_mm is not None:
            rounded = round_up_to_step_mm(length_mm, self.shop_step_mm)
        left_mm = self.length_left_mm
        return rounded if left_mm is None or length_mm > left_mm else min(rounded, left_mm)

    def _words(self, width_mm: float) -> str:
        return format_width(width_mm, self.units)

    def _check_numbers(self) -> None:
        if not 0.0 < self.width_mm < float("inf"):
            raise BoltError(f"bolt width {self.width_mm} mm is not a number above zero")
        for name in ("selvage", "end_allowance"):
            number = getattr(self, f"{name}_mm")
            if not 0.0 <= number < float("inf"):
                words = name.replace("_", " ")
                raise BoltError(f"{words} {number} mm is not a number of at least zero")
        for name in ("shop_step", "length_left"):
            number = getattr(self, f"{name}_mm")
            if number is not None and not 0.0 < number < float("inf"):
                words = name.replace("_", " ")
                raise BoltError(f"{words} {number} mm is not a number above zero")

    def _check_repeat(self) -> None:
        if self.repeat is None:
            return
        along_mm, across_mm = self.repeat.along_mm, self.repeat.across_mm
        usable_mm = self.width_mm - 2 * self.selvage_mm
        if across_mm is not None and across_mm > usable_mm:
            raise BoltError(
                f"a repeat across of {self._words(across_mm)} is longer than the usable width of "
                f"{self._words(usable_mm)}, so nothing repeats across; leave it out, or choose a "
                "wider bolt"
            )
        left_mm = self.length_left_mm
        if along_mm is not None and left_mm is not None and along_mm > left_mm:
            raise BoltError(
                f"a repeat along of {self._words(along_mm)} is longer than the "
                f"{format_both(left_mm, self.units)} left of this bolt, so nothing repeats along; "
                "leave it out, or choose a longer bolt"
            )

    def _check_flaw(self, flaw: Flaw) -> None:
        if flaw.across_mm + flaw.wide_mm > self.width_mm:
            raise BoltError(
                f"a flaw {self._words(flaw.wide_mm)} wide at {self._words(flaw.across_mm)} from "
                f"the lower edge lies outside the cloth, which is {self._words(self.width_mm)} "
                "wide; measure it from the edge of the cloth, selvage counted"
            )
        left_mm = self.length_left_mm
        if left_mm is not None and flaw.at_mm >= left_mm:
            raise BoltError(
                f"a flaw at {self._words(flaw.at_mm)} from the cut end lies outside the cloth, of "
                f"which {format_both(left_mm, self.units)} is left; measure it from the cut end"
            )


def repeat_on(bolt: Bolt, axis: Axis) -> float | None:
    """Return the repeat along or across as a marker on this bolt meets it, mm, or None."""
    laid = bolt.laid_repeat
    return None if laid is None else laid.length_mm(axis)
