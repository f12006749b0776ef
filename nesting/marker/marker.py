"""The marker: every piece of one lay in its place on the cloth."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from types import MappingProxyType

from nesting.cloth.bolt import Bolt
from nesting.cloth.lay_rules import LayRules
from nesting.cloth.repeat import GivenUp
from nesting.cloth.spread import Spread, Stretch
from nesting.errors import LayError
from nesting.marker.cut_list import CutItem, Selection
from nesting.marker.placement import Placement
from pieces.marks import MatchWay


@dataclass(frozen=True)
class MadeBy:
    """How a marker was found, so that it can be found again.

    Parameters
    ----------
    version
        Version of this program.
    effort
        Effort level, or empty if only time limited the search.
    seconds
        Wall-clock limit, or None.
    seed, workers
        Start of the random choices, and processes used.
    """

    version: str = ""
    effort: str = ""
    seconds: float | None = None
    seed: int = 0
    workers: int = 1


@dataclass(frozen=True, kw_only=True)
class Bought:
    """What a marker says is bought for it; what decides that is its length and its bolt.

    Parameters
    ----------
    cut_length_mm
        Length of unwashed cloth that the lay takes.
    begin_on_repeat_mm
        How much of it is a repeat bought so that the lay can begin on the design.
    shop_length_mm
        Length to ask for at the counter.
    """

    cut_length_mm: float
    begin_on_repeat_mm: float
    shop_length_mm: float


@dataclass(frozen=True, kw_only=True)
class Marker:
    """A cutting layout.

    Parameters
    ----------
    pattern, cloth
        Names, for people.
    selections
        The garments laid.
    bolt, rules
        The cloth and what it permits.
    items
        The cut list.
    stretches
        The stretches of the lay, one after another from the cut end.
    placements
        Where every piece lies.
    length_mm
        Marker length: from the cut end to the end of the last piece.
    made_by
        How it was found.
    matching
        How the match points of each name meet on cloth with a repeat; those left out meet along.
    given_up
        Matches left out because they cannot hold beside the others.
    bought
        What was said to be bought, for the check to compare; None if nothing was said. It is no
        part of the layout: two markers that differ in it alone are equal.
    """

    pattern: str
    cloth: str
    selections: tuple[Selection, ...]
    bolt: Bolt
    rules: LayRules
    items: tuple[CutItem, ...]
    stretches: tuple[Stretch, ...]
    placements: tuple[Placement, ...]
    length_mm: float
    made_by: MadeBy = field(default_factory=MadeBy)
    matching: Mapping[str, MatchWay] = field(default_factory=lambda: MappingProxyType({}))
    given_up: tuple[GivenUp, ...] = ()
    bought: Bought | None = field(default=None, compare=False)

    def __post_init__(self) -> None:
        """Freeze the table of matches, and refuse a lay that is spread no way at all."""
        if self.rules.spread is Spread.BEST:
            raise LayError('a marker cannot be spread "best"; name the way it lies')
        object.__setattr__(self, "matching", MappingProxyType(dict(self.matching)))

    @cached_property
    def item_by_key(self) -> dict[str, CutItem]:
        """The cut items by their keys."""
        return {item.key: item for item in self.items}
