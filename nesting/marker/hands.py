"""Left and right: copies of a piece that are all of the same hand, where a pair may be meant."""

from collections.abc import Iterable

from nesting.marker.cut_list import CutItem
from pieces.finding import Finding, Severity


def same_hand(items: Iterable[CutItem]) -> tuple[CutItem, ...]:
    """Return the items of which each garment takes an even number, all of the same hand.

    A piece that is its own mirror image has no hand, and neither has one that is opened out.
    """
    return tuple(
        item
        for item in items
        if not item.turned_over
        and item.half is None
        and item.count % (2 * len(item.garments)) == 0
        and not item.is_symmetric
    )


def hand_doubts(items: Iterable[CutItem]) -> tuple[Finding, ...]:
    """Return a warning for each such item, code ``same-hand``: two rights and no left, perhaps."""
    return tuple(
        Finding(
            "same-hand",
            Severity.WARNING,
            f"{item.title} {item.size}: {item.count} of the same hand; a pair? If left and right "
            "are wanted, the sheet should say pair",
            (f"{item.title} {item.size}",),
        )
        for item in same_hand(items)
    )
