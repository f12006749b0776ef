"""Measures of a marker: lengths, areas, utilisation and waste."""

from dataclasses import replace

from nesting.errors import EmptyMarkerError
from nesting.marker.marker import Bought, Marker
from nesting.marker.placement import lying_shape, pieces_cut
from pieces.outline.polygon import area_mm2


def reached_mm(marker: Marker) -> float:
    """Return how far from the cut end the last piece reaches, mm.

    Raises
    ------
    EmptyMarkerError
        If nothing is placed.
    """
    if not marker.placements:
        raise EmptyMarkerError("nothing is placed on this marker, so it has no length")
    return max(
        float(
            lying_shape(
                marker.item_by_key[placement.item],
                placement,
                marker.stretches[placement.stretch].spread,
            )
            .outline_mm[:, 0]
            .max()
        )
        for placement in marker.placements
    )


def piece_area_mm2(marker: Marker) -> float:
    """Return the area of all finished pieces of the marker, every layer counted, mm2."""
    total = 0.0
    for placement in marker.placements:
        item = marker.item_by_key[placement.item]
        spread = marker.stretches[placement.stretch].spread
        total += sum(pieces_cut(item, placement, spread)) * area_mm2(item.shape.outline_mm)
    return total


def cloth_area_mm2(marker: Marker) -> float:
    """Return usable width times marker length, mm2."""
    return marker.bolt.usable_width_mm * marker.length_mm


def utilisation(marker: Marker) -> float:
    r"""Return the share of the marker's cloth that ends up in pieces.

    .. math:: u = \frac{\sum A_{piece}}{w_{usable} \cdot l_{marker}}

    The trade calls it marker efficiency; loss at the ends of the cloth is left out (Glock & Kunz,
    *Apparel Manufacturing*, as quoted by trade pages).

    Returns
    -------
    float
        Between 0 and 1; 1 means no cloth is left over.

    Raises
    ------
    EmptyMarkerError
        If nothing is placed, since the marker has no length.
    """
    if not marker.placements:
        raise EmptyMarkerError("nothing is placed on this marker, so it has no utilisation")
    return piece_area_mm2(marker) / cloth_area_mm2(marker)


def cut_length_mm(marker: Marker) -> float:
    """Return the length of unwashed cloth the lay takes, mm.

    The marker and the end allowance before washing shrinks them, and one repeat where the lay
    must begin at a certain place of the design.
    """
    return marker.bolt.cut_length_mm(marker.length_mm)


def shop_length_mm(marker: Marker) -> float:
    """Return the length to ask for at the counter, rounded up to the shop's step, mm."""
    return marker.bolt.shop_length_mm(cut_length_mm(marker))


def with_bought(marker: Marker) -> Marker:
    """Return the marker with what is to be bought for it, so that a check can compare it.

    Raises
    ------
    LengthError
        If the shop's steps are a thousand-millionth of the length.
    """
    bought = Bought(
        cut_length_mm=cut_length_mm(marker),
        begin_on_repeat_mm=marker.bolt.extra_repeat_mm,
        shop_length_mm=shop_length_mm(marker),
    )
    return replace(marker, bought=bought)
