"""Does it fit on the cloth that is owned? If not: what does, and which rule to relax.

Every answer is a lay that was made and checked; none is worked out from areas.
"""

import time
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from functools import partial
from types import MappingProxyType

from nesting.answers.fits.allocation import Sharing, share_out
from nesting.answers.fits.sharer import Sharer, TriedCallback
from nesting.cloth.bolt import Bolt
from nesting.cloth.spread import Spread
from nesting.languages import marked
from nesting.lay import LayRequest
from nesting.marker.cut_list import CutItem
from pieces.outline.polygon import area_mm2

USUAL_SECONDS = 12.0
_FOR_WHAT_IS_ASKED, _FOR_OTHER_SPREADS = 0.45, 0.65
"""Shares of the time after which each part of the work is over; the ways have the rest."""
MOST_PIECES_TRIED = 5
"""Pieces that are tried from another cloth, the largest first."""


class WayCode(StrEnum):
    """The rules that may be relaxed, the cheapest first."""

    OPEN = "open"
    TURN = "turn"
    OTHER_CLOTH = "other-cloth"
    SMALLER = "smaller"


@dataclass(frozen=True)
class Way:
    """One rule relaxed, and what came of it.

    Parameters
    ----------
    code
        Which kind of rule.
    message, values
        What to do, and what the words are filled in with.
    condition
        What must be true of the cloth for it to be allowed, or empty.
    sharing
        The lay that was tried.
    """

    code: WayCode
    message: str
    condition: str
    sharing: Sharing
    values: Mapping[str, object] = field(default_factory=lambda: MappingProxyType({}))

    @property
    def sentence(self) -> str:
        """What to do."""
        return self.message.format(**self.values)

    @property
    def helps(self) -> bool:
        """Whether all of it fits that way."""
        return self.sharing.fits


@dataclass(frozen=True, kw_only=True)
class FitsRequest:
    """Everything that decides whether it fits.

    Parameters
    ----------
    lay
        What is cut, how it is spread and searched. Its bolt is not used.
    owned
        The cloths, each a bolt with its ``length_left_mm``.
    seconds
        Within which it is answered: what is known then is told. None waits for all of it.
    """

    lay: LayRequest
    owned: tuple[Bolt, ...]
    seconds: float | None = USUAL_SECONDS


@dataclass(frozen=True)
class FitsAnswer:
    """Whether it fits, and what then.

    Parameters
    ----------
    request
        What was asked.
    sharing
        What lies on which cloth, and what on none.
    ways
        Rules that were relaxed, one at a time: those that help first, the cheapest first. Empty
        if it fits.
    ways_left
        Ways that were not tried, since time was up.
    """

    request: FitsRequest
    sharing: Sharing
    ways: tuple[Way, ...] = field(default=())
    ways_left: int = 0

    @property
    def fits(self) -> bool:
        """Whether all of it fits."""
        return self.sharing.fits


def does_it_fit(request: FitsRequest, *, progress: TriedCallback | None = None) -> FitsAnswer:
    """Lay the garment on the cloth that is owned, and if it does not fit, look for ways.

    Parameters
    ----------
    request
        What is cut from what.
    progress
        Told how many lays were tried; a true answer stops the work.

    Raises
    ------
    LayError
        If no cloth is owned, or one is told without its length.
    LayStoppedError
        If ``progress`` asked to stop.
    NestingError, PiecesError
        Whatever :func:`nesting.lay.lay_pieces` raises, except a piece too wide.
    """
    begun_s = time.monotonic()

    def until(share: float) -> float | None:
        return None if request.seconds is None else begun_s + share * request.seconds

    sharer = Sharer(request.lay, request.owned, progress=progress)
    sharer.deadline_s = until(_FOR_WHAT_IS_ASKED)
    sharing = share_out(sharer)
    if sharing.fits:
        return FitsAnswer(request, sharing)
    other = _spread_otherwise(request, sharer, until(_FOR_OTHER_SPREADS))
    if other is not None:
        return FitsAnswer(request, other)
    ways = _Ways(request, sharer, sharing, until(1.0))
    tried: list[Way] = []
    wanted = [*ways.open(), *ways.turn(), *ways.other_cloth(), *ways.smaller()]
    for try_it in wanted:
        if ways.is_late:
            break
        tried.append(try_it())
    return FitsAnswer(
        request,
        sharing,
        tuple(sorted(tried, key=lambda way: not way.helps)),
        len(wanted) - len(tried),
    )


def _spread_otherwise(
    request: FitsRequest, sharer: Sharer, deadline_s: float | None
) -> Sharing | None:
    """Return what fits if the cloth may be spread any way, or None if it does not fit so either."""
    lay = request.lay
    if lay.rules.spread is Spread.BEST:
        return None
    rules = replace(lay.rules, spread=Spread.BEST)
    freer = Sharer(
        replace(lay, rules=rules),
        request.owned,
        progress=sharer.progress,
        tried=sharer.tried,
        deadline_s=deadline_s,
    )
    sharing = share_out(freer, only_whole=True, tells_lacking=False)
    sharer.tried = freer.tried
    return sharing if sharing.fits else None


@dataclass
class _Ways:
    """Tries each rule relaxed, in the order of what it costs; ``strict`` is what came of none."""

    request: FitsRequest
    sharer: Sharer
    strict: Sharing
    deadline_s: float | None

    @property
    def is_late(self) -> bool:
        """Whether there is no time for another way."""
        return self.deadline_s is not None and time.monotonic() >= self.deadline_s

    def open(self) -> Iterator[Callable[[], Way]]:
        """Try a single layer where a fold was asked for."""
        lay = self.request.lay
        if lay.rules.spread not in (Spread.OPEN, Spread.BEST):
            opened = replace(lay, rules=replace(lay.rules, spread=Spread.OPEN))
            yield partial(
                self._way,
                WayCode.OPEN,
                marked("lay the cloth open, in a single layer"),
                lay=opened,
            )

    def turn(self) -> Iterator[Callable[[], Way]]:
        """Try the half turn where nap forbids it."""
        plain = tuple(replace(bolt, nap=False) for bolt in self.request.owned)
        if plain != self.request.owned and not any(bolt.has_direction for bolt in plain):
            yield partial(
                self._way,
                WayCode.TURN,
                marked("turn pieces top to bottom"),
                marked(
                    "only if the cloth has no nap: lay one end against the other, and if they "
                    "differ in the light, keep one direction"
                ),
                owned=plain,
            )

    def other_cloth(self) -> Iterator[Callable[[], Way]]:
        """Try without one kind of piece, the smallest of the large ones first."""
        items = sorted(self.sharer.all_items, key=_all_area_mm2)[-MOST_PIECES_TRIED:]
        for item in items if len(self.sharer.all_items) > 1 else ():
            rest = tuple(one for one in self.sharer.all_items if one.key != item.key)
            one_of_many = (
                marked('cut "{title}" {size} (1 piece) from another cloth'),
                marked('cut "{title}" {size} ({count} pieces) from another cloth'),
            )
            yield partial(
                self._way,
                WayCode.OTHER_CLOTH,
                one_of_many[item.count > 1],
                values={"title": item.title, "size": item.size, "count": item.count},
                items=rest,
            )

    def smaller(self) -> Iterator[Callable[[], Way]]:
        """Try the next smaller size, if there is one."""
        lay = self.request.lay
        sizes = lay.pattern.sizes
        smaller = tuple(
            replace(one, size=sizes[max(0, sizes.index(one.size) - 1)]) for one in lay.selections
        )
        if smaller != lay.selections:
            names = ", ".join(dict.fromkeys(one.size for one in smaller))
            yield partial(
                self._way,
                WayCode.SMALLER,
                marked("cut size {sizes}"),
                marked("only if the wearer's measures allow it"),
                values={"sizes": names},
                lay=replace(lay, selections=smaller),
            )

    def _way(
        self,
        code: WayCode,
        message: str,
        condition: str = "",
        *,
        values: Mapping[str, object] = MappingProxyType({}),
        lay: LayRequest | None = None,
        owned: tuple[Bolt, ...] | None = None,
        items: tuple[CutItem, ...] | None = None,
    ) -> Way:
        sharer = Sharer(
            lay or self.request.lay,
            owned or self.request.owned,
            items,
            self.sharer.progress,
            self.sharer.tried,
            self.deadline_s,
        )
        sharing = share_out(sharer, only_whole=True)
        self.sharer.tried = sharer.tried
        if code is not WayCode.SMALLER and len(self.request.owned) == 1:
            sharing = _lacking_no_more(sharing, self.strict)
        return Way(code, message, condition, sharing, values)


def _lacking_no_more(relaxed: Sharing, strict: Sharing) -> Sharing:
    """Return ``relaxed``, which on one cloth lacks no more than ``strict``: that lay serves too.

    Its own may be longer, since it was searched for less long.
    """
    both = (*relaxed.lacking, *strict.lacking)
    return replace(relaxed, lacking=tuple(sorted(both, key=lambda one: one.length_mm)[:1]))


def _all_area_mm2(item: CutItem) -> float:
    return item.count * area_mm2(item.shape.outline_mm)
