"""What is asked of a lay, how far it has come, and what came of it."""

from dataclasses import dataclass, field

from nesting.checks import Asked
from nesting.cloth.bolt import Bolt
from nesting.cloth.lay_rules import LayRules
from nesting.cloth.spread import Spread
from nesting.engine import StoppedBy
from nesting.marker.cut_list import Selection
from nesting.marker.marker import Marker
from nesting.marker.measure import cut_length_mm, shop_length_mm, utilisation
from nesting.plan.bounds import LowerBound
from pieces.finding import Finding
from pieces.pattern import Pattern


@dataclass(frozen=True)
class SearchOptions:
    """How long to search for a shorter marker: see :func:`nesting.engine.pack`."""

    effort: str | None = "standard"
    seconds: float | None = None
    seed: int = 1
    workers: int = 2


@dataclass(frozen=True)
class LayResult:
    """A marker, what the independent check says of it, and how good it can be.

    Parameters
    ----------
    marker
        The cutting layout.
    lower_bound
        A length that no marker of these pieces spread this way can beat.
    open_bound
        A length that no marker at all can beat, however the cloth is spread: that of open cloth.
    findings
        What the check found; empty for a marker that can be cut.
    seconds
        Wall-clock time of the search.
    stopped_by
        Why the search ended.
    tried
        Each way of spreading that was tried, if the best was asked for; else empty.
    """

    marker: Marker
    lower_bound: LowerBound
    open_bound: LowerBound
    findings: tuple[Finding, ...]
    seconds: float
    stopped_by: StoppedBy
    tried: tuple["TriedSpread", ...] = ()

    @property
    def marker_length_mm(self) -> float:
        """Length the pieces take, mm."""
        return self.marker.length_mm

    @property
    def cut_length_mm(self) -> float:
        """Length of cloth the lay takes, mm."""
        return cut_length_mm(self.marker)

    @property
    def shop_length_mm(self) -> float:
        """Length to ask for at the counter, mm."""
        return shop_length_mm(self.marker)

    @property
    def utilisation(self) -> float:
        """Piece area over usable width times marker length."""
        return utilisation(self.marker)


@dataclass(frozen=True)
class TriedSpread:
    """One way of spreading: what it takes, or why the cloth or the pieces do not permit it.

    Parameters
    ----------
    spread
        The way.
    marker_length_mm, cut_length_mm, shop_length_mm
        As :class:`LayResult` has them, or None.
    refusal
        The reason if there is no lay, else empty.
    """

    spread: Spread
    marker_length_mm: float | None = None
    cut_length_mm: float | None = None
    shop_length_mm: float | None = None
    refusal: str = ""


@dataclass(frozen=True, kw_only=True)
class LayRequest:
    """Everything that decides a lay.

    Parameters
    ----------
    pattern, selections, cloth
        What to cut.
    bolt, rules
        The cloth and how it is spread.
    search
        Effort, time limit, seed and workers.
    """

    pattern: Pattern
    selections: tuple[Selection, ...]
    cloth: str
    bolt: Bolt
    rules: LayRules = field(default_factory=LayRules)
    search: SearchOptions = field(default_factory=SearchOptions)

    def asked(self, *, is_part: bool = False) -> Asked:
        """Return what the check is to compare a marker with.

        Parameters
        ----------
        is_part
            True if some of the pieces only are laid.
        """
        return Asked.on(
            self.bolt,
            self.rules,
            pattern=self.pattern,
            selections=self.selections,
            cloth=self.cloth,
            is_part=is_part,
        )
