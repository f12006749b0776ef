"""A marker as a drawing: every piece where it lies, for SVG and DXF."""

from nesting.marker.marker import Marker
from nesting.marker.placement import lying_shape
from nesting.marker.whole import refuse_broken
from pieces.drawing.drawing import Drawing, DrawnShape


def marker_drawing(marker: Marker) -> Drawing:
    """Return all placed pieces of a marker in its own coordinates.

    Parameters
    ----------
    marker
        Any marker. x runs along the cloth from its cut end, y across it from the lower edge.

    Returns
    -------
    Drawing
        One shape for each placement, named after its cut item and number.

    Raises
    ------
    MarkerFileError
        If the marker is broken: see :func:`nesting.marker.whole.refuse_broken`.
    """
    refuse_broken(marker)
    shapes = []
    for one in marker.placements:
        item = marker.item_by_key[one.item]
        spread = marker.stretches[one.stretch].spread
        name = item.key.removesuffix(f" {item.size}")
        facts = [("title", f"{item.title} {one.number}"), ("cut", f"1 {marker.cloth}")]
        shapes.append(
            DrawnShape(
                name=f"{name} {one.number}",
                size=item.size,
                shape=lying_shape(item, one, spread),
                facts=tuple(facts),
            )
        )
    facts = [
        ("style name", f"Marker of {marker.pattern}"),
        ("marker length", f"{marker.length_mm:.3f} mm"),
        ("usable width", f"{marker.bolt.usable_width_mm:.3f} mm"),
    ]
    return Drawing(shapes=tuple(shapes), facts=tuple(facts))
