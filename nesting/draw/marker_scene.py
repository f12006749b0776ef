"""The picture of one marker."""

from nesting.draw.cloth_acts import lanes_group
from nesting.draw.cloth_frame import ClothFrame
from nesting.draw.heading import Bounds, figures, head_group
from nesting.draw.key import key_group
from nesting.draw.marker_body import marker_body, right_edge_mm
from nesting.draw.rulers import ACROSS, SIDE, ruler_across, ruler_along
from nesting.draw.scene import Act, Scene, moved
from nesting.draw.style import PAPER, Look, look_for
from nesting.draw.words import selection_words
from nesting.languages import ENGLISH, Words
from nesting.marker.marker import Marker

_MARGIN = 1.6
_LEAST_ROOM = 58.0
_GAP = 1.25


def marker_scene(
    marker: Marker,
    *,
    heading: str | None = None,
    bounds_mm: Bounds = (None, None),
    words: Words = ENGLISH,
) -> Scene:
    """Return a picture of a marker to scale, 1 mm of cloth being 1 mm of the scene.

    Parameters
    ----------
    marker
        At least one piece placed.
    heading
        Words at the top; the pattern's name if None.
    bounds_mm
        Lengths that no marker spread this way, and none at all, can beat, mm, as far as known.
    words
        Of the language it is written in.

    Raises
    ------
    EmptyMarkerError
        If nothing is placed.
    """
    frame = ClothFrame(marker)
    look = look_for(frame.cut_mm, frame.top_mm - frame.bottom_mm, words)
    unit = look.unit_mm
    title = heading or marker.pattern
    margin, left = _MARGIN * unit, (_MARGIN + ACROSS + ACROSS + 0.4) * unit
    cloth_room = left - margin + right_edge_mm(frame, look)
    room = max(cloth_room, _LEAST_ROOM * unit)
    head, head_mm = head_group(frame, title, bounds_mm=bounds_mm, room_mm=room, look=look)
    body = marker_body(frame, look)
    key, key_mm = key_group(body, room, look)
    above, top_mm = _above(frame, look)
    below_mm = (1.9 if frame.is_folded_first else 1.2) * unit - frame.bottom_mm
    cloth_y = margin + key_mm + 0.4 * unit + below_mm
    height = cloth_y + top_mm + 0.6 * unit + head_mm + margin
    acts = (
        moved(head, margin, height - margin),
        *(moved(act, left, cloth_y) for act in (*body.acts, *above)),
        moved(key, margin, margin + key_mm),
    )
    told = "; ".join(f"{name}: {value}" for name, value in figures(frame, bounds_mm, words))
    return Scene(
        width_mm=room + 2.0 * margin,
        height_mm=height,
        acts=acts,
        title=f"{title}: {selection_words(marker, words)}, {marker.cloth}",
        description=words.say(
            "Cutting layout with {count} pieces laid. {figures}.",
            count=len(marker.placements),
            figures=told,
        ),
        paper=PAPER,
    )


def _above(frame: ClothFrame, look: Look) -> tuple[tuple[Act, ...], float]:
    """Return rulers and lanes in the frame of the cloth, and the height they reach."""
    unit, units = look.unit_mm, frame.marker.bolt.units
    along_y = frame.top_mm + (_GAP + SIDE) * unit
    first = frame.marker.stretches[0]
    low, high = frame.low_mm(first), frame.high_mm(first)
    lanes, top_mm = lanes_group(frame, along_y + (SIDE + 0.6) * unit, look)
    acts = (
        ruler_along(frame.cut_mm, along_y, look, units),
        ruler_across(low, high - low, -(ACROSS + 0.7) * unit, look=look, units=units),
        lanes,
    )
    return acts, top_mm
