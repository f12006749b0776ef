"""Quick work stays quick on outlines of very many vertices.

The no-fit polygons of all pairs of shapes cost with the square of their vertices, and each turn of
an item is a shape more; a fill costs with the edges of those polygons. Both are bounded here by
counting, so the result depends on nothing but the strip.
"""

from dataclasses import replace

from nesting.engine.prepared import PreparedStrip, prepare
from nesting.engine.strip import Strip, StripItem
from nesting.errors import DoesNotFitError

MOST_TURNED_VERTICES = 5_000
"""Vertices of all items in all their turns, beyond which quick work lays none leaning."""


def prepare_for_quick(strip: Strip) -> PreparedStrip:
    """Return a strip made ready, without leaning turns if those would be too much work.

    Raises
    ------
    DoesNotFitError
        If an item is wider than the strip in every pose it may take, the leaning ones among them.
    """
    lighter = without_leaning(strip)
    if lighter is not strip:
        try:
            return prepare(lighter)
        except DoesNotFitError:  # something may have to lean
            pass
    return prepare(strip)


def without_leaning(strip: Strip) -> Strip:
    """Return the strip with each item's turns by quarters of its first, if all are too many.

    A strip with fixed copies stays as it is: they may lean.
    """
    total = sum(len(item.outline) * _turns(item) for item in strip.items)
    if total <= MOST_TURNED_VERTICES or strip.fixed:
        return strip
    items = tuple(_upright(item) for item in strip.items)
    if all(_turns(old) == _turns(new) for old, new in zip(strip.items, items, strict=True)):
        return strip
    return replace(strip, items=items)


def _turns(item: StripItem) -> int:
    return len(item.turns_deg) + len(item.flipped_turns_deg)


def _upright(item: StripItem) -> StripItem:
    return replace(
        item,
        turns_deg=_by_quarters(item.turns_deg),
        flipped_turns_deg=_by_quarters(item.flipped_turns_deg),
    )


def _by_quarters(turns_deg: tuple[float, ...]) -> tuple[float, ...]:
    return tuple(turn for turn in turns_deg if (turn - turns_deg[0]) % 90.0 == 0.0)
